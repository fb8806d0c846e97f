"""Marks that were changed since an inquiry was answered: the answer rests on what they were."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer import casefile
from reviewer.actions.audit import Audit
from reviewer.casefile import CaseState
from reviewer.terms.inquiries import Answer
from reviewer.terms.marks import Mark
from reviewer.terms.messages import listed, message, noted, spoken
from reviewer.terms.problems import Problem

CHANGED, WITHDRAWN, PLACED = noted("changed"), noted("withdrawn"), noted("placed since")


def changed_since(audit: Audit, answer: Answer, of: frozenset[str]) -> list[dict[str, Any]]:
    """The marks that are otherwise than when the answer was given, each with how.

    Those it cites, and all others of the kinds ``of``, on which what was asked rests as well.
    """
    digest = audit.state.answered_by[answer.inquiry]
    if audit.case.events[-1].hash == digest:
        return []
    then = casefile.state_at(audit.case.events, digest)
    found = {**dict(_of_cited(audit.state, then, answer)), **dict(_of_others(audit.state, then, of))}
    return [{"mark": name, "how": how} for name, how in found.items()]


def outdated(found: Mapping[str, Any], case: str) -> Iterator[Problem]:
    """A warning for each inquiry of an ``inquiry`` document whose answer rests on marks changed since."""
    for one in found["asked"]:
        since = (one["answer"] or {}).get("changed_since")
        if since:
            named = listed(
                [message("{mark} ({how})", mark=mark["mark"], how=spoken(mark["how"])) for mark in since]
            )
            said = message("Marks are otherwise than when this inquiry was answered: {named}.", named=named)
            remedy = message(
                "Answer it again: `reviewer inquiry answer {case} {id}`.", case=case, id=one["id"]
            )
            yield Problem("answer-outdated", one["id"], said, remedy)


def _of_cited(now: CaseState, then: CaseState, answer: Answer) -> Iterator[tuple[str, str]]:
    marks, cited = _by_id(now), then.answers.get(answer.inquiry, answer).marks
    for shown, name in zip(answer.marks, cited, strict=True):
        if shown not in marks:
            yield shown, WITHDRAWN
        elif now.events_of.get(shown) != then.events_of.get(name) and marks[shown] != _by_id(then).get(name):
            yield shown, CHANGED


def _of_others(now: CaseState, then: CaseState, of: frozenset[str]) -> Iterator[tuple[str, str]]:
    before, marks, known = _by_id(then), _by_id(now), set(then.events_of.values())
    for name, mark in marks.items():
        if mark.kind in of and now.events_of.get(name) not in known and mark != before.get(name):
            yield name, CHANGED if name in before else PLACED
    for name, mark in before.items():
        if mark.kind in of and name not in marks and then.events_of.get(name) not in now.events_of.values():
            yield name, WITHDRAWN


def _by_id(state: CaseState) -> Mapping[str, Mark]:
    return {mark.id: mark for mark in state.marks}
