"""Makes the pictures of the desk's user guide: the real window on an X server, driven by keys and mouse.

From the root of the repository: ``python -m tests.desk.picturing [FOLDER [LANGUAGE [NAME ...]]]``.
Without a folder they take the place of the guide's own.
"""

import os
import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from PIL import Image
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QDialog, QPushButton, QSplitter, QWidget

from reviewer import actions
from reviewer.desk.application import dressed_application
from reviewer.desk.books import RuleBookForm
from reviewer.desk.helping import FOLDER
from reviewer.desk.inquiries import InquiriesPage
from reviewer.desk.looks import LIGHT
from reviewer.desk.window import DeskWindow
from reviewer.drawing import PALETTE
from reviewer.words import ENGLISH, saying
from tests.desk.conftest import SQUARE_ON, started_server, until
from tests.desk.hands import call, go, press, shows
from tests.desk.test_protractor_work import cast, place_all, step
from tests.desk.test_rule_book_form import row, say_where_from, search, type_over

Key, Held = Qt.Key, Qt.KeyboardModifier
SIZE, PAGE = (1100, 720), (1100, 640)
"""Of the window, and of a page beside it, in pixels."""
SETTLES_MS = 800
COLOURS = 220
FALL = SQUARE_ON.with_name("off-axis-fall.mp4")
START, STANDS, WAITS = 21, 186, 240
"""Frames of the fall's recording: her cast begins, she stands on her feet, she has not gone on yet."""


def main(arguments: list[str]) -> int:
    """Make them all; exit code of the command."""
    folder, language = (Path(arguments[0]) if arguments else FOLDER), (arguments[1:] or [ENGLISH])[0]
    server, os.environ["DISPLAY"] = started_server((1280, 900))
    os.environ["QT_QPA_PLATFORM"] = "xcb"
    try:
        with TemporaryDirectory() as own:
            os.environ["REVIEWER_SETTINGS"] = f"{own}/settings.toml"
            os.environ["REVIEWER_DESK"] = f"{own}/desk.json"
            application = dressed_application()
            for name, shown in PICTURES.items():
                if len(arguments) > 2 and name not in arguments[2:]:
                    continue
                with _desk(language) as desk:
                    _keep(shown(desk, Path(own)), folder / f"{name}.png")
            del application
    finally:
        server.terminate()
        server.wait()
    return 0


@contextmanager
def _desk(language: str) -> Iterator[DeskWindow]:
    """An empty desk of the size of the pictures."""
    desk = DeskWindow("A", say=saying(language))
    desk.resize(*SIZE)
    desk.show()
    QTest.qWaitForWindowExposed(desk)
    desk.activateWindow()
    QTest.qWaitForWindowActive(desk)
    try:
        yield desk
    finally:
        desk.close()


def _keep(shown: QWidget, path: Path) -> None:
    """What a window shows, as a small file without anything in it but the picture."""
    QTest.qWait(SETTLES_MS)
    QApplication.processEvents()
    path.parent.mkdir(parents=True, exist_ok=True)
    shown.grab().save(str(path))
    with Image.open(path) as picture:
        few = _of_few_colours(picture.convert("RGB"))
    few.save(path, optimize=True)


def _of_few_colours(picture: Image.Image) -> Image.Image:
    """The picture in its own commonest colours, and in those that the desk gives a meaning."""
    common = picture.quantize(COLOURS, kmeans=3, dither=Image.Dither.NONE).getpalette() or []
    meant = [*LIGHT.values(), *(pen.colour for pen in PALETTE.values())]
    palette = Image.new("P", (1, 1))
    palette.putpalette(common[: 3 * COLOURS] + [value for one in meant for value in bytes.fromhex(one[1:])])
    return picture.quantize(palette=palette, dither=Image.Dither.NONE)


def _demo(desk: DeskWindow) -> None:
    press(desk, Key.Key_F2)
    until(lambda: desk.bench.audit is not None and desk.bench.picture is not None)
    QTest.qWait(SETTLES_MS)


def _begun(desk: DeskWindow, folder: Path, recording: Path) -> None:
    """A case without marks on a recording."""
    path = folder / f"{recording.stem}-{len(list(folder.iterdir()))}.case"
    begun = actions.start_case(
        path, author="A", athlete_code="G-07", consent="given", rule_book="demo-bars-2", recording=recording
    )
    begun.close()
    desk.open_case(path, None)
    until(lambda: desk.bench.picture is not None)


def _whole(desk: DeskWindow, folder: Path) -> QWidget:
    _demo(desk)
    press(desk, Key.Key_Down, times=6)
    _arrived(desk)
    return desk


