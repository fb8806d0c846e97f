"""The demo's report, made once; and a browser to look at it with."""

import json
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions


@pytest.fixture(scope="session")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with the demo's recording, case and report."""
    folder = tmp_path_factory.mktemp("reported")
    actions.run_demo(folder)
    return folder


@pytest.fixture(scope="session")
def finding(demo: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((demo / "report" / "report.json").read_bytes())
    return found
