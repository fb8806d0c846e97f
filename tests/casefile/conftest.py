"""A case to work on, with a clock that ticks once a call."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

import pytest

from reviewer.casefile import Case, create_case


def ticking() -> Callable[[], datetime]:
    start, seconds = datetime(2026, 3, 14, 9, 0, tzinfo=UTC), count()
    return lambda: start + timedelta(seconds=next(seconds), microseconds=250)


@pytest.fixture
def case_path(tmp_path: Path) -> Path:
    return tmp_path / "routine.case"


@pytest.fixture
def case(case_path: Path) -> Iterator[Case]:
    with create_case(case_path, "judge-1", "G-07", "given", ticking()) as made:
        yield made
