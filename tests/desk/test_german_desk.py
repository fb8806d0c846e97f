"""The desk in German: all that it says to eye and ear is German, but for codes and what a rule book says."""

import re
from collections.abc import Iterator
from dataclasses import fields, is_dataclass
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from PyQt6.QtCore import QAbstractListModel, QCoreApplication, QEvent, Qt, QTranslator
from PyQt6.QtGui import QAction
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QApplication,
    QComboBox,
    QDialog,
    QLabel,
    QLineEdit,
    QMenu,
    QTextEdit,
    QWidget,
)

from reviewer import actions
from reviewer.actions.books import shipped_books
from reviewer.desk.books.rows import FieldRow
from reviewer.desk.keys import EXAMPLES
from reviewer.desk.qtwords import speak
from reviewer.desk.window import DeskWindow
from reviewer.terms.callwords import words_of as call_words
from reviewer.words import Saying, saying
from tests.desk.conftest import until
from tests.desk.hands import Held, call, focused, go, press
from tests.desk.test_protractor_work import cast, place_all, step
from tests.words.test_german_report import english_alone, words_of

Key = Qt.Key
PAGES = (
    *("help", "about", "keys-page", "facts", "inquiries", "consent", "recordings", "notes", "start"),
    "rule-book",
    "settlement",
    "find",
    "meet",
    *("clip", "coach", "practice", "judge-blind"),
)
AS_TYPED = (
    "short ab arms-bent forget note grip looked loose go starts ends "
    "withdraw posted reviewer up settings second set"
)
"""What is typed, or a file's or a key's name, in whatever language the desk is."""
BOTH = "also text rest"
"""Words of both languages."""
FILES = ("square-on.mp4", "evening.case", "THIRD-PARTY.md")
READER = Qt.ItemDataRole


@pytest.fixture
def desk(application: QApplication, case: Path, request: pytest.FixtureRequest) -> Iterator[DeskWindow]:
    """A case with marks on a desk that speaks the language asked for, German unless it says otherwise."""
    speak(application, "de")
    shown = DeskWindow("A", say=getattr(request, "param", saying("de")))
    shown.show()
    assert QTest.qWaitForWindowExposed(shown)
    shown.activateWindow()
    assert QTest.qWaitForWindowActive(shown)
    shown.open_case(case, None)
    until(lambda: shown.bench.picture is not None)
    yield shown
    shown.close()
    shown.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)
    for words in application.findChildren(QTranslator):
        application.removeTranslator(words)


def told(root: QWidget) -> Iterator[str]:
    """Everything that a window says."""
    for one in (root, *root.findChildren(QWidget)):
        yield from (one.windowTitle(), one.toolTip(), one.accessibleName(), one.accessibleDescription())
        yield from _own_words(one)


def _own_words(one: QWidget) -> Iterator[str]:
    if isinstance(one, QLabel | QAbstractButton):
        yield one.text()
    elif isinstance(one, QLineEdit):
        yield one.placeholderText()
    elif isinstance(one, QComboBox):
        yield from (one.itemText(at) for at in range(one.count()))
    elif isinstance(one, QTextEdit):
        yield from one.toPlainText().splitlines()
    elif isinstance(one, QMenu):
        yield from (text.replace("&", "") for text in (one.title(), *map(QAction.text, one.actions())))
    elif isinstance(one, QAbstractItemView):
        yield from _cells(one)


def _cells(view: QAbstractItemView) -> Iterator[str]:
    model = view.model()
    if model is None:
        return
    columns = 1 if isinstance(model, QAbstractListModel) else model.columnCount()
    for column in range(columns):
        yield str(model.headerData(column, Qt.Orientation.Horizontal) or "")
        for row in range(model.rowCount()):
            for role in (READER.DisplayRole, READER.ToolTipRole, READER.AccessibleTextRole):
                yield str(model.data(model.index(row, column), role) or "")


def texts_in(found: Any) -> Iterator[str]:
    """Every text that a rule book holds."""
    if isinstance(found, str):
        yield from (found, *found.split("\n"))
    elif is_dataclass(found):
        for one in fields(found):
            yield from texts_in(getattr(found, one.name))
    elif isinstance(found, list | tuple | set | frozenset):
        for part in found:
            yield from texts_in(part)
    elif isinstance(found, dict):
        yield from texts_in([*found.keys(), *found.values()])


@cache
def english() -> frozenset[str]:
    """Words that German has not, and that nobody types or has to read as they are."""
    return frozenset(english_alone() - words_of(f"{AS_TYPED} {BOTH}"))


def of_others(desk: DeskWindow, windows: tuple[QWidget, ...]) -> Iterator[str]:
    """What is no sentence of the program: words of the rule book, of calls, of keys and of files."""
    book = desk.bench.book
    yield from (*texts_in(book), *call_words(book), *FILES, *(typed for typed, _ in EXAMPLES))
    yield from (one.id for one in shipped_books())
    yield from (key for use in desk.bench.keyboard.uses for key in use.keys if len(key) > 2)
    yield from (row.field.place for one in windows for row in one.findChildren(FieldRow))


