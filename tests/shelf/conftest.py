"""A folder of drawn cases, made once a run; tests that change a folder make their own."""

from pathlib import Path

import pytest

from tests.shelf.drawn_cases import draw_cases


@pytest.fixture(scope="session")
def evening(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Forty-five routines of one evening after the other."""
    return draw_cases(tmp_path_factory.mktemp("evening"), 45)
