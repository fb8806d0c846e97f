"""How figures of a meet are put in words: shares in hundredths, points with their sign, what they lead to."""

from collections.abc import Callable, Mapping, Sequence
from decimal import Decimal
from typing import Any

from reviewer.reports.blocks import Run, Words, joined, words
from reviewer.reports.composing.view import NOTHING
from reviewer.words import Saying

Told = Callable[[str | None, Saying], str]
"""From decimal text, or None where nothing is defined, to words."""
_SHOWN = 12
"""Routines that a figure names; the rest stands in the table of all."""


def share_words(value: str | None, say: Saying) -> str:
    """A share such as ``0.0421`` as ``4.2 %``."""
    return NOTHING if value is None else say.numbers(f"{Decimal(value) * 100:.1f} %")


def plain_words(value: str | None, say: Saying) -> str:
    """Points, or a number without a unit, with a proper minus."""
    return NOTHING if value is None else say.numbers(value.replace("-", "−"))


def interval_words(led: Mapping[str, Any], told: Told, say: Saying) -> str:
    """Both ends, or why there are none."""
    if led["interval95"] is None:
        return str(say.word(led["why"])) if led["why"] else NOTHING
    low, high = (told(end, say) for end in led["interval95"])
    return say("{low} to {high}", low=low, high=high)


def in_hundredths(led: Mapping[str, Any], say: Saying) -> Words:
    """A multiple, a share or a coefficient in hundredths, and its interval in brackets."""
    interval = interval_words(led, _hundredths, say)
    return words(_hundredths(led["value"], say), " ", Run(f"({interval})", "soft"))


def _hundredths(value: str | None, say: Saying) -> str:
    return plain_words(None if value is None else f"{Decimal(value):.2f}".replace("-0.00", "0.00"), say)


def led_words(routines: Sequence[str], say: Saying) -> Words:
    """The routines that a figure leads to."""
    if not routines:
        return words(NOTHING)
    shown = joined(Run(one, to=f"routine-{one}") for one in routines[:_SHOWN])
    more = len(routines) - _SHOWN
    return shown if more <= 0 else words(shown, say(" and {count} more, in the table below", count=more))
