"""Meets whose every routine is known, drawn fault by fault; how often intervals from samples hold the truth.

Nothing here is worked out as the figures are. A routine has faults of 0.05 to 0.30 points. The auditor sees
them all, and most at full speed too. Each judge sees each fault with a chance of their own, takes a step too
much or too little for it now and then, and sometimes takes one that is not there. The panel of four leaves
out the highest and the lowest score and truncates the mean of the others to thousandths; start values are
wrong now and then. What is true of a meet is counted over all its routines. Chances and sizes: our own.
"""

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from statistics import fmean, stdev

import numpy as np
from numpy.typing import NDArray

from reviewer.auditing.intervals import Figure
from reviewer.auditing.meets import AuditedRoutine, MeetFigures, Whole
from reviewer.auditing.meetsums import meet_figures
from reviewer.terms.exact import Points

Counts = NDArray[np.int64]
LETTERS = "ABCD"
START, FAULTS = 10_000, 24
SIZES, RARITY = (50, 100, 200, 300), (0.35, 0.40, 0.15, 0.10)
SEES = (0.85, 0.75, 0.65, 0.80)
"""By judge, the chance to see a fault that shows at full speed."""
SEES_QUICK, INVENTS = 0.30, 0.03
TOO_MUCH, TOO_LITTLE = (0.10, 0.25, 0.05, 0.10), (0.10, 0.05, 0.20, 0.30)
STEP = 50


@dataclass(frozen=True, slots=True)
class Division:
    """A part of a meet.

    Attributes:
        routines, drawn: how many it has, and how many of them are drawn.
        poor: the greater, the poorer they are.
        wrong: how often a start value is wrong.
        known: how often it is known which letter gave a score.
    """

    routines: int
    drawn: int
    poor: float = 2.0
    wrong: float = 0.15
    known: float = 1.0


ONE = {"": Division(300, 60)}
"""A meet of 300 routines of which 60 are drawn."""
IN_PROPORTION = {"three": Division(180, 36, 1.5, 0.08), "two": Division(120, 24, 4.0, 0.30)}
UNEVEN = {
    "four": Division(60, 24, 1.0, 0.10),
    "three": Division(160, 24, 1.5, 0.12),
    "two": Division(80, 24, 4.0, 0.30),
}
"""As many of each division, whatever its size."""
PARTLY_KNOWN = {
    "three": Division(160, 50, 1.5, 0.08, known=0.4),
    "two": Division(140, 50, 4.0, 0.30, known=0.8),
}
"""Where only some of each judge's scores are known, more of one division than of the other."""
DESIGNS = {
    "simple": ONE,
    "strata in proportion": IN_PROPORTION,
    "as many of each stratum": UNEVEN,
    "scores known in part": PARTLY_KNOWN,
}


@dataclass(frozen=True, slots=True)
class Part:
    """Deductions and scores of a division's routines, in thousandths; one row a routine."""

    audited: Counts
    full_speed: Counts
    judges: Counts
    known: NDArray[np.bool_]
    final: Counts
    start: Counts


