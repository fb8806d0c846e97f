"""The figures in words: a table for people, and the same as data."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import asdict, dataclass
from typing import Any

from tests.benchmarks.figures import Figure
from tests.benchmarks.rows import Job

WIDE, FORMAT = 84, "reviewer.benchmarks/1"


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of a job: its figures, and why there are no more, or empty."""

    job: Job
    figures: tuple[Figure, ...]
    amiss: str


def as_data(machine: Mapping[str, str], outcomes: Sequence[Outcome]) -> dict[str, Any]:
    """Everything, for a JSON file."""
    figures = [
        {"row": str(outcome.job), **asdict(figure), "reached": figure.reached}
        for outcome in outcomes
        for figure in outcome.figures
    ]
    amiss = {str(outcome.job): outcome.amiss for outcome in outcomes if outcome.amiss}
    return {"format": FORMAT, "machine": dict(machine), "figures": figures, "not measured": amiss}


def table(machine: Mapping[str, str], outcomes: Sequence[Outcome]) -> str:
    """Everything, for the eye."""
    heading = f"{'what':{WIDE}} {'figure':>10} {'least':>9} {'greatest':>9} {'rounds':>6}  reach     reached"
    lines = [*(f"{name}: {value}" for name, value in machine.items()), "", heading, "-" * len(heading)]
    for outcome in outcomes:
        for figure in outcome.figures:
            lines += _lines(figure)
        if outcome.amiss:
            lines.append(f"{outcome.job}: NOT MEASURED: {outcome.amiss}")
    return "\n".join(lines)


def _lines(figure: Figure) -> Iterator[str]:
    reached = {None: "", True: "yes", False: "NO"}[figure.reached]
    value = f"{_number(figure.value)} {figure.unit}"
    spread = f"{_number(figure.low):>9} {_number(figure.high):>9} {figure.rounds:>6}"
    yield f"{figure.what:{WIDE}} {value:>10} {spread}  {_target(figure):9} {reached}".rstrip()
    if figure.beside:
        yield "    " + "; ".join(f"{name} {_number(value)}" for name, value in figure.beside.items())


def _target(figure: Figure) -> str:
    if figure.at_least is not None and figure.at_most is not None:
        return f"{figure.at_least:g} to {figure.at_most:g}"
    if figure.at_least is not None:
        return f"≥ {_number(figure.at_least)}"
    return f"≤ {_number(figure.at_most)}" if figure.at_most is not None else ""


def _number(value: float) -> str:
    if 0 < abs(value) < 1:
        return f"{value:.3f}"
    return f"{value:.2f}" if abs(value) < 100 else f"{value:.0f}"
