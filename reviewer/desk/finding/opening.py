"""A found passage on the desk: its case, its frame, its mark."""

from pathlib import Path

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.finding.rows import LEFT_OPEN, WHAT, cells_of
from reviewer.desk.teaching.passagelist import Listed
from reviewer.terms.shelving import Hit
from reviewer.words import Saying


def open_hit(bench: Bench, folder: Path, hit: Hit) -> bool:
    """Lay the case of a passage on the desk, unless it lies there, and go to its frame with its mark chosen.

    Where its recording was not found the mark is chosen all the same. Whether the case could be opened.
    """
    path, stretch = (folder / hit.case.path).resolve(), hit.passage.stretch
    if bench.audit is None or bench.audit.path.resolve() != path:
        bench.opens.emit(path)
    audit = bench.audit
    if audit is None or audit.path.resolve() != path:
        return False  # it was refused, and the desk says why
    bench.choose(actions.marks_told(audit, hit.passage.mark))
    if stretch is not None and stretch.recording in audit.recording_paths:
        if bench.on_screen == stretch.recording and bench.facts is not None:
            bench.wanted.emit(stretch.deciding.frame)
        else:
            bench.elsewhere.emit(stretch.recording, stretch.deciding.frame)
    back = bench.say("{key} brings the passages back.", key=bench.key("find"))
    bench.said.emit(" ".join((told(bench, hit), back)), False)
    return True


def listed_of(folder: Path, hit: Hit, say: Saying) -> Listed:
    """A found passage as a set of clips lists it."""
    cells = (*cells_of(hit, say)[WHAT:LEFT_OPEN], hit.passage.mark, hit.case.path)
    return Listed((folder / hit.case.path).resolve(), hit.passage.mark, " · ".join(filter(None, cells)))


def told(bench: Bench, hit: Hit) -> str:
    """What was opened, in a line."""
    say, stretch = bench.say, hit.passage.stretch
    if stretch is None:
        return say("{what} {mark} has no time.", what=hit.passage.subject.name, mark=hit.passage.mark)
    return say(
        "{what} {mark}, frame {frame}.",
        what=hit.passage.subject.name,
        mark=hit.passage.mark,
        frame=stretch.deciding.frame,
    )
