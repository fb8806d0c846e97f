"""Two sheets of one routine held against each other, thing by thing: agreed, otherwise, only in one."""

from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from reviewer.auditing.matching import WITHIN_MS, Matched, match
from reviewer.auditing.saying import DECIDED, Consequences, Otherwise, otherwise
from reviewer.auditing.sides import Side
from reviewer.auditing.taking import UNMOVED, Moves, Taking, Trial
from reviewer.terms.exact import Points
from reviewer.terms.sheets import Line, ScoreSheet

AGREED, DIFFERS, ONLY = "agreed", "differs", "only-in-one"
"""What two sheets may say of a thing."""


@dataclass(frozen=True, slots=True)
class Thing:
    """An element, fault or fact as two sheets have it.

    Attributes:
        matched: its marks.
        state: `AGREED`, `DIFFERS` or `ONLY`.
        differs: what both say otherwise.
        points: what the lines that name it move on each sheet, of all judges together.
        moves: how far each sheet's score would move if the other's view were taken; None where it cannot be
            scored there.
        only_slowed: whether only slow motion shows what the sheets do not agree on here.
    """

    matched: Matched
    state: str
    differs: tuple[Otherwise, ...]
    points: tuple[Points, Points]
    moves: tuple[Moves | None, Moves | None]
    only_slowed: bool


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two sheets compared.

    Attributes:
        sheets: both.
        things: in the order of the routine.
        start_lines: lines of the start value that only one sheet has, by clause and points: the place of the
            sheet, 0 or 1, and the line.
    """

    sheets: tuple[ScoreSheet, ScoreSheet]
    things: tuple[Thing, ...]
    start_lines: tuple[tuple[int, Line], ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs, and both scores are the same."""
        first, second = ((one.start_value, one.final_score) for one in self.sheets)
        return first == second and all(one.state == AGREED for one in self.things)

    def one_by_one(self, number: int) -> Points:
        """What the final score of the sheet at a place moves by, every thing taken alone, added up."""
        moves = (one.moves[number] for one in self.things)
        return Points(sum(one.final_score.thousandths for one in moves if one))


def compare(first: Side, second: Side, trials: tuple[Trial, Trial], within_ms: int = WITHIN_MS) -> Comparison:
    """Hold two sheets against each other; ``trials`` are the marks of each, in its edition."""
    matched = match(first, second, within_ms)
    takings = [Taking(matched, number, (first, second), trials[number]) for number in (0, 1)]
    made = Consequences.of(first.sheet), Consequences.of(second.sheet)
    panels_alike = len(first.letters) == len(second.letters)
    things = tuple(_thing(one, made, takings, within_ms, panels_alike) for one in matched)
    return Comparison((first.sheet, second.sheet), things, tuple(_start_lines(first.sheet, second.sheet)))


def _thing(
    matched: Matched,
    made: tuple[Consequences, Consequences],
    takings: Sequence[Taking],
    within_ms: int,
    panels_alike: bool,
) -> Thing:
    points = made[0].moved(matched.first), made[1].moved(matched.second)
    in_both = matched.first is not None and matched.second is not None
    differs = tuple(otherwise(matched, made, within_ms))
    if in_both and not differs and panels_alike and points[0] != points[1]:
        differs = (Otherwise("points", str(points[0]), str(points[1])),)
    state = ONLY if not in_both else DIFFERS if differs else AGREED
    decided = not in_both or any(one.what in DECIDED for one in differs)
    moves = (takings[0].moves(matched), takings[1].moves(matched)) if decided else (UNMOVED, UNMOVED)
    slowed = all(one.mark.seen == "slowed" for one in (matched.first, matched.second) if one)
    return Thing(matched, state, differs, points, moves, slowed and state != AGREED)


def _start_lines(first: ScoreSheet, second: ScoreSheet) -> Iterator[tuple[int, Line]]:
    """Which requirement or value part makes the start values differ."""
    for number, (own, other) in enumerate(((first, second), (second, first))):
        left = Counter((one.clause, one.points) for one in _starting(other))
        for line in _starting(own):
            if left[line.clause, line.points]:
                left[line.clause, line.points] -= 1
            else:
                yield number, line


def _starting(sheet: ScoreSheet) -> Iterator[Line]:
    return (line for line in sheet.lines if line.stage == "start-value")
