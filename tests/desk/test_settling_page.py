"""Two sealed sheets settled at the desk, line by line, by keys."""

from pathlib import Path

import pytest
from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QWidget

from reviewer import actions
from reviewer.desk.settling import SettlingPage
from reviewer.desk.window import DeskWindow
from tests.actions.test_second_judge_and_settlement import first, sealed, second, settled
from tests.desk.conftest import until
from tests.desk.hands import Hands, Key, when_asked

__all__ = ["first", "second"]
LINE, ONE, OTHER, TAKEN = range(4)


@pytest.fixture
def settlement(first: Path, second: Path) -> Path:
    """The case that settles two sheets of a routine typed from paper, as it is begun."""
    sealed(first, second)
    return settled(first, second)


def page(window: DeskWindow, hands: Hands) -> SettlingPage:
    """The page, opened by its key."""
    hands.sequence("Ctrl+Shift+S")
    until(lambda: bool(window.findChildren(SettlingPage)))
    shown = window.findChildren(SettlingPage)[-1]
    until(shown.lines.hasFocus)
    return shown


def row(shown: SettlingPage, line: str) -> int:
    model = shown.lines.model()
    assert model is not None
    rows = range(model.rowCount())
    return next(at for at in rows if model.index(at, LINE).data() == line)


def cell(shown: SettlingPage, line: str, column: int) -> str:
    model = shown.lines.model()
    assert model is not None
    return str(model.index(row(shown, line), column).data())


def go_to(shown: SettlingPage, hands: Hands, line: str) -> None:
    """To a line, with arrows."""
    shown.lines.setFocus()
    wanted = row(shown, line)
    while (here := shown.lines.currentIndex().row()) != wanted:
        hands.key(Key.Key_Down if here < wanted else Key.Key_Up)


def press(shown: SettlingPage, hands: Hands, control: QWidget) -> None:
    """Tab to a button and press it."""
    while not control.hasFocus():
        hands.key(Key.Key_Tab)
    hands.key(Key.Key_Space)


def open_lines(path: Path) -> list[str]:
    with actions.open_case(path, author=None) as audit:
        return actions.open_lines(audit)


def test_both_views_stand_side_by_side_and_one_is_taken(window: DeskWindow, settlement: Path) -> None:
    hands = Hands(window)
    window.bench.author = "C"
    window.open_case(settlement, None)
    before = open_lines(settlement)
    shown = page(window, hands)
    differing = before[0]
    assert cell(shown, differing, TAKEN) == "open"
    assert "−" not in cell(shown, differing, LINE)
    assert cell(shown, differing, ONE) != cell(shown, differing, OTHER)
    go_to(shown, hands, differing)
    press(shown, hands, shown.takes[1])
    assert open_lines(settlement) == before[1:]
    assert cell(shown, differing, TAKEN) == "as judge B"
    assert f"{differing} is settled" in shown.foot.text()


def test_a_line_is_opened_again_for_a_reason_and_left_out(window: DeskWindow, settlement: Path) -> None:
    hands = Hands(window)
    window.bench.author = "C"
    window.open_case(settlement, None)
    shown = page(window, hands)
    agreed = next(line for line in (f"L{n}" for n in range(1, 9)) if cell(shown, line, TAKEN) == "agreed")
    go_to(shown, hands, agreed)
    press(shown, hands, shown.opening)
    assert shown.foot.property("problem") is True, "a reason is asked for"
    assert shown.because.hasFocus()
    hands.type("The grip was not seen.")
    hands.key(Key.Key_Return)
    assert agreed in open_lines(settlement)
    assert cell(shown, agreed, TAKEN) == "open, opened again"


def test_while_lines_are_open_the_sheet_says_that_this_is_no_score(
    window: DeskWindow, settlement: Path
) -> None:
    window.bench.author = "C"
    window.open_case(settlement, None)
    assert window.argument.named.text() == "Score of the lines settled so far"
    top = window.argument.rows[0]
    assert (top.kind, top.where) == ("warning", ", ".join(open_lines(settlement)))
    assert "no settled score" in top.words


def test_a_settlement_is_begun_with_another_sheet_and_laid_on_the_desk(
    window: DeskWindow, first: Path, second: Path
) -> None:
    sealed(first, second)
    hands = Hands(window)
    window.bench.author = "C"
    window.open_case(first, None)
    hands.sequence("Ctrl+Shift+S")
    until(lambda: bool(window.findChildren(SettlingPage)))
    shown = window.findChildren(SettlingPage)[-1]
    assert "settles nothing" in shown.told.text()

    def choose() -> None:
        hands.type(str(second))
        hands.key(Key.Key_Return)

    when_asked(choose)
    hands.key(Key.Key_B, held=Qt.KeyboardModifier.AltModifier)
    until(lambda: window.bench.on_desk().path != first)
    assert window.bench.on_desk().state.settlement is not None
    assert shown.lines.isVisible()
