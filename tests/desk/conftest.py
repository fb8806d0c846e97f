"""A real screen for the desk: Xvfb is started where there is none, and Qt uses its xcb platform."""

import os
import shutil
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import QCoreApplication, QEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.application import dressed_application
from reviewer.desk.window import DeskWindow

SQUARE_ON = Path(__file__).parents[2] / "sample_clips" / "square-on.mp4"


@pytest.fixture(scope="session")
def screen() -> Iterator[dict[str, str]]:
    """The environment of a process that shows windows on a real X server."""
    server = None
    if not os.environ.get("DISPLAY"):
        if shutil.which("Xvfb") is None:
            pytest.skip("there is no screen and no Xvfb to make one")
        server, os.environ["DISPLAY"] = started_server()
    os.environ["QT_QPA_PLATFORM"] = "xcb"
    yield dict(os.environ)
    if server is not None:
        server.terminate()
        server.wait()
        del os.environ["DISPLAY"]
    del os.environ["QT_QPA_PLATFORM"]


def started_server(pixels: tuple[int, int] = (1400, 900)) -> tuple["subprocess.Popen[bytes]", str]:
    """An X server on the first free display; the server itself names it once it answers."""
    reading, writing = os.pipe()
    size = ["-screen", "0", f"{pixels[0]}x{pixels[1]}x24", "-nolisten", "tcp"]
    command = ["Xvfb", "-displayfd", str(writing), *size]
    server = subprocess.Popen(command, pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as answer:
        return server, f":{answer.readline().strip()}"


@pytest.fixture(autouse=True)
def nothing_remembered(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """No settings, keys or memories of the user at this machine."""
    monkeypatch.setenv("REVIEWER_SETTINGS", str(tmp_path / "settings" / "settings.toml"))
    monkeypatch.setenv("REVIEWER_DESK", str(tmp_path / "settings" / "desk.json"))


@pytest.fixture(scope="session")
def application(screen: dict[str, str]) -> QApplication:
    """The one application of the test process."""
    made = dressed_application()
    assert made.platformName() == "xcb"
    return made


@pytest.fixture(scope="session")
def qapp(application: QApplication) -> QApplication:
    """The same application for the library that tests Qt's programs."""
    return application


@pytest.fixture
def window(application: QApplication) -> Iterator[DeskWindow]:
    """An empty desk on the screen, taken away afterwards."""
    shown = DeskWindow("A")
    shown.show()
    assert QTest.qWaitForWindowExposed(shown)
    shown.activateWindow()
    assert QTest.qWaitForWindowActive(shown)
    yield shown
    shown.close()
    shown.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """A case on the square-on sample clip, without marks."""
    path = tmp_path / "evening.case"
    begun = actions.start_case(
        path, author="A", athlete_code="G-07", consent="given", rule_book="demo-bars-2", recording=SQUARE_ON
    )
    begun.close()
    return path


@pytest.fixture
def desk(window: DeskWindow, case: Path) -> DeskWindow:
    """The case on the desk, its first picture on the screen and the keyboard on the picture."""
    window.open_case(case, None)
    until(lambda: window.bench.picture is not None)
    return window


def until(seen: Callable[[], bool], seconds: float = 8.0) -> None:
    """Let the window work until something is seen; fail when it is not in time."""
    end = time.monotonic() + seconds
    while not seen():
        assert time.monotonic() < end, "what was waited for never came"
        QTest.qWait(5)
