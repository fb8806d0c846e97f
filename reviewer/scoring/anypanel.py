"""What a whole panel could have posted of a routine that fewer judges marked.

An audit has one auditor's marks, a posted score the average of a panel, which may lie between the scores that
any one judge can give. So each judge of the panel is let come to whatever the marks allow, and their scores
are averaged as the edition averages them.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from itertools import combinations_with_replacement

from reviewer.scoring.engine import sorted_sound
from reviewer.scoring.outcomes import outcomes
from reviewer.scoring.reaching import nearest, span
from reviewer.scoring.sorting import Sorted
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Range, ScoreSheet

_SIZES = (1, 2, 3, 4)
"""How many judges there may have been where nobody says (common practice, no source)."""


def held_against_panel(
    sheet: ScoreSheet, marks: Sequence[Mark], book: RuleBook, panel: int, posted: Points
) -> tuple[bool | None, Points]:
    """Whether a panel of so many judges can come to a posted final score on a sheet's marks, and the nearest.

    A ``panel`` of nought is one of which nobody says how many they were: a score between the ends to which
    no usual number of judges comes is None then. None, too, where marks were left out of the sheet because
    they cannot be scored.
    """
    sound = sorted_sound(marks, book, tuple(one.judge for one in sheet.judges))
    spans = [one for size in ((panel,) if panel else _SIZES) for one in _spans(sound, book, size)]
    held = (nearest(one, posted) for one in spans)
    reached, near = min(held, key=lambda one: (abs((one[1] - posted).thousandths), one[0] is None))
    inside = any(one.low <= posted <= one.high for one in spans)
    open_ = sheet.problems or (not panel and not reached and inside)
    return (None if open_ else reached), near


def _spans(sound: Sorted, book: RuleBook, size: int) -> Iterator[Range]:
    found = outcomes(sound, book)
    return (span(replace(sound, faults=faults), found, book) for faults in _panels(sound.faults, size))


def _panels(faults: Mapping[str, tuple[Mark, ...]], size: int) -> Iterator[Mapping[str, tuple[Mark, ...]]]:
    """Every way in which the judges of a panel may each have seen what one of those who marked did."""
    for seen in combinations_with_replacement(faults.values(), size):
        yield {str(place): own for place, own in enumerate(seen)}
