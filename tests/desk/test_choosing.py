"""Asking for a file where the computer has no dialog of its own: in the desk's look, by keys."""

from pathlib import Path

import pytest
from PyQt6.QtCore import QFileInfo
from PyQt6.QtWidgets import QApplication, QFileDialog, QToolButton

from reviewer.desk.choosing import Signs
from reviewer.desk.looks import LOOKS, dress
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import SQUARE_ON, until
from tests.desk.hands import Hands, Key, when_asked


def test_a_recording_is_found_by_keys_in_a_dialog_of_the_desks_look(window: DeskWindow) -> None:
    hands, signs = Hands(window), []

    def type_it() -> None:
        asked = QApplication.activeModalWidget()
        assert isinstance(asked, QFileDialog)
        shown = [one for one in asked.findChildren(QToolButton) if one.isVisible()]
        signs.extend(one.text() for one in shown if one.icon().isNull())
        assert len(signs) == len(shown), "no pictures of another look"
        hands.type(str(SQUARE_ON))
        hands.key(Key.Key_Return)

    when_asked(type_it)
    hands.sequence("Ctrl+O")
    until(lambda: window.bench.picture is not None)
    assert window.bench.recording == SQUARE_ON
    assert len(signs) == 3


@pytest.mark.parametrize("look", LOOKS)
def test_a_folder_and_a_file_have_signs_of_their_own_in_the_ink_of_the_look(
    application: QApplication, look: str, tmp_path: Path
) -> None:
    dress(application, look, 100)
    file = tmp_path / "routine.case"
    file.touch()
    drawn = [Signs().icon(QFileInfo(str(one))).pixmap(32, 32).toImage() for one in (tmp_path, file)]
    dress(application, "light", 100)
    shades = {image.pixelColor(x, y).name() for image in drawn for x in range(32) for y in range(32)}
    assert drawn[0] != drawn[1]
    assert LOOKS[look]["ink"].lower() in shades
