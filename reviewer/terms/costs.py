"""What a routine cost, as a coach asks: what surely comes back, what may, and what little holds the rest."""

from dataclasses import dataclass

from reviewer.terms.exact import Points
from reviewer.terms.messages import Message


@dataclass(frozen=True, slots=True)
class Cost:
    """One thing that cost points; every amount is positive.

    Attributes:
        clause: id of the rule-book clause.
        least, most: what those judges took who took it; the same where it is no judge's.
        total: the sum over all judges, by which costs are put in order.
        judges: how many judges took it; 0 where it is no judge's.
        marks: ids of the marks that caused it.
        why: the reason, for people.
    """

    clause: str
    least: Points
    most: Points
    total: Points
    judges: int
    marks: tuple[str, ...]
    why: Message


@dataclass(frozen=True, slots=True)
class Holding:
    """An element without which the start value would be lower by this much; ``element``: id of its mark."""

    element: str
    points: Points


@dataclass(frozen=True, slots=True)
class Costs:
    """Everything a routine lost, each kind with the largest first.

    Attributes:
        certain: losses of the start value: once mended, they come back for certain.
        possible: deductions for execution.
        neutral: taken from the average for what is not execution.
        judges: how many judges' scores there are.
        needed: how many value parts the division asks for; None where it does not count them.
        earned: how many were credited.
        holding: elements on which some of the start value rests alone, in routine order.
    """

    certain: tuple[Cost, ...]
    possible: tuple[Cost, ...]
    neutral: tuple[Cost, ...]
    judges: int
    needed: int | None
    earned: int
    holding: tuple[Holding, ...]

    @property
    def spare(self) -> int | None:
        """How many value parts may be missed before it costs something; negative where some are missing."""
        return None if self.needed is None else self.earned - self.needed
