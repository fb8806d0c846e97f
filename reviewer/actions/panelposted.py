"""What the panel posted: kept in the case, and held against itself and against the audited sheet."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import fields
from typing import Any

from reviewer import scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.limiting import judges_are_audited
from reviewer.actions.marking import Change
from reviewer.actions.panels import no_scores
from reviewer.scoring.startgap import Step, explanations
from reviewer.terms.codes import no_code
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, Translate, as_written, message
from reviewer.terms.posted import PostedRow, PostedSheet, WrittenDeduction
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import PARTS

_NOUGHT = Points(0)


def enter_posted_sheet(audit: Audit, given: PostedSheet) -> Change:
    """Keep what the panel posted: one event. What is given stands in place of what was, the rest stays."""
    problems = [*no_scores(dict(given.judges), audit.book), *_beyond(given, audit.book)]
    problems += [problem for one in given.deductions if (problem := no_code(one.judge, "deduction"))]
    for one in given.deductions if not problems else ():
        where = f"deduction of judge {one.judge}"
        problems += [Problem(code, where, said, remedy) for _, code, said, remedy in strange(one, audit)]
    if problems:
        raise AuditError(problems)
    sheet = joined_sheets([audit.state.posted_sheet or PostedSheet(), given])
    audit.case.append("posted-sheet-entered", {"sheet": sheet.to_json()})
    return Change(frozenset({"posted"}))


def _beyond(given: PostedSheet, book: RuleBook) -> Iterator[Problem]:
    """Figures that the edition cannot give. Those out of step are kept: that a panel erred is a finding."""
    most: dict[str, tuple[str, Points | None]] = {
        "start value": ("start_value", scoring.most_start(book)),
        "neutral": ("neutral", None),
        "average": ("average", scoring.most_of_judge(book)),
        "final": ("final", scoring.most_final(book)),
    }
    for name, (field, greatest) in most.items():
        points: Points | None = getattr(given, field)
        if points is not None and points < _NOUGHT:
            said, remedy = (
                message("{points} is less than nothing.", points=points),
                message("Give it without a sign."),
            )
            yield Problem("negative", name, said, remedy)
        elif points is not None and greatest is not None and points > greatest:
            said = message(
                "{points} is more than the edition {edition} can give.", points=points, edition=book.id
            )
            yield Problem(
                "too-much",
                name,
                said,
                message("Give {least} to {most}, or see which edition it is.", least=_NOUGHT, most=greatest),
            )


def joined_sheets(sheets: Iterable[PostedSheet]) -> PostedSheet:
    """What several parts of a posted sheet say together; the later one where two say the same thing."""
    known: dict[str, Any] = {}
    for sheet in sheets:
        said = {one.name: getattr(sheet, one.name) for one in fields(sheet)}
        known |= {name: value for name, value in said.items() if value not in (None, ())}
    return PostedSheet(**known)


def posted_sheet_document(audit: Audit) -> dict[str, Any]:
    """``reviewer.posted-sheet/1``: what was posted, whether it agrees with itself and with the marks."""
    head = {"id": audit.book.id, "sha256": audit.book.sha256}
    return {"format": "reviewer.posted-sheet/1", "rule_book": head} | posted_sheet_found(audit)


def posted_sheet_found(audit: Audit, translate: Translate = as_written) -> dict[str, Any]:
    """The ``posted_sheet`` of a finding: the sheet, each part held against the others and against the marks.

    ``stands`` is null where a part was not posted that it would take to tell.
    """
    sheet = audit.state.posted_sheet or PostedSheet()
    parts = audit.state.limited_to or PARTS
    within = within_itself(sheet, _scores(sheet, audit), audit.book)
    return {
        "sheet": sheet.to_json(),
        "within_itself": [one | {"why": one["why"].words(translate)} for one in within],
        "against_marks": [*_against(sheet, audit, parts, translate)],
        "written": _written(sheet, audit) if "execution" in parts else [],
    }


def within_itself(
    sheet: PostedSheet, scores: Mapping[str, Points], book: RuleBook
) -> tuple[dict[str, Any], ...]:
    """Each part of a posted sheet beside what the others come to; ``scores`` are those of its judges.

    ``stands`` is None where a part was not kept that it would take to tell.
    """
    found = (_average(sheet, scores, book), _final(sheet, scores, book), _adding_up(sheet, scores, book))
    return tuple(check for some in found for check in some)


def contradicts_itself(found: Mapping[str, Any]) -> bool:
    """Whether a part of a posted sheet cannot be what the others come to."""
    return any(one["stands"] is False for one in found["within_itself"])


def strange(one: WrittenDeduction, audit: Audit) -> Iterator[tuple[str, str, Message, Message]]:
    """What there is none of in a written deduction: the name of its part, and a problem's code and words."""
    marks = _elements(audit)
    if one.code not in audit.book.fault_of:
        said = message(
            "The edition {edition} has no fault {code}.", edition=audit.book.id, code=repr(one.code[:40])
        )
        yield "code", "unknown-fault", said, message("See `reviewer rules show` for its codes.")
    known = one.element is None or one.element in {mark.id for mark in marks}
    if one.element is not None and not known and not _is_place(one.element, len(marks)):
        said = message("The routine has no element {element}.", element=repr(one.element[:40]))
        remedy = message("Give its place in the routine, such as 3, or the id of its mark, such as m5.")
        yield "element", "unknown-element-mark", said, remedy


