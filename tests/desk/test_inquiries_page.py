"""An inquiry filed, weighed and answered at the desk, by key and mouse."""

from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QPushButton

from reviewer import actions
from reviewer.desk.inquiries import InquiriesPage
from reviewer.desk.window import DeskWindow
from reviewer.terms.exact import Points
from tests.desk.conftest import until

Key, Held = Qt.Key, Qt.KeyboardModifier


def page(desk: DeskWindow) -> InquiriesPage:
    """The page, opened by its key."""
    QTest.keyClick(desk.evidence, Key.Key_I, Held.ControlModifier)
    until(lambda: bool(desk.findChildren(InquiriesPage)))
    return desk.findChildren(InquiriesPage)[-1]


def press(shown: InquiriesPage, words: str) -> None:
    """Click the button that begins with these words."""
    button = next(one for one in shown.findChildren(QPushButton) if one.text().startswith(words))
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def test_an_inquiry_is_filed_in_the_editions_words_and_answered_as_the_marks_say(
    desk: DeskWindow, tmp_path: Path
) -> None:
    assert desk.bench.audit is not None
    actions.enter_posted(desk.bench.audit, desk.bench.audit.sheet.final_score + Points.parse("1"))
    shown = page(desk)
    assert shown.asked_by.currentText() == "coach"
    shown.about.setCurrentText("score")
    QTest.keyClicks(shown.after, "45 s")
    QTest.keyClicks(shown.words, "Was that a fall?")
    press(shown, "File it")
    assert "changes" in shown.told.toPlainText()
    press(shown, "Answer")
    with actions.open_case(desk.bench.audit.path, author=None) as reader:
        kept = actions.inquiries_document(reader)["asked"][0]
    assert kept["words"] == "Was that a fall?"
    assert kept["answer"]["finding"] == "changes"
    assert shown.write_letter(tmp_path / "answer.txt")
    assert "The score changes to" in (tmp_path / "answer.txt").read_text(encoding="utf-8")
    QTest.keyClick(desk.evidence, Key.Key_Z, Held.ControlModifier)
    assert "not answered yet" in shown.told.toPlainText()


def test_a_time_that_is_none_is_refused_in_a_line_and_nothing_is_kept(desk: DeskWindow) -> None:
    shown = page(desk)
    QTest.keyClicks(shown.after, "soon")
    press(shown, "File it")
    assert desk.foot.property("problem") is True
    assert "64 s" in desk.foot.text()
    assert shown.listed.count() == 0
