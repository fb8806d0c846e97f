"""An audit of one part of the score only: it asks for nothing else, and says so."""

from collections.abc import Iterable, Sequence
from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.casefile import PARTS
from reviewer.terms.marks import Mark
from reviewer.terms.problems import Problem

WHOLE = "whole"
"""The word for an audit of all parts."""
_OF_EXECUTION = ("panel-size", "spread", "only-slowed", "one-error")


def limit_audit(audit: Audit, parts: Sequence[str]) -> Change:
    """Keep in the case which parts of the score are audited; all of them where none or `WHOLE` is named."""
    limited = parts_named(parts)
    if limited != audit.state.limited_to:
        audit.case.append("audit-limited", {"parts": list(limited)})
    return Change(frozenset({"sheet"}))


def parts_named(parts: Iterable[str]) -> tuple[str, ...]:
    """Those of `casefile.PARTS` that are named, in their order; empty for all of them."""
    named = set(parts)
    unknown = sorted(named - {*PARTS, WHOLE})
    if unknown:
        said = f"A score has no part {unknown[0]!r}."
        raise AuditError(Problem("no-part", "--only", said, f"Name one of: {', '.join((*PARTS, WHOLE))}."))
    limited = tuple(part for part in PARTS if part in named)
    return () if WHOLE in named or limited == PARTS else limited


def marks_of(marks: Sequence[Mark], parts: Sequence[str]) -> tuple[Mark, ...]:
    """The marks that these parts of a score rest on: faults only where execution is one of them."""
    faults = not parts or "execution" in parts
    return tuple(mark for mark in marks if faults or mark.kind != "fault")


def narrowed(score: dict[str, Any], parts: Sequence[str]) -> dict[str, Any]:
    """A ``reviewer.score/1`` with only the lines of these parts, named in ``only``; of no part, as it was.

    What stands on all parts together is not found by such an audit: no posted score is held against it.
    """
    if not parts:
        return score
    lines = [line for line in score["lines"] if line["stage"] in parts]
    notes = score["notes"]
    if "execution" not in parts:
        notes = [note for note in notes if note["code"] not in _OF_EXECUTION]
    kept = {"lines": lines, "notes": notes, "posted": None, "towards_posted": None}
    if "start-value" not in parts:
        kept |= {"not_earned": [], "casts": score["casts"] if "execution" in parts else []}
    return score | kept | {"only": list(parts)}


def no_final_score(parts: Sequence[str]) -> Problem:
    """The problem of a posted final score where not all parts are audited."""
    said = f"Only {', '.join(parts)} is audited here, so no final score can be held against a posted one."
    return Problem("audit-limited", "--posted", said, "Leave out --posted, or say --only whole.")