def _is_place(said: str, elements: int) -> bool:
    """Whether this is a place in the routine; any, while no element is marked."""
    number = int(said) if said.isascii() and said.isdigit() and len(said) < 4 else 0
    return number >= 1 and (not elements or number <= elements)


def _elements(audit: Audit) -> list[Mark]:
    return [mark for mark in audit.counting_marks if mark.kind == "element"]


def judges_posted(audit: Audit) -> Mapping[str, Points]:
    """The scores that are known of the panel's judges, by letter; empty where none is."""
    return _scores(audit.state.posted_sheet or PostedSheet(), audit)


def _scores(sheet: PostedSheet, audit: Audit) -> Mapping[str, Points]:
    """The judges' scores: as posted, else those kept of the panel; after a conference rather than before."""
    if sheet.judges:
        return dict(sheet.judges)
    panel = audit.state.panel
    kept = panel.get("after") or panel.get("before") or {}
    return {judge: Points.parse(score) for judge, score in kept.items()}


def _average(sheet: PostedSheet, scores: Mapping[str, Points], book: RuleBook) -> Iterator[dict[str, Any]]:
    """The average of the judges by the edition's rule for panels."""
    if not scores or sheet.average is None:
        return
    found = scoring.panel_score(scores, book, neutral=_NOUGHT, difficulty=_NOUGHT)
    counting = ", ".join(str(one) for one in found.counting)
    why = message("The edition averages {counting}.", counting=counting)
    yield _check("average", sheet.average, found.average, found.average == sheet.average, why)


def _final(sheet: PostedSheet, scores: Mapping[str, Points], book: RuleBook) -> Iterator[dict[str, Any]]:
    """The final score: the average, with the start value where it is added, less neutral deductions."""
    average = _base(sheet, scores, book)
    adds = book.execution_from is not None
    if average is None or sheet.final is None or (adds and sheet.start_value is None):
        return
    difficulty = sheet.start_value if adds and sheet.start_value is not None else _NOUGHT
    neutral = sheet.neutral or _NOUGHT
    derived = scoring.total(PostedRow(difficulty, (), average, neutral), book)
    stands: bool | None = derived == sheet.final
    why = message("The average less {neutral} of neutral deductions.", neutral=neutral)
    if adds:
        why = message("Start value and average, less {neutral} of neutral deductions.", neutral=neutral)
    if not stands and sheet.neutral is None and sheet.final < derived:
        stands, gap = None, derived - sheet.final
        why = message("Neutral deductions were not kept; {gap} of them would explain it.", gap=gap)
    yield _check("final", sheet.final, derived, stands, why)


