"""A clock that ticks once a call."""

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from itertools import count


def ticking() -> Callable[[], datetime]:
    """Always the same times, a second apart."""
    start, seconds = datetime(2026, 3, 14, 9, 0, tzinfo=UTC), count()
    return lambda: start + timedelta(seconds=next(seconds), microseconds=250)
