"""An audit of one part of the score only: it asks for nothing else, and says so."""

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.offered import WHOLE
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import listed, message
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import PARTS, ScoreSheet

_NOTES_OF = {
    "start-value": ("role-not-allowed", "credit-given", "not-counting", "requirement-missing"),
    "execution": ("panel-size", "spread", "only-slowed", "one-error", "not-on-top", "judge-unsaid"),
    "neutral": ("time-limit", "length-within"),
}
"""The remarks that are about one part only."""
_OF_ALL = ("final_score", "full_speed", "reachable", "reachable_apart", "posted", "towards_posted")
_OF_START = ("start_value", "value_parts")
_OF_JUDGES = ("judges", "panel_average", "spread")
"""The figures of a score document that stand on all parts, on the start value, on the judges' scores."""


def limit_audit(audit: Audit, parts: Sequence[str]) -> Change:
    """Keep in the case which parts of the score are audited; all of them where none or `WHOLE` is named."""
    limited = parts_named(parts)
    if limited != audit.state.limited_to:
        audit.case.append("audit-limited", {"parts": list(limited)})
    return Change(frozenset({"sheet"}))


def parts_named(parts: Iterable[str]) -> tuple[str, ...]:
    """Those of `PARTS` that are named, in their order; empty for all of them."""
    named = set(parts)
    unknown = sorted(named - {*PARTS, WHOLE})
    if unknown:
        said = message("A score has no part {part}.", part=repr(unknown[0]))
        raise AuditError(
            Problem(
                "no-part", "--only", said, message("Name one of: {parts}.", parts=", ".join((*PARTS, WHOLE)))
            )
        )
    limited = tuple(part for part in PARTS if part in named)
    return () if WHOLE in named or limited == PARTS else limited


def marks_of(marks: Sequence[Mark], parts: Sequence[str]) -> tuple[Mark, ...]:
    """The marks that these parts of a score rest on: faults only where execution is one of them."""
    faults = not parts or "execution" in parts
    return tuple(mark for mark in marks if faults or mark.kind != "fault")


def limited(sheet: ScoreSheet, parts: Sequence[str]) -> ScoreSheet:
    """A sheet with only the lines and remarks of these parts; of no part, as it was."""
    if not parts:
        return sheet
    start, execution = "start-value" in parts, "execution" in parts
    aside = {code for part, codes in _NOTES_OF.items() if part not in parts for code in codes}
    return replace(
        sheet,
        lines=tuple(line for line in sheet.lines if line.stage in parts),
        not_earned=sheet.not_earned if start else (),
        not_taken=sheet.not_taken if execution else (),
        notes=tuple(note for note in sheet.notes if note.code not in aside),
        casts=sheet.casts if start or execution else (),
    )


def narrowed(
    score: dict[str, Any], sheet: ScoreSheet, parts: Sequence[str], book: RuleBook
) -> dict[str, Any]:
    """A ``reviewer.score/1`` of a `limited` sheet, its parts named in ``only``; of no part, as it was.

    What stands on a part that is not audited is null: no final score, and a judge's score only where that
    begins from what is audited, too. ``deductions`` is what each judge takes, where execution is audited, and
    ``neutral`` what is taken from the average.
    """
    if not parts:
        return score
    start, execution = "start-value" in parts, "execution" in parts
    unknown = [*_OF_ALL]
    unknown += [] if start else _OF_START
    unknown += [] if judges_are_audited(parts, book) else _OF_JUDGES
    taken: dict[str, Any] = {"deductions": [*_deductions(sheet)]} if execution else {}
    taken |= {"neutral": str(_taken(sheet, "neutral"))} if "neutral" in parts else {}
    return score | dict.fromkeys(unknown) | {"only": list(parts)} | taken


def judges_are_audited(parts: Sequence[str], book: RuleBook) -> bool:
    """Whether a judge's score and the average are: in most books they begin from the start value."""
    return not parts or ("execution" in parts and ("start-value" in parts or book.execution_from is not None))


def _deductions(sheet: ScoreSheet) -> Iterator[dict[str, str]]:
    for one in sheet.judges:
        yield {"judge": one.judge, "points": str(_taken(sheet, "execution", one.judge))}


def _taken(sheet: ScoreSheet, stage: str, judge: str | None = None) -> Points:
    """What the lines of a stage take, of one judge or of none."""
    lines = (line for line in sheet.lines if (line.stage, line.judge) == (stage, judge))
    return Points(-sum(line.points.thousandths for line in lines))


def no_final_score(parts: Sequence[str]) -> Problem:
    """The problem of a posted final score where not all parts are audited."""
    said = message(
        "Only {parts} is audited here, so no final score can be held against a posted one.",
        parts=listed(parts),
    )
    return Problem("audit-limited", "--posted", said, message("Leave out --posted, or say --only whole."))
