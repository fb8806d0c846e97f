"""The audited routines of a meet as columns of numbers, and each figure beside the routines it leads to."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Self

import numpy as np

from reviewer.auditing.intervals import Figure
from reviewer.auditing.meetmeans import mean_and_spread
from reviewer.auditing.meets import AuditedRoutine, Difference, Led, Stratum
from reviewer.auditing.meetshares import share
from reviewer.auditing.strata import Draw, Names, Real, Yes, farthest
from reviewer.terms.exact import Points
from reviewer.terms.messages import noted

CHOSEN = noted("The routines were not drawn by lot: this describes them alone.")

Two = tuple[Points | None, Points]
"""What was posted, if it was, and what was audited."""


@dataclass(frozen=True, slots=True)
class Sample:
    """Audited routines, in an order that does not depend on that in which they were handed in.

    Attributes:
        rows: the routines.
        names: of each its name.
        draw: which were drawn from where; of routines not drawn by lot, one stratum that is these alone.
        by_lot: whether they were drawn by lot.
        letters: of all judges who scored one of them, in order.
        scores: a row for each routine and a column for each letter, in thousandths; NaN where there is none.
    """

    rows: Sequence[AuditedRoutine]
    names: Names
    draw: Draw
    by_lot: bool
    letters: tuple[str, ...]
    scores: Real

    @classmethod
    def of(cls, rows: Sequence[AuditedRoutine], strata: Sequence[Stratum], by_lot: bool) -> Self:
        """Of routines in order, and the strata they were drawn from."""
        letters = tuple(sorted({letter for one in rows for letter in one.judges}))
        names = np.array([one.name for one in rows], dtype=object)
        return cls(rows, names, _draw(rows, strata, by_lot), by_lot, letters, _scores(rows, letters))

    def yes(self, holds: Callable[[AuditedRoutine], bool]) -> Yes:
        """Of each routine, whether something holds."""
        return np.array([holds(one) for one in self.rows], dtype=bool)

    def thousandths(self, points: Callable[[AuditedRoutine], Points]) -> Real:
        """Of each routine, some points."""
        return np.array([points(one).thousandths for one in self.rows], dtype=float)

    def share(self, told: Yes, found: Yes) -> Led:
        """The share of routines that have something, of those that tell."""
        return Led(self._said(share(self.draw, told, found)), tuple(self.names[told & found]))

    def difference(self, two: Callable[[AuditedRoutine], Two]) -> Difference:
        """Posted less audited, of routines where it was posted."""
        both = [two(one) for one in self.rows]
        away = [np.nan if one is None else (one - other).thousandths for one, other in both]
        return self.away(np.array(away, dtype=float))

    def away(self, thousandths: Real) -> Difference:
        """Of differences, NaN where there is none."""
        told = ~np.isnan(thousandths)
        whole = np.nan_to_num(thousandths).astype(np.int64)
        mean, spread = mean_and_spread(self.draw, told, whole)
        leads = farthest(self.names, whole)
        return Difference(Led(self._said(mean), leads), Led(self._said(spread), leads))

    def _said(self, found: Figure) -> Figure:
        """Without an interval for the meet where the routines cannot speak of it."""
        if self.by_lot or found.value is None:
            return found
        return replace(found, interval=None, why=CHOSEN)


def _draw(rows: Sequence[AuditedRoutine], strata: Sequence[Stratum], by_lot: bool) -> Draw:
    if not by_lot:
        alone = np.array([len(rows)], dtype=np.int64)
        return Draw(np.zeros(len(rows), dtype=np.int64), alone, alone)
    drawn = [one for one in strata if one.audited]
    place = {one.name: number for number, one in enumerate(drawn)}
    return Draw(
        np.array([place[one.stratum] for one in rows], dtype=np.int64),
        np.array([one.audited for one in drawn], dtype=np.int64),
        np.array([one.of for one in drawn], dtype=np.int64),
    )


def _scores(rows: Sequence[AuditedRoutine], letters: tuple[str, ...]) -> Real:
    scores = np.full((len(rows), len(letters)), np.nan)
    column = {letter: place for place, letter in enumerate(letters)}
    for number, one in enumerate(rows):
        for letter, given in one.judges.items():
            scores[number, column[letter]] = given.thousandths
    return scores