def in_english(desk: DeskWindow, *windows: QWidget, typed: str = "") -> set[str]:
    """What windows say in English, without what the rule book says and what is typed."""
    own = [typed, *of_others(desk, windows)]
    plain = {" ".join(one.replace("&", "").split()) for root in windows for one in told(root)}
    return {one for one in plain if words_of(_without(one, own)) & english()}


def _without(text: str, own: list[str]) -> str:
    """A text without words that are not the program's, where they stand as words."""
    for one in sorted({" ".join(one.split()) for one in own if len(one) > 1}, key=len, reverse=True):
        if one in text:
            text = re.sub(rf"(?<!\w){re.escape(one)}(?!\w)", " ", text)
    return text


def marked(desk: DeskWindow) -> None:
    """A little of everything on the sheet and the strip."""
    for frame, calls in ((60, ("pullover mount",)), (225, ("cast met", "arms-bent 0.1")), (300, ("fall",))):
        go(desk, frame)
        for words in calls:
            call(desk, words)
    press(desk, Key.Key_U)


def test_the_empty_desk_and_its_menus_are_german(application: QApplication) -> None:
    empty = DeskWindow("A", say=saying("de"))
    assert in_english(empty, empty) == set()
    shown = {one.text().replace("&", "").split("\t")[0] for one in empty.commanding._actions.values()}
    assert "Aufnahme oder Akte öffnen …" in shown
    empty.close()


def test_a_marked_case_is_told_in_german(desk: DeskWindow) -> None:
    marked(desk)
    assert in_english(desk, desk) == set()
    for _ in desk.bench.marks:
        press(desk, Key.Key_Up)
        assert in_english(desk, desk) == set()


def test_amounts_are_offered_and_chosen_with_a_comma(desk: DeskWindow) -> None:
    call(desk, "cast")
    call(desk, "arms-bent 0.1")
    (amount,) = (box for box in desk.chosen.findChildren(QComboBox) if box.currentText() == "0,10")
    assert not [at for at in range(amount.count()) if "." in amount.itemText(at)]
    press(desk, Key.Key_Return)
    QTest.keyClicks(focused(desk), "legs-ap")
    assert "0,10" in desk.offered.words[0].means
    assert "0.10" not in desk.offered.words[0].means


def test_the_routine_as_a_table_is_told_in_german(desk: DeskWindow) -> None:
    marked(desk)
    press(desk, Key.Key_P)
    press(desk, Key.Key_T, Held.ControlModifier)
    cells = [cell for row in desk.routine.twin.table.routine.rows for cell in row.cells]
    assert {"0,10", "fault.arms-bent −0,10"} <= set(cells)
    assert not [cell for cell in cells if re.search(r"\d\.\d", cell)]
    assert in_english(desk, desk) == set()


@pytest.mark.parametrize("name", PAGES)
def test_every_page_is_german(desk: DeskWindow, name: str) -> None:
    call(desk, "cast met")
    desk._doings[name]()
    pages = desk.findChildren(QDialog)
    assert pages
    assert in_english(desk, *pages) == set()
    for page in pages:
        page.done(0)


def test_an_inquiry_and_its_answer_are_german(desk: DeskWindow) -> None:
    call(desk, "cast met")
    actions.file_inquiry(desk.bench.open_audit(), asked_by="coach", about="start value")
    actions.answer_inquiry(desk.bench.open_audit(), "q1", "cannot be decided")
    desk._doings["inquiries"]()
    (page,) = desk.findChildren(QDialog)
    assert in_english(desk, page) == set()
    page.done(0)


def test_the_protractor_and_what_it_followed_are_german(desk: DeskWindow) -> None:
    go(desk, cast()["start_frame"])
    call(desk, "cast")
    step(desk, cast()["top_frame"] - 2)
    press(desk, Key.Key_P)
    assert in_english(desk, desk) == set()
    place_all(desk)
    assert in_english(desk, desk) == set()
    press(desk, Key.Key_F)
    until(lambda: desk.gauging.followed.track is not None, 60.0)
    assert in_english(desk, desk) == set()


@pytest.mark.parametrize(
    "typed",
    ["no-such-word", "cast arms-bent", "cast 0.1.2", "arms-bent 9", "posted", "go", "dismount", "short"],
)
def test_refusals_of_what_is_typed_are_german(desk: DeskWindow, typed: str) -> None:
    press(desk, Key.Key_Return)
    QTest.keyClicks(focused(desk), typed)
    press(desk, Key.Key_Return)
    assert desk.foot.property("problem") is True
    assert in_english(desk, desk.foot, typed=typed) == set()


@pytest.mark.parametrize("desk", [Saying()], indirect=True)
def test_the_check_would_have_found_english(desk: DeskWindow) -> None:
    marked(desk)
    found = in_english(desk, desk)
    assert {"Final score", "Protractor", "Speed of playing"} <= found
