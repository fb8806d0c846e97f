"""An exercise of judging from cases: what a learner is asked of each clip, and the key to it."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from reviewer import rules
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.differing import names_of
from reviewer.actions.settling import open_lines
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import CastTolerance, Required
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line
from reviewer.words import Saying

_Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class Shown:
    """A stretch of a case's recording that a learner judges.

    Attributes:
        audit: the case.
        recording: SHA-256 of the recording, or None where nothing is to be seen.
        first, last: the frames it begins and ends with.
        whole: whether it is the whole routine, so that requirements are asked too.
    """

    audit: Audit
    recording: str | None
    first: int
    last: int
    whole: bool


def whole_routine(audit: Audit) -> Shown:
    """The recording of the attempt that counts, from end to end."""
    cited = audit.state.recording
    if cited is None or cited.sha256 not in audit.recording_paths:
        said = message("The recording of this case is not here, and a learner judges what can be seen.")
        raise AuditError(Problem("no-recording", audit.path.name, said, message("Name it with `--film`.")))
    _refuse_unfinished(audit)
    return Shown(audit, cited.sha256, 0, cited.frames - 1, whole=True)


def each_element(audit: Audit, lead: int) -> Iterator[Shown]:
    """Each element that has a time, with ``lead`` frames before and after it."""
    whole = whole_routine(audit)
    for mark in audit.counting_marks:
        frames = [audit.frame_at(pts) for pts in (mark.start, mark.end) if pts is not None]
        if mark.kind == "element" and len(frames) == 2:
            first, last = max(0, frames[0] - lead), min(whole.last, frames[1] + lead)
            yield Shown(audit, whole.recording, first, last, whole=False)


def of_a_set(clips: Iterable[tuple[Audit, str, int, int]]) -> Iterator[Shown]:
    """Passages of cases, each a recording with its first and last frame."""
    for audit, recording, first, last in clips:
        _refuse_unfinished(audit)
        yield Shown(audit, recording, first, last, whole=False)


def _refuse_unfinished(audit: Audit) -> None:
    where = audit.path.name
    if open_lines(audit):
        said = message("Lines of this settlement are still open, so it is no key.")
        raise AuditError(Problem("open-lines", where, said, message("Settle them with `reviewer settle`.")))
    if audit.sheet.problems:
        said = message("Some marks of this case cannot be scored, so it is no key.")
        remedy = message("`reviewer score` names them; mend them first.")
        raise AuditError(Problem("unsound", where, said, remedy))


def asked(stretches: Sequence[Shown], say: Saying) -> _Document:
    """What a learner is told: ``reviewer.practice/1`` without its clips. Nothing in it gives the key away.

    All cases must be scored by one edition, since its lists are what the learner chooses from.
    """
    book = stretches[0].audit.book
    for one in stretches:
        if one.audit.book.sha256 != book.sha256:
            said = message(
                "This case is scored by {own}, the others by {book}.", own=one.audit.book.id, book=book.id
            )
            remedy = message("Make a page for each edition, since a learner chooses from its lists.")
            raise AuditError(Problem("another-edition", one.audit.path.name, said, remedy))
    return {
        "format": "reviewer.practice/1",
        "language": say.language,
        "rule_book": {"id": book.id, "title": book.title, "division": book.division, "season": book.season},
        "requirements": [{"code": one.code, "name": one.name} for one in book.all(Required)],
        "faults": [*_derived(book, say), *_faults(book)],
    }


def _faults(book: RuleBook) -> list[_Document]:
    found = [
        {"code": one.code, "name": one.name, "amounts": [str(amount) for amount in one.amounts if amount]}
        for one in book.faults
        if any(one.amounts)
    ]
    return sorted(found, key=lambda one: str(one["name"]))


def _derived(book: RuleBook, say: Saying) -> list[_Document]:
    """What a cast's height costs, which is no fault mark."""
    tolerated = book.one(CastTolerance)
    if tolerated is None or not tolerated.points:
        return []
    name = say("A cast below the limit, within the tolerance")
    return [{"code": tolerated.clause, "name": name, "amounts": [str(tolerated.points)]}]


def key(stretches: Sequence[Shown], say: Saying) -> _Document:
    """``reviewer.practice-key/1``: for each clip what was credited, what each judge took, and why."""
    return {
        "format": "reviewer.practice-key/1",
        "clips": [_key(f"c{number}", one, say) for number, one in enumerate(stretches, start=1)],
    }


def _key(name: str, shown: Shown, say: Saying) -> _Document:
    audit = shown.audit
    seen = {mark.id: mark for mark in audit.counting_marks if shown.whole or _lies_in(mark, shown)}
    judges = _judges(shown, seen, say)
    totals = [Points.parse(one["total"]) for one in judges]
    return {
        "id": name,
        "value_parts": len(_credited(audit, seen)),
        "not_credited": [
            {"why": one.why.words(say.word)}
            for one in audit.sheet.not_earned
            if any(mark in seen for mark in one.marks)
        ],
        "requirements": {one.code: _met(audit, one) for one in audit.book.all(Required)}
        if shown.whole
        else None,
        "judges": judges,
        "least": str(min(totals)),
        "most": str(max(totals)),
    }


def _lies_in(mark: Mark, shown: Shown) -> bool:
    """Whether a mark is to be judged in a stretch: what it is shown by lies there."""
    places = (one for one in shown.audit.shown((mark.id,)) if one.recording == shown.recording)
    return any(shown.first <= one.frame <= shown.last for one in places)


def _credited(audit: Audit, seen: dict[str, Mark]) -> list[str]:
    """The elements that earned a value part."""
    refused = {mark for one in audit.sheet.not_earned for mark in one.marks}
    elements = (mark for mark in seen.values() if mark.kind == "element")
    return [mark.id for mark in elements if mark.id not in refused]


def _met(audit: Audit, one: Required) -> bool:
    """Whether the routine met a requirement: a book takes for a missing one, or gives for one that is met."""
    return (one.clause in {line.clause for line in audit.sheet.lines}) == one.gives


def _judges(shown: Shown, seen: dict[str, Mark], say: Saying) -> list[_Document]:
    """What each judge took; judges are no letters here, only the first, the second and so on."""
    sheet = shown.audit.sheet
    found = []
    for one in sheet.judges:
        lines = [
            line
            for line in sheet.lines
            if line.stage == "execution"
            and line.judge == one.judge
            and any(mark in seen for mark in line.marks)
        ]
        total = sum((line.points for line in lines), Points(0))
        found.append({"total": str(-total), "taken": [_taken(shown, line, seen, say) for line in lines]})
    return found


def _taken(shown: Shown, line: Line, seen: dict[str, Mark], say: Saying) -> _Document:
    audit = shown.audit
    fault = next((seen[mark] for mark in line.marks if mark in seen and seen[mark].kind == "fault"), None)
    places = audit.frames(line.marks, shown.recording)
    says = " ".join(one[:1].upper() + one[1:] for one in rules.sentences(audit.book, say.word)[line.clause])
    return {
        "code": fault.code if fault is not None else line.clause,
        "amount": str(-line.points),
        "why": line.why.words(say.word),
        "says": says,
        "element": _element(audit, line.marks),
        "frame": places[0][0] - shown.first if places else None,
    }


def _element(audit: Audit, marks: Sequence[str]) -> str | None:
    """The name of the element that marks are about."""
    known = {mark.id: mark for mark in audit.marks}
    for name in marks:
        mark = known.get(name)
        element = known.get(mark.element or mark.id) if mark is not None else None
        if element is not None and element.kind == "element":
            return names_of(audit.book).get(element.code, element.code)
    return None
