"""A meet indexed: each recording read once, then a case for each routine. It may be stopped and run again."""

import os
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from reviewer import casefile, rules
from reviewer.actions.audit import AuditError
from reviewer.actions.meetcases import Beginning, Films, cite_later, is_locked, make_case
from reviewer.actions.meetfilms import Work, read_recordings
from reviewer.actions.meetholding import CASES, meet_case
from reviewer.actions.meetrecordings import recordings_below, recordings_folder
from reviewer.actions.preferences import preferences, small_pictures_folder
from reviewer.exchange.meets import read_meet
from reviewer.shelf import REGISTER, Register, open_register
from reviewer.terms.meets import Meet, Start
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.shelving import Stamp
from reviewer.video import SmallStore

RECORDINGS = "recordings"
Progress = Callable[[str, int, int], bool]
"""Told of `RECORDINGS` or `CASES` how many are done and how many there are to do; False stops."""


@dataclass(frozen=True, slots=True)
class Indexing:
    """How a meet is indexed.

    Attributes:
        author: who begins the cases.
        consent: what their first event says of it.
        pictures: whether small pictures are made as well.
        again: whether cases that were made and are gone are made once more.
        work: who reads recordings.
        progress: told how far it is.
    """

    author: str
    consent: str
    work: Work
    pictures: bool = True
    again: bool = False
    progress: Progress = lambda what, done, all_: True


@dataclass(slots=True)
class MeetIndexed:
    """What indexing came to.

    Attributes:
        recordings: how many were read.
        cases: how many were made.
        cited: cases that were there and now cite a recording that was found later.
        gone: routines whose case was made and is gone; none is made again.
        whole: whether all was done; False where it was stopped.
        driven_out: recordings whose small pictures were made and had to make room for others.
        problems: why recordings cannot be read, are damaged or may not be read, and why cases take nothing.
    """

    recordings: int = 0
    cases: int = 0
    cited: int = 0
    gone: list[str] = field(default_factory=list)
    whole: bool = False
    driven_out: int = 0
    problems: list[Problem] = field(default_factory=list)

    def to_json(self) -> dict[str, Any]:
        """``reviewer.meet-indexed/1``."""
        return {
            "format": "reviewer.meet-indexed/1",
            "recordings": self.recordings,
            "cases": self.cases,
            "cited": self.cited,
            "gone": self.gone,
            "complete": self.whole,
            "without_pictures": self.driven_out,
            "problems": [one.to_json() for one in self.problems],
        }


def index_meet(folder: Path, indexing: Indexing) -> MeetIndexed:
    """Read what recordings are new or changed, and make the cases that are not there.

    A ReviewerError where there is no meet, its folder is gone, or somebody else indexes it.
    """
    meet = read_meet(folder)
    book = rules.load(rules.find(meet.rule_book))
    recordings = recordings_folder(folder, meet)
    with _alone(folder), open_register(folder) as register:
        run = _Run(folder, meet, register, indexing)
        if recordings is not None:
            there = dict(recordings_below(recordings))
            if not run.read(recordings, there):
                return run.done
            run.films = {path: stamp for path, stamp in register.stamps().items() if there.get(path) == stamp}
        run.done.whole = run.make(recordings, Beginning(book, indexing.author, indexing.consent))
        run.done.driven_out = _driven_out(register) if indexing.pictures else 0
        run.done.problems.extend(one for path, one in register.problems() if path in run.films)
        return run.done


@contextmanager
def _alone(folder: Path) -> Iterator[None]:
    """Nobody else indexes this meet meanwhile."""
    try:
        hold = casefile.Hold(folder / REGISTER, "reviewer")
    except casefile.CaseError as fault:
        if fault.problems[0].code != "case-held":
            raise
        said = message("Another command is indexing this meet.")
        remedy = message("Wait until it is done, then do it again.")
        raise DocumentError(Problem("meet-held", str(folder), said, remedy)) from None
    try:
        yield
    finally:
        hold.release()


