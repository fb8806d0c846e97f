"""The desk as another program hears it: Qt's own bridge, AT-SPI over D-Bus, a process of its own.

Source: freedesktop.org, AT-SPI 2 interfaces ``org.a11y.atspi.Accessible`` and ``org.a11y.atspi.Table``.
"""

import json
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

LAUNCHERS = ("/usr/libexec/at-spi-bus-launcher", "/usr/lib/at-spi2-core/at-spi-bus-launcher")
ROOT = Path(__file__).parents[2]


@pytest.fixture(scope="module")
def heard(screen: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> Any:
    """What a listener was told of the demo case."""
    if shutil.which("dbus-run-session") is None:
        pytest.skip("there is no dbus-run-session to start a bus with")
    if not any(Path(one).exists() for one in LAUNCHERS):
        pytest.skip("at-spi2-core is not installed")
    own = tmp_path_factory.mktemp("own")
    settings = {"REVIEWER_SETTINGS": f"{own}/settings.toml", "REVIEWER_DESK": f"{own}/desk.json"}
    done = subprocess.run(
        ["dbus-run-session", "--", sys.executable, "-m", "tests.desk.listening"],
        env={**screen, **settings},
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=120,
    )
    assert done.returncode == 0, done.stderr
    return json.loads(next(line for line in done.stdout.splitlines() if line.startswith("{")))


def described(heard: Any, name: str) -> str:
    """What is said of the thing of a name."""
    return str(next(one["description"] for one in heard["things"] if one["name"] == name))


def test_the_score_and_how_sure_it_is_are_heard(heard: Any) -> None:
    assert described(heard, "Final score") == "Final score 9.650"
    assert described(heard, "Reachable scores") == "From 9.350 to 9.750, the marks at 9.650."


def test_the_frame_on_the_screen_is_heard_at_the_picture_and_beneath_it(heard: Any) -> None:
    assert described(heard, "Picture") == "Frame 0 at 0.000 s"
    assert described(heard, "Frame on screen").startswith("Frame 0 of 825")


def test_every_line_of_the_sheet_is_heard_whole(heard: Any) -> None:
    lines = heard["tables"]["Lines of the score sheet"]
    arms = next(line for line in lines if line[2].startswith("Arms bent."))
    assert arms[0] == "−0.10"
    assert "arms-bent m6 on cast m5, frame 346" in arms[2]


def test_the_routine_is_heard_row_by_row(heard: Any) -> None:
    rows = heard["tables"]["The routine as a table"]
    cast = next(row for row in rows if row[1] == "Cast (cast m2)")
    assert cast[:5] == [
        "element",
        "Cast (cast m2)",
        "236 to 264",
        "7.867 to 8.800 s",
        "−38.2° ± 1.5° (95 %) by protractor",
    ]
    assert [row[0] for row in rows].count("reading") == 3


def test_each_control_has_a_role_and_a_name_or_a_description(heard: Any) -> None:
    worked = ("push button", "check box", "combo box", "text", "table", "menu item")
    controls = [one for one in heard["things"] if one["role"] in worked]
    assert len(controls) > 30
    assert [one for one in controls if not one["name"] and not one["description"]] == []
