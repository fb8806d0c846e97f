"""A rule book copied, changed, checked and compared at the desk, by key and mouse."""

from collections.abc import Iterator
from itertools import combinations
from pathlib import Path

import pytest
from PyQt6.QtCore import QPoint, QRect, Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication, QComboBox, QLineEdit, QPushButton, QWidget

from reviewer import actions
from reviewer.actions.books import compare_books, copy_book
from reviewer.desk.books import RuleBookForm
from reviewer.desk.books.entries import AddEntry, Out
from reviewer.desk.books.rows import FieldRow
from reviewer.desk.looks import dress
from reviewer.desk.window import DeskWindow
from reviewer.rules import check
from reviewer.terms.exact import Points
from tests.desk.conftest import until

Key, Held = Qt.Key, Qt.KeyboardModifier


@pytest.fixture
def own(case: Path) -> Path:
    """A copy of the case's edition beside the case, which the form opens by itself."""
    path = case.parent / "club-3.yaml"
    copy_book("demo-bars-2", path, id="club-3")
    with actions.open_case(case, author="A") as audit:
        actions.choose_edition(audit, str(path))
    return path


@pytest.fixture
def form(desk: DeskWindow) -> Iterator[RuleBookForm]:
    """The form, opened by its key."""
    QTest.keyClick(desk.evidence, Key.Key_B, Held.ControlModifier)
    until(lambda: bool(desk.findChildren(RuleBookForm)))
    shown = desk.findChildren(RuleBookForm)[-1]
    until(lambda: QApplication.focusWidget() in shown.findChildren(QLineEdit))
    yield shown
    if shown in desk.findChildren(RuleBookForm):
        shown.done(0)


def press(key: Qt.Key, held: Qt.KeyboardModifier = Held.NoModifier) -> None:
    """Press a key where the keyboard is."""
    at = QApplication.focusWidget()
    assert at is not None
    QTest.keyClick(at, key, held)


def type_over(line: QWidget, words: str) -> None:
    """Click into a line and type in the place of what stands there."""
    QTest.mouseClick(line, Qt.MouseButton.LeftButton)
    QTest.keyClick(line, Key.Key_A, Held.ControlModifier)
    QTest.keyClicks(line, words)


def click(button: QPushButton) -> None:
    """Click a button."""
    QTest.mouseClick(button, Qt.MouseButton.LeftButton)


def search(form: RuleBookForm, words: str) -> None:
    """Find a clause by its words, with keys alone."""
    press(Key.Key_F, Held.ControlModifier)
    assert QApplication.focusWidget() is form.parts.chapters.search
    QTest.keyClick(form.parts.chapters.search, Key.Key_A, Held.ControlModifier)
    QTest.keyClicks(form.parts.chapters.search, words)


def row(form: RuleBookForm, place: str) -> FieldRow:
    """A field of the clause that is shown."""
    return next(one for one in form.parts.clause.rows if one.field.place == place)


def say_where_from(form: RuleBookForm) -> None:
    """Fill in date and source of the change, with keys alone, and keep it with the last one."""
    change = form.parts.clause.change
    until(lambda: change.since.hasFocus())
    QTest.keyClicks(change.since, "2026-11-01")
    press(Key.Key_Return)
    assert change.kind.hasFocus()
    press(Key.Key_Down)
    press(Key.Key_Return)
    assert change.place.hasFocus()
    QTest.keyClicks(change.place, "Circular 3, page 2")
    press(Key.Key_Return)


def compared(form: RuleBookForm) -> str:
    """What stands at the right."""
    return form.parts.compared.toPlainText()


def test_a_shipped_edition_is_copied_before_anything_can_be_changed(form: RuleBookForm, case: Path) -> None:
    parts = form.parts
    assert parts.copying.isVisible()
    assert not parts.keep.isEnabled()
    assert all(one.edit.isReadOnly() for one in parts.clause.rows if isinstance(one.edit, QLineEdit))
    type_over(parts.copying.id, "club-3")
    press(Key.Key_Return)
    path = case.parent / "club-3.yaml"
    assert check(path) == ()
    assert form.own is not None
    assert form.own.path == path
    assert parts.keep.isEnabled()
    assert "demo-bars-2" in compared(form)