def part(chance: np.random.Generator, division: Division) -> Part:
    """All routines of a division, with what everybody saw."""
    shape = (division.routines, FAULTS)
    there = chance.random(shape) < 0.15 + 0.7 * chance.beta(division.poor, 3, (division.routines, 1))
    size = chance.choice(SIZES, shape, p=RARITY)
    quick = chance.random(shape) < 0.25
    judges = np.stack([_taken(chance, there, size, quick, place) for place in range(len(LETTERS))], axis=1)
    counting = np.sort(START - judges, axis=1)[:, 1:3]
    amiss = chance.choice((-100, 100, 200), division.routines)
    wrong = np.where(chance.random(division.routines) < division.wrong, amiss, 0)
    audited, full_speed = (START - (size * own).sum(axis=1) for own in (there, there & ~quick))
    known = chance.random(judges.shape) < division.known
    return Part(audited, full_speed, START - judges, known, counting.sum(axis=1) // 2 + wrong, START + wrong)


def _taken(
    chance: np.random.Generator, there: NDArray[np.bool_], size: Counts, quick: NDArray[np.bool_], place: int
) -> Counts:
    """What one judge takes for each routine."""
    sees = there & (chance.random(there.shape) < np.where(quick, SEES_QUICK, SEES[place]))
    moved = chance.random(there.shape)
    away = np.where(moved < TOO_MUCH[place], STEP, np.where(moved > 1 - TOO_LITTLE[place], -STEP, 0))
    invented = ~there & (chance.random(there.shape) < INVENTS)
    taken = np.where(sees, np.maximum(size + away, STEP), 0) + np.where(invented, STEP, 0)
    return np.asarray(taken.sum(axis=1))


def audited(parts: Mapping[str, Part], drawn: Mapping[str, Sequence[int]]) -> Iterator[AuditedRoutine]:
    """The routines that were drawn, as they are handed in."""
    for stratum, rows in drawn.items():
        own = parts[stratum]
        for row in rows:
            yield AuditedRoutine(
                name=f"{stratum}{row}",
                stratum=stratum,
                posted_start=_points(own.start[row]),
                audited_start=Points(START),
                posted_final=_points(own.final[row]),
                audited_final=_points(own.audited[row]),
                reachable=bool(own.start[row] == START),
                judges={
                    letter: _points(own.judges[row, at])
                    for at, letter in enumerate(LETTERS)
                    if own.known[row, at]
                },
                audited=_points(own.audited[row]),
                at_full_speed=_points(own.full_speed[row]),
                final_at_full_speed=_points(own.full_speed[row]),
                misapplied={},
            )


def _points(size: int) -> Points:
    return Points(int(size))


def truth(parts: Mapping[str, Part]) -> dict[str, float]:
    """What is so, counted over every routine of the meet."""
    whole = list(parts.values())
    away = {
        "posted": np.concatenate([one.final - one.audited for one in whole]),
        "posted, at full speed": np.concatenate([one.final - one.full_speed for one in whole]),
        "start value": np.concatenate([one.start - START for one in whole]),
        **{
            f"judge {letter}": np.concatenate(
                [(one.judges[:, at] - one.audited)[one.known[:, at]] for one in whole]
            )
            for at, letter in enumerate(LETTERS)
        },
    }
    wrong = [value != START for one in whole for value in one.start]
    found = {"share of wrong start values": fmean(wrong)}
    for name, sizes in away.items():
        points = [int(size) / 1000 for size in sizes]
        found |= {f"{name}: mean": fmean(points), f"{name}: spread": stdev(points)}
    return found


def told(found: MeetFigures) -> dict[str, Figure]:
    """The figures of the same names."""
    away = {
        "posted": found.final,
        "posted, at full speed": found.final_at_full_speed,
        "start value": found.start,
        **{f"judge {one.judge}": one.audited for one in found.judges},
    }
    figures = {"share of wrong start values": found.wrong_start.figure}
    for name, own in away.items():
        figures |= {f"{name}: mean": own.mean.figure, f"{name}: spread": own.spread.figure}
    return figures


Drawn = dict[str, list[int]]
"""Rows by stratum."""


def meet_and_lot(design: Mapping[str, Division], seed: int) -> tuple[dict[str, Part], Drawn]:
    """A meet, and which of its routines are drawn."""
    chance = np.random.default_rng(seed)
    parts = {name: part(chance, own) for name, own in design.items()}
    drawn = {name: chance.permutation(own.routines)[: own.drawn].tolist() for name, own in design.items()}
    return parts, drawn


def simulated(design: Mapping[str, Division], seed: int) -> tuple[dict[str, float], MeetFigures]:
    """What is so at a meet, and what a sample of it by lot tells."""
    parts, drawn = meet_and_lot(design, seed)
    whole = Whole({name: own.routines for name, own in design.items()}, by_lot=True)
    return truth(parts), meet_figures(tuple(audited(parts, drawn)), whole)


@dataclass(frozen=True, slots=True)
class Coverage:
    """Of so many meets, in how many the interval held the truth, by figure; and how far off it lies."""

    meets: int
    held: Mapping[str, int]
    off: Mapping[str, float]

    def share(self, name: str) -> float:
        return self.held[name] / self.meets


def coverage(design: Mapping[str, Division], meets: int, seed: int = 0) -> Coverage:
    """Over that many meets. A figure without an interval holds nothing."""
    held: Counter[str] = Counter()
    off: dict[str, list[float]] = {}
    for number in range(meets):
        true, found = simulated(design, 1_000_000 * seed + number)
        for name, figure in told(found).items():
            low, high = figure.interval or (2.0, 1.0)
            held[name] += low <= true[name] <= high
            off.setdefault(name, []).append((figure.value or 0.0) - true[name])
    return Coverage(
        meets, {name: held[name] for name in off}, {name: fmean(own) for name, own in off.items()}
    )
