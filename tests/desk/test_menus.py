"""Menus are opened and chosen from by letters, each of which means one thing."""

import pytest
from hypothesis import given
from hypothesis import strategies as some
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QMenu

from reviewer import actions
from reviewer.desk.commanding import lettered
from reviewer.desk.keys import MENUS
from reviewer.desk.window import DeskWindow
from reviewer.words import saying
from tests.desk.conftest import until

Key, Held = Qt.Key, Qt.KeyboardModifier


def letters(titles: list[str]) -> list[str]:
    """The letter of each title that has one."""
    return [one[one.index("&") + 1].lower() for one in titles if "&" in one]


@given(some.lists(some.text(alphabet="abcäß é…", max_size=8)))
def test_no_letter_is_given_twice_and_no_words_are_lost(words: list[str]) -> None:
    titles = lettered(words)
    given_out = letters(titles)
    assert len(given_out) == len(set(given_out))
    assert [one.replace("&", "") for one in titles] == words


@pytest.mark.parametrize("language", ["en", "de"])
def test_every_menu_and_almost_everything_in_one_has_a_letter(language: str) -> None:
    say = saying(language)
    assert len(letters(lettered([say.word(one) for one in MENUS]))) == len(MENUS)
    for menu in MENUS:
        words = [say.word(one.says) for one in actions.keyboard().uses if one.under == menu]
        assert len(letters(lettered(words))) >= min(len(words), 20)


def test_alt_and_its_letter_open_a_menu(desk: DeskWindow) -> None:
    bar = desk.menuBar()
    assert bar is not None
    first = bar.actions()[0]
    key = Key(ord(letters([first.text()])[0].upper()))
    QTest.keyClick(desk.evidence, key, Held.AltModifier)
    menu = first.menu()
    assert isinstance(menu, QMenu)
    until(menu.isVisible)
    QTest.keyClick(menu, Key.Key_Escape)
    until(lambda: QApplication.activePopupWidget() is None)