def test_a_copy_under_an_id_that_is_taken_is_refused_in_a_line(form: RuleBookForm, case: Path) -> None:
    type_over(form.parts.copying.id, "demo-bars-2-previous")
    press(Key.Key_Return)
    assert form.parts.foot.property("problem") is True
    assert "id of its own" in form.parts.foot.text()
    assert list(case.parent.glob("*.yaml")) == []


def test_an_amount_is_changed_with_keys_alone_and_is_exact_text_in_the_file(
    own: Path, form: RuleBookForm
) -> None:
    before = own.read_text(encoding="utf-8")
    search(form, "slight hop staggered fault")
    press(Key.Key_Return)
    for _ in range(5):
        press(Key.Key_Tab)
    assert QApplication.focusWidget() is row(form, "up-to").edit
    QTest.keyClick(row(form, "up-to").edit, Key.Key_A, Held.ControlModifier)
    QTest.keyClicks(row(form, "up-to").edit, "0.20")
    until(lambda: "Not kept yet" in compared(form))
    assert own.read_text(encoding="utf-8") == before
    press(Key.Key_Return)
    say_where_from(form)
    after = own.read_text(encoding="utf-8")
    assert "up-to: 0.20 points" in after
    assert 'since: 2026-11-01\n    source: "published: Circular 3, page 2"' in after
    assert len(after.splitlines()) == len(before.splitlines())


def test_what_differs_stands_beside_the_form_as_the_command_would_say_it(
    own: Path, form: RuleBookForm
) -> None:
    search(form, "fault.fall")
    type_over(row(form, "amount").edit, "0.300")
    press(Key.Key_Return)
    say_where_from(form)
    until(lambda: "Not kept yet" not in compared(form))
    found = compare_books("demo-bars-2", str(own)).changed
    assert [one.after.id for one in found] == ["fault.fall"]
    for change in found[0].changes:
        for said in (change.field, change.before, change.after):
            assert str(said) in compared(form)


def test_a_bad_value_is_named_at_once_beside_its_field_and_nothing_is_written(
    own: Path, form: RuleBookForm
) -> None:
    before = own.read_bytes()
    search(form, "fault.hop")
    shown = row(form, "up-to")
    type_over(shown.edit, "0,2,1")
    until(lambda: shown.wrong.isVisible())
    assert "not an amount in points" in shown.wrong.text()
    assert "between '0.000' and '10.000', such as '10.000'" in shown.wrong.text()
    click(next(b for b in form.findChildren(QPushButton) if "now" in b.text()))
    press(Key.Key_Return, Held.ControlModifier)
    assert own.read_bytes() == before
    assert "clause fault.hop" in form.parts.foot.text()
    type_over(shown.edit, "0,2")
    until(lambda: not shown.wrong.isVisible())


def test_undo_leads_back_to_how_the_file_was_when_it_was_opened(own: Path, form: RuleBookForm) -> None:
    before = own.read_bytes()
    for clause, place in (("fault.hop", "up-to"), ("fault.fall", "amount")):
        search(form, clause)
        type_over(row(form, place).edit, "0.200")
        press(Key.Key_Return)
        if clause == "fault.hop":
            say_where_from(form)
    after = own.read_bytes()
    assert after.count(b"Circular 3, page 2") == 2
    for _ in range(3):
        press(Key.Key_Z, Held.ControlModifier)
    assert own.read_bytes() == before
    assert "as it was when opened" in form.parts.foot.text()
    for _ in range(2):
        press(Key.Key_Y, Held.ControlModifier)
    assert own.read_bytes() == after


def test_an_amount_becomes_a_menu_of_amounts(own: Path, form: RuleBookForm) -> None:
    search(form, "fault.fall")
    name = row(form, "amount").name
    assert isinstance(name, QComboBox)
    name.setFocus()
    for _ in range(2):
        press(Key.Key_Down)
    until(lambda: any(one.field.place == "one-of" for one in form.parts.clause.rows))
    QTest.keyClicks(row(form, "one-of").edit, "0.300, 0.500")
    press(Key.Key_Return)
    say_where_from(form)
    assert "one-of: [0.300 points, 0.500 points]" in own.read_text(encoding="utf-8")
    assert check(own) == ()


