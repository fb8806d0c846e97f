"""The program never touches a network: no command, no window. Asked of the kernel and of Python."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from reviewer.cli.program import program
from tests.house.offline import EVENING

ROOT = Path(__file__).resolve().parents[2]
APART = ["unshare", "--map-root-user", "--net"]
"""A network namespace of its own, in which nothing is reachable and every attempt is counted."""


@pytest.fixture(scope="module", autouse=True)
def _may_be_apart() -> None:
    if shutil.which("unshare") is None or subprocess.run([*APART, "true"], check=False).returncode:
        pytest.skip("this machine allows no network namespace")


def tried(does: str, folder: Path, *before: str) -> dict[str, Any]:
    """What was tried of the network while something was done in a folder."""
    own = {name: str(folder / "own" / name.lower()) for name in ("XDG_CACHE_HOME", "XDG_CONFIG_HOME")}
    own |= {"XDG_STATE_HOME": str(folder / "own" / "state"), "PYTHONPATH": str(ROOT)}
    command = [*APART, *before, sys.executable, "-m", "tests.house.offline", does, str(folder)]
    done = subprocess.run(
        command, capture_output=True, text=True, check=False, env=os.environ | own, cwd=ROOT
    )
    assert done.returncode == 0, done.stderr
    found: dict[str, Any] = json.loads(done.stdout.splitlines()[-1])
    return found | {"told": done.stderr}


def test_an_attempt_is_noticed_by_both(tmp_path: Path) -> None:
    """Else the tests below could not fail."""
    found = tried("one connection", tmp_path)
    assert found["python"]
    assert sum(found["kernel"].values()) > 0


def test_every_command_does_its_work_without_a_network(tmp_path: Path) -> None:
    found = tried("commands", tmp_path)
    assert found["python"] == []
    assert set(found["kernel"].values()) == {0}
    assert set(found["codes"]) == set(program.commands) - {"desk"}
    assert "meet" not in found["told"]
    refused = {name for name, code in found["codes"].items() if code == 2}
    assert refused == {"pool"}, found["told"]  # which takes readings that two judges kept at their desks


def test_the_desk_works_without_a_network(tmp_path: Path) -> None:
    """X11 goes over a socket file of this machine, which is no network."""
    if shutil.which("xvfb-run") is None:
        pytest.skip("there is no screen")
    demo = [sys.executable, "-m", "reviewer", "demo", "-o", str(tmp_path / "D"), "--no-window"]
    subprocess.run(demo, check=True, capture_output=True, cwd=ROOT)
    found = tried("desk", tmp_path, "xvfb-run", "-a", "-s", "-nolisten tcp")
    assert found["python"] == []
    assert set(found["kernel"].values()) == {0}


def test_each_command_stands_in_the_evening() -> None:
    named = {line.split()[0] for line in EVENING.splitlines() if line}
    assert named == set(program.commands) - {"desk"}
