"""The figures of an audited meet as a document: ``reviewer.meet-figures/1``."""

from typing import Any

from reviewer.auditing.intervals import Figure
from reviewer.auditing.meets import (
    NO_RANKING,
    ClauseFigures,
    Difference,
    ErrorCurve,
    JudgeError,
    JudgeFigures,
    Led,
    MeetFigures,
)
from reviewer.terms.exact import Points

_Document = dict[str, Any]
POINTS, SHARE = 3, 4
"""Places of points, and of shares and other numbers without a unit."""


def meet_figures_document(found: MeetFigures) -> _Document:
    """Every figure as decimal text, rounded once, beside the routines that it leads to."""
    return {
        "format": "reviewer.meet-figures/1",
        "of": found.of,
        "audited": found.audited,
        "by_lot": found.by_lot,
        "strata": [{"name": one.name, "of": one.of, "audited": one.audited} for one in found.strata],
        "wrong_start": _led(found.wrong_start, SHARE),
        "unreachable": _led(found.unreachable, SHARE),
        "final": _difference(found.final),
        "start": _difference(found.start),
        "final_at_full_speed": _difference(found.final_at_full_speed),
        "clauses": [_clause(one) for one in found.clauses],
        "judges": [_judge(one) for one in found.judges],
        "error_curves": [_curve(one) for one in found.curves],
        "remarks": [one.words() for one in found.remarks],
        "cautions": [NO_RANKING],
    }


def _clause(one: ClauseFigures) -> _Document:
    return {"clause": one.clause, "certain": _led(one.certain, SHARE), "possible": _led(one.possible, SHARE)}


def _judge(one: JudgeFigures) -> _Document:
    return {
        "judge": one.judge,
        "number": one.number,
        "audited": _difference(one.audited),
        "at_full_speed": _difference(one.at_full_speed),
        "enough": one.enough,
        "says": one.says.words(),
    }


def _curve(one: ErrorCurve) -> _Document:
    levels = [level for level in dict.fromkeys((one.lowest, one.middle, one.highest)) if level is not None]
    return {
        "against": one.against,
        "number": one.number,
        "scores": one.scores,
        "points": [{"level": str(level), "error": _error(one, level)} for level in levels],
        "factor": decimal(one.factor, SHARE),
        "judges": [_judge_error(own) for own in one.judges],
        "why": one.why.words() if one.why else "",
    }


def _error(one: ErrorCurve, level: Points) -> str | None:
    return decimal(one.at(level), POINTS)


def _judge_error(one: JudgeError) -> _Document:
    return {
        "judge": one.judge,
        "relative_error": _led(one.relative_error, SHARE),
        "tendency": _led(one.tendency, SHARE),
    }


def _difference(one: Difference) -> _Document:
    return {"mean": _led(one.mean, POINTS), "spread": _led(one.spread, POINTS)}


def _led(one: Led, places: int) -> _Document:
    return _figure(one.figure, places) | {"routines": list(one.routines)}


def _figure(one: Figure, places: int) -> _Document:
    return {
        "value": decimal(one.value, places),
        "interval95": one.interval and [decimal(end, places) for end in one.interval],
        "number": one.number,
        "why": one.why,
    }


def decimal(value: float | None, places: int) -> str | None:
    """Decimal text with fixed places; nought has no sign."""
    return None if value is None else f"{round(value, places) + 0.0:.{places}f}"
