"""Two judges' cases of one recording made one; what both say, and where they differ."""

from collections.abc import Iterator, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.differing import in_words, name_of
from reviewer.actions.opening import open_case
from reviewer.actions.sameness import both_deduct, doubled, found_same
from reviewer.exchange.gate import withdrawn
from reviewer.terms.messages import message, noted
from reviewer.terms.problems import Problem
from reviewer.words import Saying


def merge_cases(
    first: Path,
    second: Path,
    out: Path,
    *,
    author: str,
    although_other_recording: bool = False,
    kept_apart: Sequence[str] = (),
) -> dict[str, Any]:
    """Write both cases as one new file, every event kept byte for byte: ``reviewer.merged/1``.

    The first case's word stands where both say something of one matter, until somebody says it anew; what
    both marked is one mark. ``kept_apart``: ids of the second's marks, as shown, that are no others. Cases
    that share no recording are refused, and so are sheets of blind judging, which are settled.
    """
    with casefile.open_case(first, None) as ours, casefile.open_case(second, None) as theirs:
        _refuse_withdrawn(ours, theirs)
        _refuse_blind(ours, theirs)
        if not although_other_recording:
            _refuse_other_recording(ours, theirs)
        sameness = partial(_sameness, kept_apart=kept_apart)
        events = casefile.merge(ours, theirs, out, author, sameness=sameness)
        remarks = list(_remarks(ours, theirs, events))
        added = len(events) - len(ours.events)
    return {
        "format": "reviewer.merged/1",
        "case": str(out),
        "events": len(events),
        "added": added,
        "renamed": [
            {"id": shown, "was": was[1], "author": by} for shown, (_, was, by) in casefile.renamed(events)
        ],
        "same": [{"first": one, "second": other} for one, other in _of_last(events).get("same", ())],
        "judges": dict(_of_last(events).get("judges", {})),
        "conflicts": _conflicts(out),
        "remarks": remarks,
    }


_ENGLISH = Saying()
_OF_DIFFERENT = noted("The cases are of different recordings, so nobody knows that they are of one routine.")
_OF_NONE = noted("One of the cases cites no recording, so nobody knows that they are of one routine.")
_STANDS = {
    "first": noted(
        "Two cases that were merged differ here: the first says {first}, which stands; the second {second}."
    ),
    "second": noted(
        "Two cases that were merged differ here: the first says {first}; the second {second}, which stands."
    ),
    "narrower": noted(
        "Two cases that were merged differ here: the first says {first}, the second {second}; "
        "what both allow stands."
    ),
}


def conflicts_of(audit: Audit) -> Iterator[Problem]:
    """Where merged cases say different things that nobody has settled since, as warnings."""
    for one in audit.state.conflicts:
        first, second = in_words(one, audit.book)
        said, name = message(_STANDS[one.stands], first=first, second=second), name_of(one, audit)
        remedy = message("Say anew what it is to be, and that is settled.")
        named = message("{name}: {said}", name=name, said=said) if name else said
        yield Problem("merged-otherwise", f"{one.what} {one.where}".strip(), named, remedy)


def _conflicts(path: Path) -> list[dict[str, str]]:
    """The conflicts of a merged case, each also in words."""
    with open_case(path, author=None) as audit:
        return [one.to_json() | _in_words(one, audit) for one in audit.state.conflicts]


def _in_words(one: casefile.Conflict, audit: Audit) -> dict[str, str]:
    first, second = (said.words(_ENGLISH.word) for said in in_words(one, audit.book))
    return {"name": name_of(one, audit), "first_says": first, "second_says": second}


def doubled_in(audit: Audit) -> Iterator[Problem]:
    """Elements that may stand twice in a merged case, as warnings: each counts, and what was taken on it."""
    if any(event.kind == casefile.MERGED for event in audit.case.events):
        for code, ids in doubled(audit.case.events, audit.state):
            names = ", ".join(ids)
            said = message(
                "{code} stands here in both judges' marks, as {names}, and counts for each of them.",
                code=code,
                names=names,
            )
            remedy = message("Where two are one, withdraw one and set its faults on the other.")
            yield Problem("marked-twice", names, said, remedy)


def _sameness(events: Sequence[casefile.Event], *, kept_apart: Sequence[str]) -> dict[str, Any]:
    """What the merge says of marks; an AuditError where what is to be kept apart is not there."""
    known = {mark.id for mark in casefile.fold(events).marks}
    problems = [
        Problem(
            "unknown-mark",
            name,
            message("The merged case has no mark of that id."),
            message("See `renamed` of a merge."),
        )
        for name in kept_apart
        if name not in known
    ]
    if problems:
        raise AuditError(problems)
    return found_same(events, kept_apart)


def _of_last(events: Sequence[casefile.Event]) -> Mapping[str, Any]:
    """What the merge says, where there was anything to join."""
    return events[-1].payload if events[-1].kind == casefile.MERGED else {}


def _remarks(ours: casefile.Case, theirs: casefile.Case, events: Sequence[casefile.Event]) -> Iterator[str]:
    known = {event.hash for event in ours.events}
    more = [event for event in theirs.events if event.hash not in known]
    if not more:
        yield "The second case holds nothing that the first lacks."
    own = {event.hash for event in theirs.events}
    letters = {event.author for event in ours.events if event.hash not in own}
    for letter in sorted(letters & {event.author for event in more}):
        yield f"Both cases were written by {letter}, whose undo now reaches into both."
    for judge in both_deduct(events):
        yield (
            f"Both cases deduct as judge {judge}: what both have is taken once, all of it from one score. "
            "Where they are two judges, give each fault the letter of its judge, then merge."
        )


def _refuse_withdrawn(*cases: casefile.Case) -> None:
    """A merge copies both cases: a use, which nobody may make of what is withdrawn."""
    found = (withdrawn(case.state.permission, case.path.name) for case in cases)
    problems = dict.fromkeys(problem for problem in found if problem is not None)
    if problems:
        raise AuditError(problems)


def _refuse_blind(*cases: casefile.Case) -> None:
    problems = [
        Problem(
            "blind-sheet",
            case.path.name,
            message("This is a sheet of blind judging, sealed or still open, and stays apart."),
            message("Seal both and settle them: `reviewer settle begin`."),
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
    said = _OF_DIFFERENT if both else _OF_NONE
    raise AuditError(
        Problem(
            "other-recording",
            theirs.path.name,
            message(said),
            message("Name two cases of one recording, or say --although-other-recording."),
        )
    )
