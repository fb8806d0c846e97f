"""The form that starts a case takes codes, and says in itself what was refused; nothing typed is lost."""

from collections.abc import Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QDialog, QWidget
from pytestqt.qtbot import QtBot

from reviewer.actions import load_book
from reviewer.desk.starting import Beginning, StartForm
from reviewer.words import saying


@pytest.fixture
def form(qtbot: QtBot, tmp_path: Path) -> Iterator[StartForm]:
    """The form of a recording, as filled in at first; it reads the rule book that is asked for."""
    parent = QWidget()
    qtbot.addWidget(parent)

    def starts(beginning: Beginning) -> None:
        load_book(beginning.rule_book)

    form = StartForm(parent, saying("en"), recording=tmp_path / "r.mp4", author="A", starts=starts)
    form.open()
    yield form
    parent.close()


def test_a_name_keeps_the_form_open_and_says_why_and_a_code_leaves_it(form: StartForm) -> None:
    form.athlete.setText("Anna Müller")
    QTest.keyClick(form.athlete, Qt.Key.Key_Return)
    assert form.isVisible()
    assert "such as G-07" in form.wrong.text()
    assert "Anna" not in form.wrong.text()
    form.athlete.setText("G-07")
    QTest.keyClick(form.athlete, Qt.Key.Key_Return)
    assert form.result() == QDialog.DialogCode.Accepted


def test_a_judges_name_is_refused_at_its_own_field(form: StartForm) -> None:
    form.author.setText("Joanne")
    QTest.keyClick(form.athlete, Qt.Key.Key_Return)
    assert form.isVisible()
    assert form.wrong.text().startswith("Your code: ")
    assert "Joanne" not in form.wrong.text()
    assert form.focusWidget() is form.author


def test_an_edition_there_is_none_of_keeps_the_form_and_all_that_was_typed(form: StartForm) -> None:
    form.athlete.setText("G-12")
    form.book.setEditText("no-such-book")
    QTest.keyClick(form.athlete, Qt.Key.Key_Return)
    assert form.isVisible()
    assert form.wrong.text().startswith("Rule book: ")
    assert (form.athlete.text(), form.book.currentText()) == ("G-12", "no-such-book")
    assert form.wrong.height() >= form.wrong.heightForWidth(form.wrong.width())
    form.book.setCurrentIndex(0)
    QTest.keyClick(form.athlete, Qt.Key.Key_Return)
    assert form.result() == QDialog.DialogCode.Accepted
