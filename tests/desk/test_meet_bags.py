"""Bags of a meet packed and taken home at the desk, and the consent that lets them out."""

from pathlib import Path

import pytest
from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.meets import MeetPage
from reviewer.desk.meets.carrying import CarryingForm
from reviewer.desk.window import DeskWindow
from tests.actions.small_meet import begun, given, mark
from tests.desk.conftest import until
from tests.desk.test_meet_page import opened, press


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    """A meet of two routines, one each for K and L, of which nobody recorded consent."""
    folder = begun(tmp_path / "meet", 2, consent="not recorded")
    given(folder, "KL")
    return folder


def shown(window: DeskWindow, meet: Path) -> tuple[MeetPage, CarryingForm]:
    page = opened(window, meet)
    press(page, "Bags, consent")
    return page, page.findChildren(CarryingForm)[-1]


def done(form: CarryingForm, words: str) -> str:
    """Press a button of the form, and wait for what it says."""
    press(form, words)
    until(lambda: not form.busy, 20)
    return form.told.text()


def test_a_bag_goes_out_once_consent_is_recorded_and_comes_home(
    window: DeskWindow, meet: Path, tmp_path: Path
) -> None:
    page, form = shown(window, meet)
    assert [form.auditor.itemText(at) for at in range(form.auditor.count())] == ["K", "L"]
    form.out.setText(str(tmp_path / "bag-K"))
    assert "does not cover the use inquiry" in done(form, "Pack it")
    assert not (tmp_path / "bag-K").exists()
    assert "Consent recorded: 2" in done(form, "Record it for every routine")
    assert "tasks 1, recordings 0" in done(form, "Pack it")
    assert "out: 1" in page.foot.text()
    tasks = tmp_path / "tasks"
    actions.unpack_tasks(tmp_path / "bag-K", tasks)
    (case,) = tasks.glob("*.case")
    mark(case, "K")
    actions.pack_return(tasks, tmp_path / "home-K", today="2026-11-26")
    form.back.setText(str(tmp_path / "home-K"))
    assert f"From auditor K: {case.stem}." in done(form, "Take it home")
    assert "home: 1" in page.foot.text()


def test_what_is_no_bag_is_refused_in_words(window: DeskWindow, meet: Path, tmp_path: Path) -> None:
    _, form = shown(window, meet)
    form.back.setText(str(tmp_path / "nothing"))
    assert "nothing" in done(form, "Take it home")
    form.until.setText("yesterday")
    assert "is no day" in done(form, "Record it for every routine")


def test_without_a_meet_there_is_no_form(window: DeskWindow, tmp_path: Path) -> None:
    page = opened(window, tmp_path)
    press(page, "Bags, consent")
    assert "This folder holds no meet." in page.foot.text()
    assert not page.findChildren(CarryingForm)
    assert page.isAncestorOf(QApplication.focusWidget())
