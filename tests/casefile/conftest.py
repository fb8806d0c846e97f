"""A case to work on, with a clock that ticks once a call."""

from collections.abc import Iterator
from pathlib import Path

import pytest

from reviewer.casefile import Case, create_case
from tests.casefile.clocks import ticking


@pytest.fixture
def case_path(tmp_path: Path) -> Path:
    return tmp_path / "routine.case"


@pytest.fixture
def case(case_path: Path) -> Iterator[Case]:
    with create_case(case_path, "judge-1", "G-07", "given", ticking()) as made:
        yield made
