"""Pictures of the desk as it stands in front of a judge, to be looked at one by one.

``python -m tests.desk.screens FOLDER [NAME ...]`` makes a picture of each screen named below, or of those
named. Each has a process, an X server and settings of its own.
"""

import os
import re
import subprocess
import sys
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from PyQt6.QtTest import QTest

from reviewer import actions
from reviewer.desk.application import dressed_application
from reviewer.desk.looks import dress
from reviewer.desk.meets import MeetPage
from reviewer.desk.window import DeskWindow
from reviewer.words import saying
from tests.actions.drawn_meet import draw_meet
from tests.desk.conftest import SQUARE_ON, started_server

PORTRAIT = SQUARE_ON.with_name("off-axis-fall.mp4")
EDITIONS = Path(__file__).parents[2] / "reviewer" / "rules" / "editions"
SETTLES_MS = 700
"""Longer than a picture, its small ones and a tool tip's absence need."""
Step = Callable[[DeskWindow, Path], object]


@dataclass(frozen=True, slots=True)
class Screen:
    """What is shown, and on what.

    Attributes:
        steps: done to an empty desk, one after the other, with a folder that is theirs.
        size: of the X server and of the window, in pixels of the screen.
        scale: pixels of the screen to one of the desk.
        look, text_size, language: as settings would have them.
    """

    steps: tuple[Step, ...] = ()
    size: tuple[int, int] = (1280, 720)
    scale: str = "1"
    look: str = "light"
    text_size: int = 100
    language: str = "en"


def _demo(window: DeskWindow, folder: Path) -> None:
    window._doings["demo"]()


def _portrait(window: DeskWindow, folder: Path) -> None:
    window.open_recording(PORTRAIT)


def _long_names(window: DeskWindow, folder: Path) -> None:
    """The demo case scored by an edition whose names have sixty letters."""
    book = folder / "long.yaml"
    text = (EDITIONS / "demo-bars-2.yaml").read_text(encoding="utf-8")
    book.write_text(re.sub(r"(?m)^(\s*-?\s*name: )(.*)$", _longer, text), encoding="utf-8")
    begun = actions.start_case(
        folder / "long.case",
        author="A",
        athlete_code="athlete-0000000000-1",
        consent="given",
        rule_book=str(book),
        recording=SQUARE_ON,
    )
    begun.close()
    window.open_case(folder / "long.case", None)


def _longer(line: re.Match[str]) -> str:
    words = line[2].strip("\"'")
    return f'{line[1]}"{(words + " in all circumstances that may be thought of at a meet")[:60]}"'


def _calls(window: DeskWindow, folder: Path) -> None:
    for call in ("pullover mount", "cast met", "arms-bent 0.1", "cast -52"):
        window._spoken(call)


def _read_only(window: DeskWindow, folder: Path) -> None:
    """The demo case while somebody else writes to it."""
    path = actions.fresh_demo()
    held = actions.open_case(path, author="B")
    window.open_case(path, None)
    held.close()


def _choose(window: DeskWindow, folder: Path) -> None:
    casts = [mark for mark in window.bench.marks if window.bench.is_cast(mark)]
    window.bench.choose((casts[0].id,) if casts else (), show=True)


def _meet(window: DeskWindow, folder: Path) -> None:
    """The page of a meet of sixty routines, of which some are given out."""
    draw_meet(folder / "meet", 60, 12, by="division")
    actions.assign(folder / "meet", actions.Wish(("L", "M"), "spring", double=2))
    window._doings["meet"]()
    page = window.findChildren(MeetPage)[-1]
    page.folder.setText(str(folder / "meet"))
    page.look()


def _of_meet(name: str) -> Step:
    """One of the forms of its page."""
    return lambda window, _: getattr(window.findChildren(MeetPage)[-1], name)()


def _doing(name: str) -> Step:
    return lambda window, _: window._doings[name]()


