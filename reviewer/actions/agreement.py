"""How far several judges agree on several routines, in figures: ``reviewer.agreement/1``."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

from reviewer.actions.samples import Sample, table_sample
from reviewer.actions.samplesheets import Source, sheets_sample
from reviewer.auditing.faults import FaultsAgreed, faults_agreed
from reviewer.auditing.intervals import WIDEST_POINTS, WIDEST_SHARE, Figure
from reviewer.auditing.ratings import Lean, Pair, Panel, panel
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

CAUTIONS = (
    "Judges are letters in the order of the alphabet; nothing here says who is the better judge.",
    "Agreement is not correctness: judges may agree on what another look would change.",
    f"A figure settles nothing where its interval is wider than {WIDEST_SHARE:.3f} of a share or coefficient,"
    f" or {WIDEST_POINTS:.3f} points.",
)
_POINTS, _SHARE = 3, 4
"""Places of points, and of shares and coefficients."""


def agreement_of_table(path: Path) -> dict[str, Any]:
    """The figures of a table with the columns routine, judge and what was given."""
    return agreement_document(table_sample(path))


def agreement_of_sheets(sources: Sequence[Source]) -> dict[str, Any]:
    """The figures of cases and marks documents, with those of faults."""
    return agreement_document(sheets_sample(sources))


def agreement_document(sample: Sample) -> dict[str, Any]:
    """``reviewer.agreement/1``; a DocumentError where no routine was judged by two."""
    given = {quantity: own for quantity, own in sample.given.items() if own}
    judges = sorted({judge for own in given.values() for _, judge in own})
    panels = {quantity: found for quantity, own in given.items() if (found := panel(own)).routines}
    if not panels:
        raise DocumentError(_alone(judges))
    faults = faults_agreed(sample.routines) if sample.routines else None
    return {
        "format": "reviewer.agreement/1",
        "routines": len({routine for own in given.values() for routine, _ in own}),
        "judges": judges,
        "quantities": [_quantity(name, found) for name, found in panels.items()],
        "faults": None if faults is None else _faults(faults),
        "remarks": [
            *(words for name, found in panels.items() for words in _remarks(name, found)),
            *(() if faults is None else _of_faults(faults)),
        ],
        "cautions": list(CAUTIONS),
        "warnings": [problem.to_json() for problem in sample.warnings],
    }


def _alone(judges: Sequence[str]) -> Problem:
    remedy = message("Hand in what at least two judges gave to the same routines, each routine named alike.")
    if len(judges) < 2:
        return Problem("one-judge", "judge", message("One judge alone agrees with nobody."), remedy)
    return Problem("no-shared-routine", "routine", message("No routine was judged by two."), remedy)


def _quantity(name: str, found: Panel) -> dict[str, Any]:
    return {
        "quantity": name,
        "routines": found.routines,
        "complete": found.complete,
        "same": _figure(found.same, _SHARE),
        "icc_2_1": _figure(found.agreement, _SHARE),
        "icc_3_1": _figure(found.consistency, _SHARE),
        "pairs": [_pair(one) for one in found.pairs],
        "judges": [_lean(one) for one in found.judges],
    }


def _pair(one: Pair) -> dict[str, Any]:
    return {
        "judges": list(one.judges),
        "same": _figure(one.same, _SHARE),
        "difference": _figure(one.limits.difference, _POINTS),
        "deviation": _decimal(one.limits.deviation, _POINTS),
        "low": _figure(one.limits.low, _POINTS),
        "high": _figure(one.limits.high, _POINTS),
    }


def _lean(one: Lean) -> dict[str, Any]:
    bias, spread = _figure(one.bias, _POINTS), _figure(one.spread, _POINTS)
    return {"judge": one.judge, "bias": bias, "spread": spread}


def _faults(found: FaultsAgreed) -> dict[str, Any]:
    return {
        "units": found.units,
        "routines": found.taken.number,
        "taken": {"alpha": _decimal(found.taken.value, _SHARE), "why": found.taken.why},
        "amounts": {"alpha": _decimal(found.amounts.value, _SHARE), "why": found.amounts.why},
    }


def _of_faults(found: FaultsAgreed) -> Iterator[str]:
    """What alpha, which is given without an interval, does not say."""
    if found.taken.value is not None or found.amounts.value is not None:
        routines = "1 routine" if found.taken.number == 1 else f"{found.taken.number} routines"
        yield (
            f"Faults: alpha is of {found.units} that could be taken in {routines}, and has no interval: it "
            "describes these sheets, and nothing can be concluded from it about others."
        )


def _figure(one: Figure, places: int) -> dict[str, Any]:
    interval = one.interval and [_decimal(end, places) for end in one.interval]
    return {
        "value": _decimal(one.value, places),
        "interval95": interval,
        "routines": one.number,
        "least": one.least,
        "enough": one.enough,
        "why": one.why,
    }


def _decimal(value: float | None, places: int) -> str | None:
    """Decimal text with fixed places; nought has no sign."""
    return None if value is None else f"{round(value, places) + 0.0:.{places}f}"


def _remarks(name: str, found: Panel) -> Iterator[str]:
    """What cannot be concluded, and from how many routines on it could."""
    figures = {
        "the share of equal ones": [found.same],
        "ICC(2,1)": [found.agreement],
        "ICC(3,1)": [found.consistency],
        "limits of agreement": [one for pair in found.pairs for one in (pair.limits.low, pair.limits.high)],
        "the bias of a judge": [one.bias for one in found.judges],
    }
    said: dict[str, list[str]] = defaultdict(list)
    for what, own in figures.items():
        wanting = [one for one in own if not one.enough]
        if wanting:
            said[_wanting(wanting)].append(what)
    for words, about in said.items():
        yield f"{name.replace('_', ' ').capitalize()}: {', '.join(about)}: {words}"


def _wanting(figures: Sequence[Figure]) -> str:
    reasons = dict.fromkeys(one.why for one in figures if one.why)
    if reasons:
        return " ".join(("nothing can be concluded.", *reasons))
    if any(one.least is None for one in figures):
        return "nothing can be concluded; with so few judges no number of routines would be enough."
    number, least = min(one.number for one in figures), max(one.least or 0 for one in figures)
    return f"nothing can be concluded from fewer than {least} routines, and there are {number}."
