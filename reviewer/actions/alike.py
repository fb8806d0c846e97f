"""Documents held against each other field by field, numbers within what libraries may differ by."""

from collections.abc import Iterator, Mapping
from decimal import Decimal, InvalidOperation
from typing import Any

from reviewer import __version__
from reviewer.reports import Difference, told_apart

WORDS = frozenset({"check", "source", "budget"})
"""Keys whose words another version may put otherwise."""
LATER_KEYS = frozenset({"through", "lens", "doubtful"})
"""Keys of measurements that older cases lack; where one is kept it is held against what derives."""
_WITHIN = (Decimal("0.01"), Decimal("0.0001"))
"""By how much numbers may differ: as such, and as a part of their size. Libraries differ in last digits."""


def differences_of(
    what: str, where: str, stored: Any, derived: Any, *, version: str | None = None
) -> Iterator[Difference]:
    """Every field of a stored document that derives otherwise.

    ``version`` wrote it; where that is another one, words are not held against each other, nor what it did
    not know yet.
    """
    same = version == __version__
    yield from _differences(
        what, where, stored, derived, frozenset() if same else LATER_KEYS, frozenset() if same else WORDS
    )


def _differences(
    what: str, where: str, stored: Any, derived: Any, skipped: frozenset[str], ignored: frozenset[str]
) -> Iterator[Difference]:
    if isinstance(stored, Mapping) and isinstance(derived, Mapping):
        for key in sorted(stored.keys() | derived.keys()):
            if key in ignored or (key not in stored and key in skipped):
                continue
            old, new = stored.get(key), derived.get(key)
            yield from _differences(what, f"{where} {key}", old, new, skipped, ignored)
    elif _is_list(stored) and _is_list(derived) and len(stored) == len(derived):
        for number, (one, other) in enumerate(zip(stored, derived, strict=True), start=1):
            yield from _differences(what, f"{where} {number}", one, other, skipped, ignored)
    elif not _alike(stored, derived):
        yield Difference(what, where, *told_apart(_or_absent(stored), _or_absent(derived)))


def _is_list(one: Any) -> bool:
    return isinstance(one, (list, tuple))


def _alike(stored: Any, derived: Any) -> bool:
    if stored == derived and isinstance(stored, type(derived)):
        return True
    numbers = [_number(one) for one in (stored, derived)]
    if numbers[0] is None or numbers[1] is None:
        return False
    apart, size = abs(numbers[0] - numbers[1]), max(abs(numbers[0]), abs(numbers[1]))
    return apart <= max(_WITHIN[0], _WITHIN[1] * size)


def _number(one: Any) -> Decimal | None:
    """A decimal string as a number; a whole number must be the same and is none here."""
    try:
        found = Decimal(one) if isinstance(one, str) else None
    except InvalidOperation:
        return None
    return found if found is not None and found.is_finite() else None


def _or_absent(one: Any) -> Any:
    return "(absent)" if one is None else one