DEMO = (_demo, _choose)
MEET = (1400, 900)
FORMS: dict[str, dict[str, Any]] = {
    "": {},
    "-dark-200": {"look": "dark", "text_size": 200},
    "-german": {"language": "de"},
    "-german-200": {"language": "de", "text_size": 200},
}
SCREENS = {
    "empty": Screen(),
    "demo": Screen(DEMO),
    "dark": Screen(DEMO, look="dark"),
    "words-150": Screen(DEMO, text_size=150),
    "words-200": Screen(DEMO, text_size=200),
    "words-200-dark-guide": Screen((_demo,), text_size=200, look="dark"),
    "words-300": Screen(DEMO, (1920, 1080), text_size=300),
    "projector": Screen(DEMO, (1920, 1080), text_size=200),
    "projector-scaled": Screen(DEMO, (1920, 1080), scale="2"),
    "scale-1.5": Screen(DEMO, (1920, 1080), scale="1.5"),
    "scale-2": Screen(DEMO, (2560, 1440), scale="2"),
    "portrait": Screen((_portrait,)),
    "long-names": Screen((_long_names, _calls)),
    "read-only": Screen((_read_only, _choose)),
    "protractor": Screen((*DEMO, _doing("protractor"))),
    "protractor-200": Screen((*DEMO, _doing("protractor")), text_size=200),
    "covers": Screen((*DEMO, _doing("cover-heads"))),
    "covers-dark-200": Screen((*DEMO, _doing("cover-heads")), look="dark", text_size=200),
    "table": Screen((*DEMO, _doing("as-table"))),
    "table-dark-200": Screen((*DEMO, _doing("as-table")), look="dark", text_size=200),
    "meet": Screen((_meet,), MEET),
    "meet-dark-200": Screen((_meet,), MEET, look="dark", text_size=200),
    "meet-german": Screen((_meet,), MEET, language="de"),
    **{
        f"meet-{name}{also}": Screen((_meet, _of_meet(step)), MEET, **how)
        for name, step in (("begin", "begin"), ("give", "give_out"), ("bags", "carry"))
        for also, how in FORMS.items()
    },
}


def main(arguments: list[str]) -> int:
    """Make the pictures, each in a process of its own."""
    folder, names = Path(arguments[0]), arguments[1:] or list(SCREENS)
    folder.mkdir(parents=True, exist_ok=True)
    codes = [_made(name, folder / f"{name}.png") for name in names]
    return max(codes, default=0)


def _made(name: str, picture: Path) -> int:
    screen = SCREENS[name]
    server, display = started_server(screen.size)
    try:
        with TemporaryDirectory() as own:
            environment = {
                **os.environ,
                "DISPLAY": display,
                "QT_QPA_PLATFORM": "xcb",
                "QT_SCALE_FACTOR": screen.scale,
                "REVIEWER_SETTINGS": f"{own}/settings.toml",
                "REVIEWER_DESK": f"{own}/desk.json",
            }
            program = f"from tests.desk.screens import show; show({name!r}, {own!r}, {str(picture)!r})"
            return subprocess.run([sys.executable, "-c", program], env=environment).returncode
    finally:
        server.terminate()
        server.wait()


def show(name: str, own: str, picture: str) -> None:
    """Show one screen in this process, and save what the X server shows."""
    screen = SCREENS[name]
    application = dressed_application()
    dress(application, screen.look, screen.text_size)
    window = DeskWindow("A", say=saying(screen.language), look=(screen.look, screen.text_size))
    window.show()
    QTest.qWaitForWindowExposed(window)
    window.activateWindow()
    for step in screen.steps:
        step(window, Path(own))
        QTest.qWait(SETTLES_MS)
    shown = window.screen()
    assert shown is not None
    room = shown.availableGeometry()
    window.resize(room.width(), room.height())
    window.move(0, 0)
    QTest.qWait(SETTLES_MS)
    if window.width() > room.width() or window.height() > room.height():
        print(f"{name}: the window is {window.size()}, the screen {room.size()}", file=sys.stderr)
    shown.grabWindow(0).save(picture)
    window.close()


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
