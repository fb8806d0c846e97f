"""Score sheets against each other; samples and panels in figures. Looks at nothing but what it is handed."""

from reviewer.auditing.comparing import AGREED, DIFFERS, ONLY, Comparison, Thing, compare
from reviewer.auditing.matching import WITHIN_MS, Matched, match
from reviewer.auditing.saying import seconds
from reviewer.auditing.sides import Side, side
from reviewer.auditing.taking import Moves, Trial

__all__ = [
    "AGREED",
    "DIFFERS",
    "ONLY",
    "WITHIN_MS",
    "Comparison",
    "Matched",
    "Moves",
    "Side",
    "Thing",
    "Trial",
    "compare",
    "match",
    "seconds",
    "side",
]