class _Run:
    """One run over a meet."""

    def __init__(self, folder: Path, meet: Meet, register: Register, indexing: Indexing) -> None:
        self.done = MeetIndexed()
        self.films: Mapping[str, Stamp] = {}
        self._folder, self._meet, self._register, self._indexing = folder, meet, register, indexing

    def read(self, recordings: Path, there: Mapping[str, Stamp]) -> bool:
        """Read the recordings that are new or changed; whether it was not stopped."""
        owners = self._owners()
        self._register.forget(self._register.stamps().keys() - there.keys() - owners.keys())
        known = self._register.stamps(pictures=self._indexing.pictures)
        todo = [one for one in there.items() if known.get(one[0]) != one[1] and self._may(one[0], owners)]
        store = _store() if self._indexing.pictures else None
        doing = read_recordings(recordings, todo, self._register, store, self._indexing.work)
        return self._told(RECORDINGS, len(todo), doing)

    def _owners(self) -> Mapping[str, Sequence[str]]:
        """The routines that each recording is matched with."""
        found: dict[str, list[str]] = {}
        for start in self._meet.starts:
            for path in start.recordings:
                found.setdefault(path, []).append(start.name)
        return found

    def _may(self, path: str, owners: Mapping[str, Sequence[str]]) -> bool:
        """Whether a recording may be read; with consent withdrawn it may not."""
        if not any(is_locked(meet_case(self._folder, start)) for start in owners.get(path, ())):
            return True
        said = message("Consent to the use of this recording was withdrawn; it is not read.")
        remedy = message("Delete it where that was asked: `reviewer expired`.")
        self.done.problems.append(Problem("consent-withdrawn", path, said, remedy))
        return False

    def _told(self, what: str, number: int, doing: Iterator[object]) -> bool:
        """Do one thing after the other; whether all were done."""
        for done, _ in enumerate(doing, start=1):
            if what == RECORDINGS:
                self.done.recordings += 1
            if not self._indexing.progress(what, done, number) and done < number:
                return False
        return True

    def make(self, recordings: Path | None, beginning: Beginning) -> bool:
        """Make the cases that are not there, and let the others cite what was found later."""
        (self._folder / CASES).mkdir(exist_ok=True)
        todo = list(self._unmade(recordings))
        doing = (self._case(start, is_there, recordings, beginning) for start, is_there in todo)
        return self._told(CASES, len(todo), doing)

    def _unmade(self, recordings: Path | None) -> Iterator[tuple[Start, bool]]:
        """Routines without a case, and those whose case lacks a recording; whether it is there."""
        there, made = set(os.listdir(self._folder / CASES)), self._register.cases()
        for start in self._meet.starts:
            is_there = f"{start.name}.case" in there
            wanted = {how["sha256"] for how in self._films(recordings, start).values()}
            if not is_there and start.name in made and not self._indexing.again:
                self.done.gone.append(start.name)
            elif not is_there or start.name not in made or not wanted <= set(made[start.name]):
                yield start, is_there

    def _case(self, start: Start, is_there: bool, recordings: Path | None, beginning: Beginning) -> Start:
        path, films = meet_case(self._folder, start.name), self._films(recordings, start)
        try:
            if is_there:
                self.done.cited += cite_later(path, beginning.author, films)
            else:
                make_case(path, start, beginning, films)
                self.done.cases += 1
        except (AuditError, DocumentError, casefile.CaseError) as fault:
            if not is_there and not isinstance(fault, AuditError):
                raise  # whatever keeps one from being written keeps the next
            self.done.problems.extend(fault.problems)
        else:
            self._register.keep_case(start.name, (how["sha256"] for how in films.values()))
        return start

    def _films(self, recordings: Path | None, start: Start) -> Films:
        """The recordings of a routine that can be cited, as they were read."""
        if recordings is None:
            return {}
        found = {
            recordings / path: one.cited
            for path in start.recordings
            if path in self.films and (one := self._register.recording(path)) is not None
        }
        return {path: how for path, how in found.items() if how}


def _store() -> SmallStore:
    """Where the desk looks for small pictures too."""
    return SmallStore(small_pictures_folder(), preferences().small_picture_disk)


def _driven_out(register: Register) -> int:
    """Recordings whose small pictures are not stored any more; those of the first stream are made."""
    folder = small_pictures_folder()
    there = {path.stem.partition("-")[0] for path in folder.glob("*.json")}
    return sum(sha256 not in there for sha256 in register.pictured())
