"""Two values that differ, told to a person: in words, and cut where they are long."""

from bisect import bisect_left
from collections.abc import Mapping
from typing import Any

MOST = 200
"""Signs of a value that are shown; the rest is counted."""
_BEFORE = 40
"""Signs that stand before the first one in which two long values differ."""


def in_words(value: Any) -> str:
    """A value of a document as a person would say it."""
    if value is None or value in ("", [], {}):
        return "nothing" if value is None else "(empty)"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, Mapping):
        return "; ".join(f"{key}: {in_words(one)}" for key, one in value.items())
    if isinstance(value, (list, tuple)):
        return ", ".join(map(in_words, value))
    return str(value)


def told_apart(old: Any, new: Any) -> tuple[str, str]:
    """Two values that differ, in words; with their kinds where the words alone would be the same."""
    first, second = in_words(old), in_words(new)
    if first != second:
        return first, second
    return f"{first} ({_kind(old)})", f"{second} ({_kind(new)})"


def shortened(old: str, new: str = "") -> tuple[str, str]:
    """Both cut to `MOST` signs where they are longer, at the place where they part; said so."""
    longest = max(len(old), len(new))
    if longest <= MOST:
        return old, new
    parts = bisect_left(range(longest), True, key=lambda place: old[: place + 1] != new[: place + 1])
    start = parts - _BEFORE if parts > MOST - _BEFORE else 0
    return _cut(old, start), _cut(new, start)


def _cut(text: str, start: int) -> str:
    if start == 0 and len(text) <= MOST:
        return text
    shown = text[start : start + MOST]
    before, after = "… " if start else "", " …" if start + MOST < len(text) else ""
    return f"{before}{shown}{after} (cut: {len(text)} signs in all)"


def _kind(value: Any) -> str:
    if isinstance(value, str):
        return "as text"
    if isinstance(value, (Mapping, list, tuple)):
        return "as an object" if isinstance(value, Mapping) else "as a list"
    return "as it is" if value is None or isinstance(value, bool) else "as a number"