def _base(sheet: PostedSheet, scores: Mapping[str, Points], book: RuleBook) -> Points | None:
    """The average as posted, or else as the judges' scores make it."""
    if sheet.average is not None or not scores:
        return sheet.average
    return scoring.panel_score(scores, book, neutral=_NOUGHT, difficulty=_NOUGHT).average


def _adding_up(sheet: PostedSheet, scores: Mapping[str, Points], book: RuleBook) -> Iterator[dict[str, Any]]:
    """Each judge's score held against what that judge wrote down."""
    begins = sheet.start_value
    if book.execution_from is not None:
        begins = book.execution_from.points
    taken: dict[str, Points] = {}
    for one in sheet.deductions:
        taken[one.judge] = taken.get(one.judge, _NOUGHT) + one.amount
    for judge, total in taken.items():
        if judge not in scores or begins is None:
            continue
        derived, said = max(begins - total, _NOUGHT), scores[judge]
        why = message("{begins} less {total} written down.", begins=begins, total=total)
        yield _check("judge", said, derived, derived == said, why) | {"judge": judge}


def _check(part: str, said: Points, derived: Points, stands: bool | None, why: Message) -> dict[str, Any]:
    return {
        "part": part, "said": str(said), "derived": str(derived), "stands": stands, "why": why,
    }  # fmt: skip


def _against(
    sheet: PostedSheet, audit: Audit, parts: tuple[str, ...], translate: Translate
) -> Iterator[dict[str, Any]]:
    """What was posted beside what the marks come to, part by part; a start value with what explains it."""
    own = audit.sheet
    if "start-value" in parts and sheet.start_value is not None:
        ways = explanations(own, sheet.start_value, audit.book)
        explained = [[_step(one, translate) for one in way] for way in ways]
        yield _beside("start-value", sheet.start_value, own.start_value) | {"explained_by": explained}
    average = _base(sheet, _scores(sheet, audit), audit.book)
    if judges_are_audited(parts, audit.book) and average is not None:
        yield _beside("average", average, own.panel_average)
    if "neutral" in parts and sheet.neutral is not None:
        lines = [line for line in own.lines if line.stage == "neutral"]
        taken = Points(-sum(line.points.thousandths for line in lines))
        clauses = [{"clause": line.clause, "points": str(line.points)} for line in lines]
        yield _beside("neutral", sheet.neutral, taken) | {"clauses": clauses}
    if set(parts) == set(PARTS) and sheet.final is not None:
        yield _beside("final", sheet.final, own.final_score)


def _beside(part: str, posted: Points, marked: Points) -> dict[str, Any]:
    return {"part": part, "posted": str(posted), "marked": str(marked), "differs": str(posted - marked)}


def _step(one: Step, translate: Translate) -> dict[str, Any]:
    said = {"clause": one.clause, "points": str(one.points), "times": one.times}
    return said | {"why": one.why.words(translate)}


def _written(sheet: PostedSheet, audit: Audit) -> list[dict[str, Any]]:
    """Each written deduction beside the marked fault of the same code and element, if there is one."""
    free: dict[str, list[Mark]] = {}
    found = []
    for one in sheet.deductions:
        faults = free.setdefault(one.judge, [mark for mark in audit.counting_marks if mark.kind == "fault"])
        mark = next((mark for mark in faults if _same(one, mark, audit)), None)
        if mark is not None:
            faults.remove(mark)
        fault = audit.book.fault_of.get(one.code)
        beside = {"mark": mark.id, "marked": str(mark.amount)} if mark else {"mark": None, "marked": None}
        found.append(one.to_json() | {"name": fault.name if fault else one.code} | beside)
    return found


def _same(one: WrittenDeduction, mark: Mark, audit: Audit) -> bool:
    """Whether a mark is the fault that a judge wrote down."""
    if one.code != mark.code:
        return False
    places = {element.id: str(place) for place, element in enumerate(_elements(audit), start=1)}
    return one.element is None or one.element in (mark.element, places.get(mark.element or ""))
