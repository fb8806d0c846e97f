"""A reading held against a limit: the word in whole numbers, the probabilities for display only.

Probabilities of conformity after JCGM 106:2012, section 7; the guard band after section 8.
"""

from statistics import NormalDist

from reviewer.terms.exact import Degrees
from reviewer.terms.readings import Requirement, Verdict

GUARD_PER_MILLE = 1645
"""One-sided 95 %: the guard band is 1.645 standard uncertainties (JCGM 106)."""


def verdict(
    value: Degrees,
    uncertainty: Degrees | None,
    requirement: Requirement,
    guard_per_mille: int = GUARD_PER_MILLE,
) -> Verdict:
    """Whether a cast reached its limit. The edges belong to the better side; no uncertainty means exact."""
    spread = uncertainty or Degrees(0)
    met, edge = requirement.at_least, requirement.at_least - requirement.tolerance
    above, below = _above(value, spread, met), _above(value, spread, edge)
    return Verdict(
        word=_word(value, spread, met, edge, guard_per_mille),
        met=f"{above:.4f}",
        within=f"{below - above:.4f}",
        not_met=f"{1 - below:.4f}",
        rule=_rule(requirement, guard_per_mille),
    )


def _word(value: Degrees, spread: Degrees, met: Degrees, edge: Degrees, guard: int) -> str:
    """Compared in millionths of a degree, so that nothing is rounded."""
    low, high = (value.thousandths * 1000 + sign * guard * spread.thousandths for sign in (-1, 1))
    if low >= met.thousandths * 1000:
        return "met"
    if low >= edge.thousandths * 1000 and high < met.thousandths * 1000:
        return "within tolerance"
    return "not met" if high < edge.thousandths * 1000 else "cannot tell"


def _above(value: Degrees, spread: Degrees, limit: Degrees) -> float:
    if not spread:
        return 1.0 if value >= limit else 0.0
    return NormalDist().cdf((value.thousandths - limit.thousandths) / spread.thousandths)


def _rule(requirement: Requirement, guard: int) -> str:
    return (
        f"At least {requirement.at_least} degrees, "
        f"tolerated to {requirement.at_least - requirement.tolerance}; "
        f"a side is decided when the reading lies {Degrees(guard)} standard uncertainties clear of the limit."
    )
