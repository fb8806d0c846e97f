"""An inquiry filed, weighed and answered at the desk, by key and mouse."""

from pathlib import Path

from PyQt6.QtCore import QPoint, Qt
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


def test_return_files_and_return_answers_and_both_say_which_inquiry(desk: DeskWindow) -> None:
    shown = page(desk)
    for words in ("The first?", "The second?"):
        shown.activateWindow()
        shown.words.setFocus()
        until(shown.words.hasFocus)
        QTest.keyClicks(shown.words, words)
        QTest.keyClick(shown.words, Key.Key_Return)
    assert shown.listed.count() == 2
    assert "q2" in desk.foot.text()
    assert shown.focusWidget() is shown.finding
    QTest.keyClick(shown.finding, Key.Key_Tab)
    QTest.keyClicks(shown.said, "Looked at again.")
    QTest.keyClick(shown.said, Key.Key_Return)
    assert "q2" in desk.foot.text()
    press(shown, "Withdraw q2")
    assert "Inquiry q2 is withdrawn" in desk.foot.text()
    desk.activateWindow()
    desk.evidence.setFocus()
    until(desk.evidence.hasFocus)
    QTest.keyClick(desk.evidence, Key.Key_Z, Held.ControlModifier)
    assert desk.foot.text() == "Undone: inquiry q2 withdrawn."


def test_the_page_is_opened_once_and_begins_at_the_newest_inquiry_without_an_answer(desk: DeskWindow) -> None:
    shown = page(desk)
    for words in ("The first?", "The second?"):
        shown.words.setFocus()
        QTest.keyClicks(shown.words, words)
        press(shown, "File it")
    press(shown, "Answer q2")
    again = page(desk)
    assert again is shown
    assert len(desk.findChildren(InquiriesPage)) == 1
    shown.close()
    until(lambda: not desk.findChildren(InquiriesPage))
    assert "“The first?”" in page(desk).told.toPlainText()


def test_the_marks_an_inquiry_is_about_are_named_before_it_is_filed_and_may_be_left_out(
    desk: DeskWindow,
) -> None:
    audit = desk.bench.open_audit()
    desk.bench.attempt(lambda: actions.place_mark(audit, kind="element", code="pullover", start=0))
    desk.bench.choose(("m1",))
    shown = page(desk)
    assert shown.marks.named.text() == "pullover m1, frame 0"
    shown.words.setText("Was that a mount?")
    press(shown, "File it")
    assert "about marks m1" in shown.told.toPlainText()
    shown.words.setText("And the whole?")
    QTest.mouseClick(shown.marks.tick, Qt.MouseButton.LeftButton, pos=QPoint(8, 8))
    press(shown, "File it")
    assert [one.marks for one in audit.state.inquiries] == [("m1",), ()]


def test_an_inquiry_without_a_question_is_refused_with_a_remedy(desk: DeskWindow) -> None:
    shown = page(desk)
    press(shown, "File it")
    assert shown.listed.count() == 0
    assert desk.foot.property("problem") is True
    assert "Type it under “In these words”." in desk.foot.text()


def test_when_each_inquiry_was_asked_stands_in_the_list(desk: DeskWindow) -> None:
    shown = page(desk)
    shown.words.setText("Was that a fall?")
    press(shown, "File it")
    shown.words.setText("Again?")
    QTest.keyClicks(shown.after, "45 s")
    press(shown, "File it")
    lines = [shown.listed.item(row).text().split(", ")[-1] for row in range(2)]
    assert lines == ["time not said", "45 s after the score was shown"]


def test_the_posted_start_value_is_entered_where_it_is_asked_about(desk: DeskWindow, tmp_path: Path) -> None:
    """What stands is never called posted where nothing was, and an answer that it stands changes nothing."""
    shown = page(desk)
    shown.about.setCurrentText("start value")
    shown.words.setText("Was the start value right?")
    QTest.keyClicks(shown.after, "45 s")
    press(shown, "File it")
    assert "No posted start value was entered." in shown.told.toPlainText()
    shown.finding.setCurrentIndex(shown.finding.findData("stands"))
    press(shown, "Answer")
    assert shown.write_letter(tmp_path / "first.txt")
    letter = " ".join((tmp_path / "first.txt").read_text(encoding="utf-8").split())
    assert "The posted start value" not in letter
    assert "No posted start value was entered" in letter
    assert "This answer leaves the result as it is." in letter
    assert "may change" not in letter
    shown.activateWindow()
    until(shown.isActiveWindow)
    shown.posted_start.setFocus()
    QTest.keyClicks(shown.posted_start, "9.5")
    QTest.keyClick(shown.posted_start, Key.Key_Return)
    assert desk.bench.open_audit().posted_start == Points.parse("9.500")
    assert "No posted start value" not in shown.told.toPlainText()
