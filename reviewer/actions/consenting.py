"""Consent to the use of a recording: what is recorded, and what may leave a case."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.shelfkeeping import forget_everywhere
from reviewer.casefile import Case
from reviewer.exchange.gate import refusal
from reviewer.terms.consents import GIVEN, NOT_RECORDED, USES, WHOSE, WITHDRAWN, Consent, is_day
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def may_leave(audit: Audit, use: str, today: str | None, *, answers: bool = False) -> None:
    """Let pass what consent covers; an AuditError says what is missing.

    Whatever leaves a case asks here first, with the day the door says it is. ``answers``: it is the report,
    the letter or the marks that answer an inquiry.
    """
    problem = refusal(audit.permission, use, today, where=audit.path.name, answers=answers)
    if problem is not None:
        raise AuditError(problem)


def unrecorded(audit: Audit) -> str:
    """What is to be told beside an answer that leaves while nobody has recorded consent; else empty."""
    if audit.consent != NOT_RECORDED:
        return ""
    return (
        f"Nobody has recorded consent to the use of this recording: this may answer an inquiry, and nothing "
        f"else. Ask, and record it with `reviewer consent {audit.path.name} --for inquiry`."
    )


def give_consent(
    audit: Audit, uses: Sequence[str], until: str | None, today: str, by: str | None = None
) -> Change:
    """Record what consent was given for, the last day it holds, and by whom, as a word of `WHOSE`.

    It cannot be undone, only withdrawn.
    """
    problems = [*_unknown(uses), *_no_end(until, today), *_nobody(by)]
    if problems:
        raise AuditError(problems)
    carry_consent(Consent(GIVEN, tuple(uses), until, by), audit.case)
    return Change(frozenset({"case"}))


def carry_consent(consent: Consent, case: Case) -> None:
    """Let a case that was begun from others, under the consent's word, have no more consent than they had."""
    if consent.word == GIVEN and (consent.uses or consent.until):
        uses = tuple(use for use in USES if consent.covers(use))
        case.append("consent-changed", replace(consent, uses=uses).to_json())


def withdraw_consent(audit: Audit) -> Change:
    """Record that consent was withdrawn: it takes no more marks, nothing leaves it or is found."""
    if audit.consent != WITHDRAWN:
        audit.case.append("consent-changed", {"consent": WITHDRAWN})
        forget_everywhere(audit.path)
    return Change(frozenset({"case"}))


def consent_document(audit: Audit, today: str) -> dict[str, Any]:
    """``reviewer.consent/1``: what consent says, and the uses it covers on a day."""
    found = audit.permission
    where = audit.path.name
    return {
        "format": "reviewer.consent/1",
        "consent": found.word,
        "until": found.until,
        "by": found.by,
        "today": today,
        "uses": [use for use in USES if refusal(found, use, today, where=where) is None],
    }


def _unknown(uses: Sequence[str]) -> list[Problem]:
    known = message("Name one of: {uses}.", uses=", ".join(USES))
    if not uses:
        return [Problem("no-use", "--for", message("No use is named."), known)]
    return [
        Problem("unknown-use", "--for", message("{use} is no use.", use=repr(use)), known)
        for use in uses
        if use not in USES
    ]


def _nobody(by: str | None) -> list[Problem]:
    """The problem of a name, which it does not repeat."""
    if by is None or by in WHOSE:
        return []
    said = message("Whose consent it is is said by a word, never by a name.")
    return [Problem("unknown-giver", "--by", said, message("Name one of: {uses}.", uses=", ".join(WHOSE)))]


def _no_end(until: str | None, today: str) -> list[Problem]:
    if until is None or (is_day(until) and until >= today):
        return []
    said = (
        message("{until} has passed.", until=until)
        if is_day(until)
        else message("{until} is no day.", until=repr(until))
    )
    return [Problem("no-day", "--until", said, message("Write a day to come, such as 2027-06-30."))]
