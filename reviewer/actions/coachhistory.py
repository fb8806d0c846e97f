"""One athlete over many routines, for her coach: deductions by kind, casts with their doubt, requirements."""

import json
from collections.abc import Iterable, Iterator, Sequence
from pathlib import Path
from typing import Any

from reviewer import __version__, drawing, reports
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.coaching import casts, costs_of
from reviewer.actions.coachpage import write_pages
from reviewer.actions.consenting import may_leave
from reviewer.actions.finding import cautions
from reviewer.actions.outgoing import refuse_no_folder
from reviewer.terms.canonical import readable
from reviewer.terms.consents import COACH
from reviewer.terms.costs import Cost, Costs
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.intervals import expanded
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import Required
from reviewer.words import ENGLISH, Saying, saying

_Document = dict[str, Any]
_DRAWN = 5
"""Kinds of deduction in the chart: those that cost most; the table has all."""


def write_coach_history(
    audits: Sequence[Audit], folder: Path, today: str | None = None, language: str = ENGLISH
) -> _Document:
    """Write ``coach.html``, ``coach.pdf`` and ``coach.json`` of one athlete's routines; the document.

    Routines stand in the order in which their cases were begun. An AuditError where a case does not allow it,
    is there twice, or is another athlete's.
    """
    refuse_no_folder(folder)
    for audit in audits:
        may_leave(audit, COACH, today)
    say = saying(language)
    found: _Document = json.loads(readable(history_document(audits, say)))
    write_pages(folder, found, reports.coach_history_page(found), {})
    return found


def history_document(audits: Sequence[Audit], say: Saying) -> _Document:
    """``reviewer.coach-history/1``."""
    _refuse_strangers(audits)
    ordered = sorted(audits, key=lambda one: (one.case.events[0].at, one.case.events[0].hash))
    costs = [costs_of(audit) for audit in ordered]
    routines = [
        _routine(audit, cost, number)
        for number, (audit, cost) in enumerate(zip(ordered, costs, strict=True), start=1)
    ]
    kinds = _kinds(costs, say)
    return {
        "format": "reviewer.coach-history/1",
        "version": __version__,
        "language": say.language,
        "case": {
            "athlete_code": ordered[0].athlete_code,
            "last_event_at": max(one.case.events[-1].at for one in ordered),
        },
        "stills": [],
        "routines": routines,
        "kinds": kinds,
        "requirements": _requirements(ordered),
        "charts": _charts(routines, kinds, say),
        "cautions": list(cautions()),
    }


def _refuse_strangers(audits: Sequence[Audit]) -> None:
    begun: dict[str, str] = {}
    for audit in audits:
        first, where = audit.case.events[0].hash, audit.path.name
        if first in begun:
            said = message("This is the routine of {begun} again.", begun=begun[first])
            raise AuditError(Problem("doubled", where, said, message("Name each routine once.")))
        begun[first] = where
        if audit.athlete_code != audits[0].athlete_code:
            said = message(
                "The routines are of {athlete} and of {other}.",
                athlete=audits[0].athlete_code,
                other=audit.athlete_code,
            )
            raise AuditError(
                Problem(
                    "another-athlete", where, said, message("A page is of one athlete: leave the others out.")
                )
            )


def _routine(audit: Audit, costs: Costs, number: int) -> _Document:
    sheet = audit.sheet
    return {
        "number": number,
        "begun": audit.case.events[0].at[:10],
        "division": audit.book.division,
        "season": audit.book.season,
        "head": audit.case.events[-1].hash,
        "start_value": str(sheet.start_value),
        "final_score": str(sheet.final_score),
        "lost_at_start": _sum(costs.certain),
        "neutral": _sum(costs.neutral),
        "value_parts": {"needed": costs.needed, "earned": costs.earned, "spare": costs.spare},
        "casts": list(casts(audit)),
    }


def _sum(some: Iterable[Cost]) -> str:
    return str(sum((one.most for one in some), Points(0)))


def _kinds(costs: Sequence[Costs], say: Saying) -> list[_Document]:
    """What execution cost, by kind: of each routine the most that any judge took; the largest first."""
    taken: dict[str, list[Points]] = {}
    for at, found in enumerate(costs):
        for cost in found.possible:
            row = taken.setdefault(cost.why.words(say.word).rstrip("."), [Points(0)] * len(costs))
            row[at] += cost.most
    ordered = sorted(taken.items(), key=lambda one: (-sum(size.thousandths for size in one[1]), one[0]))
    return [{"name": name, "points": [str(one) for one in row]} for name, row in ordered]


def _requirements(audits: Sequence[Audit]) -> list[_Document]:
    """Each requirement: whether a routine met it; None where its edition does not ask for it."""
    names = dict.fromkeys(one.name for audit in audits for one in audit.book.all(Required))
    return [{"name": name, "met": [_met(audit, name) for audit in audits]} for name in names]


def _met(audit: Audit, name: str) -> bool | None:
    own = [one for one in audit.book.all(Required) if one.name == name]
    lines = {line.clause for line in audit.sheet.lines}
    return all((one.clause in lines) == one.gives for one in own) if own else None


def _charts(routines: Sequence[_Document], kinds: Sequence[_Document], say: Saying) -> dict[str, str]:
    """SVG by name; none of what there is nothing of."""
    across, charts = say("Routine"), {}
    if kinds:
        series = [_series(one) for one in kinds[:_DRAWN]]
        charts["kinds"] = drawing.values_chart("kinds", series, across, say("Points"), say)
    measured = list(_measured(routines))
    if measured:
        limits = sorted({float(one["limit_deg"]) for routine in routines for one in routine["casts"]})
        charts["casts"] = drawing.measured_chart("casts", measured, limits, across, say("Degrees"), say)
    return charts


def _series(kind: _Document) -> "drawing.Series":
    return drawing.Series(kind["name"], tuple(float(one) for one in kind["points"]))


def _measured(routines: Sequence[_Document]) -> Iterator["drawing.Measured"]:
    for routine in routines:
        for one in routine["casts"]:
            if "value_deg" in one:
                half = float(str(expanded(Degrees.parse(one["u_deg"])))) if "u_deg" in one else None
                yield drawing.Measured(routine["number"], float(one["value_deg"]), half)