def test_a_list_of_conditions_names_what_the_book_knows(own: Path, form: RuleBookForm) -> None:
    search(form, "requirement.cast")
    shown = row(form, "not-in")
    type_over(shown.edit, "mount, vault")
    until(lambda: shown.wrong.isVisible())
    assert "'vault' is not in this book" in shown.wrong.text()
    type_over(shown.edit, "mount")
    until(lambda: not shown.wrong.isVisible())
    press(Key.Key_Return)
    say_where_from(form)
    assert "not-in: [mount]" in own.read_text(encoding="utf-8")


def test_what_is_typed_is_not_lost_by_going_to_another_clause(own: Path, form: RuleBookForm) -> None:
    search(form, "fault.")
    first = form.parts.chapters.current()
    type_over(row(form, "name").edit, "Another name")
    press(Key.Key_PageDown, Held.ControlModifier)
    assert form.parts.chapters.current() == first
    assert "not kept" in form.parts.foot.text()
    assert row(form, "name").value() == "Another name"
    press(Key.Key_Escape)
    assert row(form, "name").value() == row(form, "name").field.value
    press(Key.Key_PageDown, Held.ControlModifier)
    assert form.parts.chapters.current() != first


def test_every_problem_of_a_file_is_listed_and_leads_to_its_clause_and_field(
    own: Path, form: RuleBookForm, desk: DeskWindow
) -> None:
    text = own.read_text(encoding="utf-8")
    bad = text.replace("takes: 2.000 points", "takes: two").replace("edge: included", "edge: in", 1)
    own.write_text(bad, encoding="utf-8")
    desk.activateWindow()
    until(lambda: desk.isActiveWindow())
    form.activateWindow()
    until(lambda: form.parts.problems.listed.count() == 2)
    press(Key.Key_F4)
    assert form.parts.chapters.current() == "cast.limit"
    assert row(form, "edge").edit.hasFocus()
    listed = form.parts.problems.listed
    second = listed.item(1)
    assert second is not None
    assert "club-3.yaml:" in second.text()
    where = listed.visualItemRect(second).center()
    QTest.mouseClick(listed.viewport(), Qt.MouseButton.LeftButton, pos=QPoint(where))
    assert form.parts.chapters.current() == "few-value-parts"
    type_over(row(form, "takes").edit, "2.000")
    press(Key.Key_Return)
    say_where_from(form)
    assert listed.count() == 1


def test_the_case_is_scored_by_the_new_edition_and_what_that_changes_is_said(
    own: Path, form: RuleBookForm, desk: DeskWindow
) -> None:
    audit = desk.bench.audit
    assert audit is not None
    before = audit.sheet.final_score
    search(form, "requirement.mount")
    type_over(row(form, "takes").edit, "0.400")
    press(Key.Key_Return)
    say_where_from(form)
    assert "0.100 more" in form.parts.case.told.text()
    assert audit.sheet.final_score == before
    click(form.parts.case.button)
    assert str(audit.sheet.final_score - before) == "0.100"
    assert str(audit.sheet.final_score) in form.parts.foot.text()
    press(Key.Key_Escape)
    desk.activateWindow()
    until(lambda: desk.evidence.hasFocus())
    press(Key.Key_Z, Held.ControlModifier)
    assert audit.sheet.final_score == before


