"""The form that starts a case takes codes, and says in itself what may be a name."""

from pathlib import Path

from PyQt6.QtWidgets import QDialog, QWidget
from pytestqt.qtbot import QtBot

from reviewer.desk.pages import StartForm
from reviewer.words import saying


def test_a_name_keeps_the_form_open_and_says_why_and_a_code_leaves_it(qtbot: QtBot, tmp_path: Path) -> None:
    parent = QWidget()
    qtbot.addWidget(parent)
    form = StartForm(parent, saying("en"), recording=tmp_path / "r.mp4", author="A")
    form.open()
    form.athlete.setText("Anna Müller")
    form._begin()
    assert form.isVisible()
    assert "such as G-07" in form.wrong.text()
    assert "Anna" not in form.wrong.text()
    form.athlete.setText("G-07")
    form._begin()
    assert form.result() == QDialog.DialogCode.Accepted
