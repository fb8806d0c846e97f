"""What can be done by keys alone, and what by the mouse alone, in the real window."""

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QApplication, QComboBox, QWidget

from reviewer import actions
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until
from tests.desk.hands import Hands, Held, Key, marks, when_asked


@pytest.fixture
def hands(desk: DeskWindow) -> Hands:
    return Hands(desk)


def heard_by() -> str:
    """The name of what has the keyboard."""
    heard = QApplication.focusWidget()
    assert heard is not None
    return heard.accessibleName()


def offered(desk: DeskWindow, hands: Hands, word: str) -> None:
    """Click one of the words offered."""
    at = [one.text for one in desk.offered.words].index(word)
    item = desk.offered.item(at)
    view: QWidget | None = desk.offered.viewport()
    assert view is not None
    hands.click(view, desk.offered.visualItemRect(item).center())


def test_an_element_is_marked_by_clicking_the_word_offered(desk: DeskWindow, hands: Hands) -> None:
    hands.click(desk.entry)
    hands.type("pullo")
    offered(desk, hands, "pullover")
    assert [mark.code for mark in marks(desk)] == ["pullover"]
    assert desk.entry.text() == ""


def test_a_clicked_fault_offers_its_amounts_and_takes_the_one_clicked(desk: DeskWindow, hands: Hands) -> None:
    hands.click(desk.entry)
    hands.type("arms-b")
    offered(desk, hands, "arms-bent")
    assert marks(desk) == ()
    offered(desk, hands, "0.30")
    assert [str(mark.amount) for mark in marks(desk)] == ["0.300"]


def test_no_amount_is_taken_that_was_not_chosen(desk: DeskWindow, hands: Hands) -> None:
    hands.click(desk.entry)
    hands.type("arms-bent ")
    assert desk.offered.words[0].kind == "amount"
    hands.key(Key.Key_Return)
    assert marks(desk) == ()
    assert "amount is missing" in desk.foot.text()


def test_amounts_in_their_list_are_gone_through_by_keys(desk: DeskWindow, hands: Hands) -> None:
    hands.key(Key.Key_Return)
    hands.type("arms-bent 0.1")
    hands.key(Key.Key_Return, Key.Key_Escape)
    choice = next(one for one in desk.chosen.findChildren(QComboBox) if one.accessibleName() == "Amount")
    hands.click(choice)
    hands.key(Key.Key_Down, Key.Key_Return)
    assert [str(mark.amount) for mark in marks(desk)] == ["0.150"]
    until(lambda: heard_by() == "Amount")
    hands.key(Key.Key_Up)
    assert [str(mark.amount) for mark in marks(desk)] == ["0.100"]


def test_points_of_the_protractor_are_put_down_and_moved_by_keys_alone(
    desk: DeskWindow, hands: Hands
) -> None:
    hands.key(Key.Key_P, Key.Key_C)
    first = desk.protractor.spots["hand"]
    far = Held.AltModifier | Held.ShiftModifier
    hands.key(Key.Key_C)
    hands.key(Key.Key_Right, Key.Key_Up, held=far)
    second = desk.protractor.spots["shoulder"]
    assert ((second.x - first.x).thousandths, (second.y - first.y).thousandths) == (10_000, -10_000)
    hands.key(Key.Key_Left, held=Qt.KeyboardModifier.AltModifier)
    assert (desk.protractor.spots["shoulder"].x - first.x).thousandths == 9_750


def test_a_posted_score_is_entered_however_its_field_is_left(desk: DeskWindow, hands: Hands) -> None:
    hands.click(desk.argument.posted)
    hands.type("8.9")
    hands.click(desk.entry)
    assert str(desk.bench.on_desk().posted) == "8.900"
    hands.sequence("Ctrl+E")
    hands.type("1")
    hands.key(Key.Key_Escape)
    assert desk.evidence.hasFocus()
    assert desk.argument.posted.text() == "8.900"
    assert str(desk.bench.on_desk().posted) == "8.900"


def test_a_report_is_written_again_by_taking_what_is_proposed(desk: DeskWindow, hands: Hands) -> None:
    beside = desk.bench.on_desk().path.parent
    for name in ("evening.report", "evening-2.report"):
        when_asked(lambda: hands.key(Key.Key_Return))
        hands.sequence("Ctrl+R")
        until((beside / name / "report.html").exists, 30)
        until(lambda: "report" in desk.foot.text() and not desk.foot.property("problem"), 30)


def test_a_posted_score_is_entered_when_the_desk_is_left_in_the_midst_of_it(
    desk: DeskWindow, hands: Hands
) -> None:
    case = desk.bench.on_desk().path
    hands.sequence("Ctrl+E")
    hands.type("8.9")
    hands.sequence("Ctrl+Q")
    with actions.open_case(case, author=None) as reader:
        assert str(reader.posted) == "8.900"