def test_no_score_is_told_where_marks_do_not_fit_the_new_edition(
    own: Path, form: RuleBookForm, desk: DeskWindow
) -> None:
    """A fall marked at 0.500 is no amount where it costs 0.600: left out, it would be a gain."""
    audit = desk.bench.audit
    assert audit is not None
    half = Points.parse("0.500")
    desk.bench.attempt(lambda: actions.place_mark(audit, kind="fault", code="fall", amount=half))
    search(form, "fault.fall")
    type_over(row(form, "amount").edit, "0.600")
    press(Key.Key_Return)
    say_where_from(form)
    told = form.parts.case.told.text()
    assert "cannot be decided" in told
    assert "m1" in told
    assert "Use one of: 0.600." in told
    assert "more" not in told
    click(form.parts.case.button)
    assert "cannot be decided" in form.parts.foot.text()
    assert "became" not in form.parts.foot.text()
    assert desk.argument.named.text() == "Final score of the marks that could be scored"
    assert any("of the marks that could be scored" in row.more for row in desk.argument.rows)


def test_a_clause_is_added_like_another_and_taken_out_again(own: Path, form: RuleBookForm) -> None:
    before = own.read_bytes()
    search(form, "fault.hop")
    type_over(form.parts.id, "fault.wobble")
    press(Key.Key_Return)
    assert form.parts.chapters.current() == "fault.wobble"
    assert "fault: wobble" in own.read_text(encoding="utf-8")
    click(form.parts.away)
    assert own.read_bytes() == before


def test_an_element_is_added_to_a_list_and_another_taken_out(own: Path, form: RuleBookForm) -> None:
    search(form, "elements.kips")
    adding = form.parts.clause.findChildren(AddEntry)[0]
    type_over(adding.code, "upstart")
    press(Key.Key_Return)
    assert row(form, "elements.upstart.name").edit.hasFocus()
    QTest.keyClicks(row(form, "elements.upstart.name").edit, "Upstart")
    press(Key.Key_Return)
    say_where_from(form)
    assert "- {code: upstart, name: Upstart}" in own.read_text(encoding="utf-8")
    click(next(b for b in form.findChildren(Out) if b.accessibleName() == "Take out upstart"))
    press(Key.Key_Return, Held.ControlModifier)
    assert "upstart" not in own.read_text(encoding="utf-8")
    assert check(own) == ()


def test_a_file_that_is_no_rule_book_shows_its_problem_and_no_clause(
    own: Path, form: RuleBookForm, tmp_path: Path
) -> None:
    torn = tmp_path / "torn.yaml"
    torn.write_text("format: [reviewer", encoding="utf-8")
    line = form.parts.edition.lineEdit()
    assert line is not None
    type_over(line, str(torn))
    press(Key.Key_Return)
    assert "torn.yaml:" in form.parts.problems.listed.item(0).text()  # type: ignore[union-attr]
    assert form.parts.clause.clause is None
    assert not form.parts.clause.rows


def test_the_form_can_be_used_by_ear(form: RuleBookForm) -> None:
    """Every part that takes the keyboard says what it is."""
    stops = (QLineEdit, QComboBox)
    nameless = [
        one
        for kind in stops
        for one in form.findChildren(kind)
        if not one.accessibleName() and not isinstance(one.parent(), QComboBox)
    ]
    assert nameless == []


def test_the_window_does_not_close_over_what_is_typed_until_it_is_asked_twice(
    own: Path, form: RuleBookForm, desk: DeskWindow
) -> None:
    type_over(row(form, "title").edit, "Another title")
    desk.close()
    assert desk.isVisible()
    assert form.isVisible()
    assert "not kept yet" in form.parts.foot.text()
    assert row(form, "title").shown() == "Another title"
    desk.close()
    assert not desk.isVisible()


def test_the_form_fits_a_small_screen_in_large_words_and_nothing_lies_over_another(
    own: Path, form: RuleBookForm, application: QApplication
) -> None:
    search(form, "value-parts")
    dress(application, "light", 200)
    form.resize(1240, 700)
    QTest.qWait(200)
    parts = form.parts
    shown = [parts.clause.sheet, parts.clause.change, parts.keep, parts.id, parts.repeat, parts.away]
    places = [QRect(one.mapTo(form, QPoint(0, 0)), one.size()) for one in shown]
    dress(application, "light", 100)
    assert form.minimumSizeHint().width() <= 1240
    assert (form.width(), form.height()) == (1240, 700)
    over = [(one, other) for one, other in combinations(places, 2) if one.intersects(other)]
    assert over == []
