"""The guide in the package: every key it names is there, every picture too; F1 shows the same text."""

import re

import pytest
from PyQt6.QtCore import QPoint, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QPushButton

from reviewer import actions
from reviewer.desk.helping import FOLDER, guide_text
from reviewer.desk.keyform import KeyForm
from reviewer.desk.pages import Page
from reviewer.desk.window import DeskWindow
from reviewer.settings import read_keyboard, shipped_keys
from reviewer.words import LANGUAGES, Saying
from tests.desk.conftest import until
from tests.desk.hands import shows

Key = Qt.Key


def texts() -> list[str]:
    """The guide in each language it is written in."""
    return sorted(path.name for path in FOLDER.glob("*.md"))


@pytest.mark.parametrize("name", texts())
def test_the_guide_names_only_things_that_can_be_done(name: str) -> None:
    named = re.findall(r"\{key:([a-z-]+)\}", (FOLDER / name).read_text(encoding="utf-8"))
    assert set(named) <= {use.does for use in shipped_keys()}
    assert len(named) > 25


@pytest.mark.parametrize("name", texts())
def test_every_picture_of_the_guide_lies_beside_it_and_is_described(name: str) -> None:
    pictures = re.findall(r"!\[([^\]]*)\]\(([^)]+)\)", (FOLDER / name).read_text(encoding="utf-8"))
    assert [file for _, file in pictures if not (FOLDER / file).is_file()] == []
    assert all(len(described) > 10 for described, _ in pictures)


def test_every_language_has_the_guide_with_the_same_keys_and_pictures() -> None:
    assert texts() == sorted(f"{language}.md" for language in LANGUAGES)
    found = [
        sorted(re.findall(r"\{[a-z:-]+\}|\]\([^)]+\)", (FOLDER / name).read_text(encoding="utf-8")))
        for name in texts()
    ]
    assert all(one == found[0] for one in found)


def test_nothing_is_left_to_be_filled_in() -> None:
    text = guide_text(read_keyboard(), Saying())
    assert "{" not in text.replace("\\{", "")
    assert "**Ctrl+O**" in text


def test_f1_shows_the_guide_with_its_pictures(window: DeskWindow) -> None:
    QTest.keyClick(QApplication.focusWidget() or window, Key.Key_F1)
    (page,) = window.findChildren(Page)
    shown = page.text.toPlainText()
    assert "From a recording to a finding" in shown
    assert all(caution in shown for caution in actions.cautions())
    assert page.text.toMarkdown().count("![") >= 8


def test_the_guides_link_leads_to_the_keys(window: DeskWindow) -> None:
    QTest.keyClick(QApplication.focusWidget() or window, Key.Key_F1)
    (page,) = window.findChildren(Page)
    page.text.setFocus()
    until(page.text.hasFocus)
    QTest.keyClick(page.text, Key.Key_Tab)
    QTest.keyClick(page.text, Key.Key_Return)
    shown = page.text.cursorForPosition(QPoint(12, 6)).block().text()
    assert shown == "Keys"


def test_a_key_is_changed_at_the_desk_and_holds_at_once(desk: DeskWindow) -> None:
    desk._doings["keys-page"]()
    (form,) = desk.findChildren(KeyForm)
    at = [use.does for use in desk.bench.keyboard.uses].index("next")
    form.table.selectRow(at)
    form.pressed.setFocus()
    QTest.keyClick(form.pressed, Key.Key_D)
    press_button(form, "Only this key")
    assert desk.bench.keyboard.use("next").keys == ("D",)
    form.close()
    desk.evidence.setFocus()
    QTest.keyClick(desk.evidence, Key.Key_D)
    until(lambda: shows(desk, 1))


def test_a_key_that_means_something_else_is_refused_with_both_named(desk: DeskWindow) -> None:
    desk._doings["keys-page"]()
    (form,) = desk.findChildren(KeyForm)
    form.table.selectRow([use.does for use in desk.bench.keyboard.uses].index("next"))
    form.pressed.setFocus()
    QTest.keyClick(form.pressed, Key.Key_T)
    press_button(form, "Only this key")
    assert "would do two things" in form.told.text()
    assert desk.bench.keyboard.use("next").keys == ("Right",)


def press_button(form: KeyForm, words: str) -> None:
    """Press a button by its words."""
    (button,) = (one for one in form.findChildren(QPushButton) if one.text() == words)
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)
