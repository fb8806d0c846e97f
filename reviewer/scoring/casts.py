"""What a cast may count as, decided in whole numbers by the book's guard band."""

from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.rulebook import CastRule

MET, WITHIN, SHORT, NOT_SEEN = "met", "within", "short", "not seen"
_SAID = {
    "met": (MET,),
    "within tolerance": (WITHIN,),
    "not met": (SHORT,),
    "cannot tell": (MET, WITHIN, SHORT),
    "not seen": (NOT_SEEN,),
}


def cast_states(mark: Mark, rule: CastRule) -> tuple[str, ...]:
    """Every state the judge's angle or verdict leaves open, the gymnast's best first.

    A cast of which nothing was said is one that cannot be told.
    """
    angle = mark.angle
    if angle is None:
        return _SAID["cannot tell"]
    if angle.verdict is not None:
        return _SAID[angle.verdict]
    return _by_value(angle, rule)


def _by_value(angle: CastAngle, rule: CastRule) -> tuple[str, ...]:
    """Compared in millionths of a degree, nothing rounded; the book says which side owns each edge."""
    assert angle.value is not None
    spread = angle.uncertainty.thousandths * rule.guard_per_mille if angle.uncertainty else 0
    low, high = angle.value.thousandths * 1000 - spread, angle.value.thousandths * 1000 + spread
    met = _least(rule.at_least.thousandths, rule.limit.edge_included)
    edge = _least((rule.at_least - rule.tolerance.below).thousandths, rule.tolerance.edge_included)
    possible = ((MET, high >= met), (WITHIN, low < met and high >= edge), (SHORT, low < edge))
    return tuple(state for state, open_ in possible if open_)


def _least(limit: int, included: bool) -> int:
    """The least millionths of a degree on the better side of a limit in thousandths."""
    return limit * 1000 if included else limit * 1000 + 1
