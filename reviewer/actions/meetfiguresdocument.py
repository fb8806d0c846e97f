"""The figures of an audited meet as a document: ``reviewer.meet-figures/1``."""

from typing import Any

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
from reviewer.terms.messages import Translate, as_written

_Document = dict[str, Any]
POINTS, SHARE = 3, 4
"""Places of points, and of shares and other numbers without a unit."""


def meet_figures_document(found: MeetFigures, tell: Translate = as_written) -> _Document:
    """Every figure as decimal text, rounded once, beside the routines that it leads to.

    Sentences are in the language of ``tell``.
    """
    return {
        "format": "reviewer.meet-figures/1",
        "of": found.of,
        "audited": found.audited,
        "by_lot": found.by_lot,
        "strata": [{"name": one.name, "of": one.of, "audited": one.audited} for one in found.strata],
        "wrong_start": _led(found.wrong_start, SHARE, tell),
        "unreachable": _led(found.unreachable, SHARE, tell),
        "final": _difference(found.final, tell),
        "start": _difference(found.start, tell),
        "final_at_full_speed": _difference(found.final_at_full_speed, tell),
        "clauses": [_clause(one, tell) for one in found.clauses],
        "judges": [_judge(one, tell) for one in found.judges],
        "error_curves": [_curve(one, tell) for one in found.curves],
        "remarks": [one.words(tell) for one in found.remarks],
        "cautions": [tell(NO_RANKING)],
    }


def _clause(one: ClauseFigures, tell: Translate) -> _Document:
    certain, possible = (_led(own, SHARE, tell) for own in (one.certain, one.possible))
    return {"clause": one.clause, "certain": certain, "possible": possible}


def _judge(one: JudgeFigures, tell: Translate) -> _Document:
    return {
        "judge": one.judge,
        "number": one.number,
        "audited": _difference(one.audited, tell),
        "at_full_speed": _difference(one.at_full_speed, tell),
        "enough": one.enough,
        "says": one.says.words(tell),
    }


def _curve(one: ErrorCurve, tell: Translate) -> _Document:
    levels = [level for level in dict.fromkeys((one.lowest, one.middle, one.highest)) if level is not None]
    return {
        "against": one.against,
        "number": one.number,
        "scores": one.scores,
        "points": [{"level": str(level), "error": decimal(one.at(level), POINTS)} for level in levels],
        "factor": decimal(one.factor, SHARE),
        "judges": [_judge_error(own, tell) for own in one.judges],
        "why": one.why.words(tell) if one.why else "",
    }


def _judge_error(one: JudgeError, tell: Translate) -> _Document:
    relative, tendency = (_led(own, SHARE, tell) for own in (one.relative_error, one.tendency))
    return {"judge": one.judge, "relative_error": relative, "tendency": tendency}


def _difference(one: Difference, tell: Translate) -> _Document:
    return {"mean": _led(one.mean, POINTS, tell), "spread": _led(one.spread, POINTS, tell)}


def _led(one: Led, places: int, tell: Translate) -> _Document:
    figure = one.figure
    return {
        "value": decimal(figure.value, places),
        "interval95": figure.interval and [decimal(end, places) for end in figure.interval],
        "number": figure.number,
        "why": tell(figure.why) if figure.why else "",
        "routines": list(one.routines),
    }


def decimal(value: float | None, places: int) -> str | None:
    """Decimal text with fixed places; nought has no sign."""
    return None if value is None else f"{round(value, places) + 0.0:.{places}f}"
