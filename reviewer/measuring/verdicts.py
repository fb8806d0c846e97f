"""A reading held against a limit: the word in whole numbers, the probabilities for display only.

Probabilities of conformity after JCGM 106:2012, section 7; the guard band after section 8.
"""

from statistics import NormalDist

from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import tenths, tenths_up
from reviewer.terms.readings import Reading, Requirement, Verdict

GUARD_PER_MILLE = 1645
"""One-sided 95 %: the guard band is 1.645 standard uncertainties (JCGM 106)."""


def verdict(
    value: Degrees,
    uncertainty: Degrees | None,
    requirement: Requirement,
    guard_per_mille: int = GUARD_PER_MILLE,
    *,
    doubtful: bool = False,
) -> Verdict:
    """Whether a cast reached its limit; no uncertainty means exact.

    Of what is ``doubtful`` as a whole, such as a reading whose joints cannot be those of a body, nothing can
    be told.
    """
    spread = uncertainty or Degrees(0)
    met, edge = requirement.at_least, requirement.at_least - requirement.tolerance
    above = _above(value, spread, met, requirement.reached_at)
    below = _above(value, spread, edge, requirement.tolerated_at)
    return Verdict(
        word="cannot tell" if doubtful else _word(value, spread, requirement, guard_per_mille),
        met=f"{above:.4f}",
        within=f"{below - above:.4f}",
        not_met=f"{1 - below:.4f}",
        rule=_rule(requirement, clear_by(spread, guard_per_mille)),
    )


def held_against(reading: Reading, requirement: Requirement, guard_per_mille: int) -> Verdict:
    """The verdict on a reading."""
    doubtful = reading.calibration.doubtful
    return verdict(reading.value, reading.uncertainty, requirement, guard_per_mille, doubtful=doubtful)


def _word(value: Degrees, spread: Degrees, requirement: Requirement, guard: int) -> str:
    """Compared in millionths of a degree, so that nothing is rounded."""
    low, high = (value.thousandths * 1000 + sign * guard * spread.thousandths for sign in (-1, 1))
    met = _least(requirement.at_least, requirement.reached_at)
    edge = _least(requirement.at_least - requirement.tolerance, requirement.tolerated_at)
    if low >= met:
        return "met"
    if low >= edge and high < met:
        return "within tolerance"
    return "not met" if high < edge else "cannot tell"


def _least(limit: Degrees, included: bool) -> int:
    """The least millionths of a degree on the better side."""
    return limit.thousandths * 1000 + (0 if included else 1)


def _above(value: Degrees, spread: Degrees, limit: Degrees, included: bool) -> float:
    if not spread:
        return 1.0 if value > limit or (included and value == limit) else 0.0
    return NormalDist().cdf((value.thousandths - limit.thousandths) / spread.thousandths)


def clear_by(uncertainty: Degrees, guard_per_mille: int) -> Degrees:
    """How far from a limit a value must lie to be told to be on one side, rounded up."""
    return Degrees(-(-uncertainty.thousandths * guard_per_mille // 1000))


def _rule(requirement: Requirement, clear: Degrees) -> str:
    beyond, past = (
        "" if owned else " itself excluded" for owned in (requirement.reached_at, requirement.tolerated_at)
    )
    edge = requirement.at_least - requirement.tolerance
    return (
        f"At least {tenths(requirement.at_least)}°{beyond}, tolerated to {tenths(edge)}°{past}; "
        f"decided where the reading is {tenths_up(clear)}° or more from the limit, closer it cannot be told."
    )
