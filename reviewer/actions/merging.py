"""Two judges' cases of one recording made one; what both say, and where they differ."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import AuditError
from reviewer.terms.problems import Problem


def merge_cases(
    first: Path, second: Path, out: Path, *, author: str, although_other_recording: bool = False
) -> dict[str, Any]:
    """Write both cases as one new file, every event kept byte for byte: ``reviewer.merged/1``.

    The first case's word stands where both say something of one matter, until somebody says it anew. Cases
    that share no recording are refused, and so are sheets of blind judging, which are settled.
    """
    with casefile.open_case(first, None) as ours, casefile.open_case(second, None) as theirs:
        _refuse_blind(ours, theirs)
        if not although_other_recording:
            _refuse_other_recording(ours, theirs)
        events = casefile.merge(ours, theirs, out, author)
        remarks = list(_remarks(ours, theirs))
        added = len(events) - len(ours.events)
    return {
        "format": "reviewer.merged/1",
        "case": str(out),
        "events": len(events),
        "added": added,
        "renamed": [
            {"id": shown, "was": was[1], "author": by} for shown, (_, was, by) in casefile.renamed(events)
        ],
        "conflicts": [one.to_json() for one in casefile.fold(events).conflicts],
        "remarks": remarks,
    }


def conflicts_of(state: casefile.CaseState) -> Iterator[Problem]:
    """Where merged cases say different things that nobody has settled since, as warnings."""
    for one in state.conflicts:
        said = f"Two cases that were merged differ here: {one.first} in the first, {one.second} in the second"
        remedy = "Say anew what it is to be, and that is settled."
        where = f"{one.what} {one.where}".strip()
        yield Problem("merged-otherwise", where, f"{said}; the {one.stands} stands.", remedy)


def _remarks(ours: casefile.Case, theirs: casefile.Case) -> Iterator[str]:
    known = {event.hash for event in ours.events}
    more = [event for event in theirs.events if event.hash not in known]
    if not more:
        yield "The second case holds nothing that the first lacks."
    own = {event.hash for event in theirs.events}
    letters = {event.author for event in ours.events if event.hash not in own}
    for letter in sorted(letters & {event.author for event in more}):
        yield f"Both cases were written by {letter}, whose undo now reaches into both."


def _refuse_blind(*cases: casefile.Case) -> None:
    problems = [
        Problem(
            "blind-sheet",
            case.path.name,
            "This is a sheet of blind judging, sealed or still open, and stays apart.",
            "Seal both and settle them: `reviewer settle begin`.",
        )
        for case in cases
        if case.state.sealed is not None or case.state.second_of is not None
    ]
    if problems:
        raise AuditError(problems)


def _refuse_other_recording(ours: casefile.Case, theirs: casefile.Case) -> None:
    first, second = ({one.sha256 for one in case.state.recordings} for case in (ours, theirs))
    if first & second or ours.events[0] == theirs.events[0]:
        return
    both = first and second
    said = "The cases are of different recordings" if both else "One of the cases cites no recording"
    raise AuditError(
        Problem(
            "other-recording",
            theirs.path.name,
            f"{said}, so nobody knows that they are of one routine.",
            "Name two cases of one recording, or say --although-other-recording.",
        )
    )
