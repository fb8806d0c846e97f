"""Consent for many routines of a meet at once."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from reviewer.actions.audit import AuditError
from reviewer.actions.consenting import consent_document, give_consent
from reviewer.actions.meetholding import meet_case, starts_named
from reviewer.actions.opening import open_case
from reviewer.exchange.meets import read_meet
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.meets import Start
from reviewer.terms.problems import Problem, ReviewerError


@dataclass(frozen=True, slots=True)
class Given:
    """Consent as it was given.

    Attributes:
        uses: words of `reviewer.terms.consents.USES`.
        until: the last day it holds, or None.
        by: whose word it is, of `reviewer.terms.consents.WHOSE`, or None.
    """

    uses: Sequence[str]
    until: str | None = None
    by: str | None = None


def give_meet_consent(
    folder: Path, given: Given, *, author: str, today: str, starts: Sequence[str] = ()
) -> dict[str, Any]:
    """``reviewer.meet-consents/1``: record consent in the cases of these routines, or of all.

    A case of which it was withdrawn stays locked: that is undone in the case itself, by whoever was asked
    about it. Cases that cover all of it already are left as they are, and those not made yet are named.
    """
    meet = read_meet(folder)
    named = starts_named(meet, starts) if starts else meet.starts
    found: dict[str, list[str]] = {"given": [], "there": [], "withdrawn": [], "no_case": []}
    problems: list[Problem] = []
    for one in named:
        try:
            found[_give(folder, one, given, author, today)].append(one.name)
        except ReviewerError as fault:
            problems += (_of_case(problem, one.name) for problem in fault.problems)
    if problems:
        raise AuditError(dict.fromkeys(problems))
    return {"format": "reviewer.meet-consents/1", **found}


def _give(folder: Path, start: Start, given: Given, author: str, today: str) -> str:
    path = meet_case(folder, start.name)
    if not path.is_file():
        return "no_case"
    with open_case(path, author=None) as audit:
        if audit.consent == WITHDRAWN:
            return "withdrawn"
        there = consent_document(audit, today)
    if set(given.uses) <= set(there["uses"]) and (given.until, given.by) == (there["until"], there["by"]):
        return "there"
    with open_case(path, author=author) as audit:
        give_consent(audit, given.uses, given.until, today, given.by)
    return "given"


def _of_case(problem: Problem, name: str) -> Problem:
    """What is wrong with what was asked is said once; what is wrong with a case, of that case."""
    asked = problem.where.startswith("--")
    return problem if asked else replace(problem, where=f"{name}.case: {problem.where}")