def _arrived(desk: DeskWindow) -> None:
    """The frame of the chosen mark is on the screen."""
    until(lambda: shows(desk, actions.frames_shown(desk.bench.on_desk(), desk.bench.chosen)[0].frame))


def _typing(desk: DeskWindow, folder: Path) -> QWidget:
    _demo(desk)
    press(desk, Key.Key_Down, times=3)
    _arrived(desk)
    press(desk, Key.Key_Return)
    QTest.keyClicks(QApplication.focusWidget() or desk, "arms")
    return desk


def _fall(desk: DeskWindow, folder: Path) -> QWidget:
    _begun(desk, folder, FALL)
    for frame, words in ((START, "cast met"), (59, "back-hip-circle"), (100, "fall")):
        go(desk, frame)
        call(desk, words)
    go(desk, STANDS)
    press(desk, Key.Key_U)
    go(desk, WAITS)
    return desk


def _protractor(desk: DeskWindow, folder: Path) -> QWidget:
    _begun(desk, folder, SQUARE_ON)
    go(desk, cast()["start_frame"])
    call(desk, "cast")
    step(desk, cast()["top_frame"] - 2)
    press(desk, Key.Key_P)
    QTest.qWait(SETTLES_MS)
    place_all(desk)
    press(desk, Key.Key_Backspace)  # no point in hand any more, so nothing is shown close up
    press(desk, Key.Key_Space)
    return desk


def _curve(desk: DeskWindow, folder: Path) -> QWidget:
    _protractor(desk, folder)
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60.0)
    return desk


def _sheet(desk: DeskWindow, folder: Path) -> QWidget:
    _demo(desk)
    across = desk.findChild(QSplitter, "across")
    assert across is not None
    across.setSizes([260, 240, 600])
    _keys(desk, "Ctrl+L")
    press(desk, Key.Key_Down, times=[row.kind for row in desk.argument.rows].index("line") + 1)
    press(desk, Key.Key_W)
    until(lambda: QApplication.activePopupWidget() is not None)
    menu = QApplication.activePopupWidget()
    QTest.keyClick(menu, Key.Key_Down)
    QTest.keyClick(menu, Key.Key_Return)
    return desk


def _inquiry(desk: DeskWindow, folder: Path) -> QWidget:
    _demo(desk)
    _keys(desk, "Ctrl+E")
    QTest.keyClicks(QApplication.focusWidget() or desk, "9.350")
    press(desk, Key.Key_Return)
    page = _page(desk, "Ctrl+I")
    assert isinstance(page, InquiriesPage)
    type_over(page.about.lineEdit() or page.about, desk.bench.say.word("falls"))
    QTest.keyClicks(page.after, "45 s")
    QTest.keyClicks(page.words, "Was the step on landing counted as a fall?")
    _button(page, desk.bench.say("File it"))
    QTest.keyClick(page.finding, Key.Key_Down)
    QTest.keyClicks(page.said, "She took one step; only her feet touched the floor.")
    _button(page, desk.bench.say("Answer {inquiry}", inquiry="").strip())
    return page


def _rule_book(desk: DeskWindow, folder: Path) -> QWidget:
    _begun(desk, folder, SQUARE_ON)
    form = _page(desk, "Ctrl+B")
    assert isinstance(form, RuleBookForm)
    os.chdir(folder)  # so that no folder of this machine is named
    type_over(form.parts.copying.id, "club-3")
    type_over(form.parts.copying.file, "club-3.yaml")
    press(desk, Key.Key_Return)
    search(form, "fault.hop")
    type_over(row(form, "up-to").edit, "0.200")
    press(desk, Key.Key_Return)
    say_where_from(form)
    return form


def _keys(desk: DeskWindow, sequence: str) -> None:
    QTest.keyClick(QApplication.focusWidget() or desk, Key[f"Key_{sequence[-1]}"], Held.ControlModifier)


def _page(desk: DeskWindow, sequence: str) -> QDialog:
    _keys(desk, sequence)
    until(lambda: bool(desk.findChildren(QDialog)))
    page = desk.findChildren(QDialog)[-1]
    page.resize(*PAGE)
    QTest.qWait(SETTLES_MS)
    return page


def _button(page: QWidget, words: str) -> None:
    button = next(one for one in page.findChildren(QPushButton) if one.text().startswith(words))
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


PICTURES: Mapping[str, Callable[[DeskWindow, Path], QWidget]] = {
    "whole": _whole,
    "typing": _typing,
    "fall": _fall,
    "protractor": _protractor,
    "curve": _curve,
    "sheet": _sheet,
    "inquiry": _inquiry,
    "rulebook": _rule_book,
}

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
