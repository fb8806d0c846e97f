"""A report is made while the judge goes on working; it may be stopped, and then nothing of it is written."""

import re
from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QSignalSpy, QTest

from reviewer import actions
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import until


def demo(window: DeskWindow) -> None:
    """The demo case on the desk, its picture on the screen."""
    QTest.keyClick(window, Qt.Key.Key_F2)
    until(lambda: window.bench.picture is not None)


def test_a_report_made_at_the_desk_is_the_one_of_the_command_line(window: DeskWindow, tmp_path: Path) -> None:
    demo(window)
    said = QSignalSpy(window.bench.said)
    window.reporting.begin(tmp_path / "desk")
    assert window.reporting.running
    until(lambda: not window.reporting.running, 60)
    told = [words for words, _ in said]
    assert any("pictures so far" in words for words in told)
    assert told[-1] == f"The report is in {tmp_path / 'desk'}."
    audit = window.bench.audit
    assert audit is not None
    with actions.open_case(audit.path, author=None) as reader:
        actions.write_report(reader, tmp_path / "command", today="2026-11-26")
    for name in ("report.html", "report.pdf", "report.json", "case.json"):
        assert (tmp_path / "desk" / name).read_bytes() == (tmp_path / "command" / name).read_bytes()
    assert audit.case.events[-1].kind == "report-written"


def test_a_report_may_be_stopped_and_leaves_nothing(window: DeskWindow, tmp_path: Path) -> None:
    demo(window)
    window.reporting.begin(tmp_path / "none")
    QTest.keyClick(window, Qt.Key.Key_R, Qt.KeyboardModifier.ControlModifier)
    assert not window.reporting.running
    assert "stopped" in window.foot.text()
    assert not (tmp_path / "none").exists()
    assert window.bench.audit is not None
    assert window.bench.audit.case.events[-1].kind != "report-written"


def test_a_mark_made_meanwhile_makes_the_report_stale_and_it_is_not_written(
    window: DeskWindow, tmp_path: Path
) -> None:
    demo(window)
    window.reporting.begin(tmp_path / "stale")
    counted = re.compile("Making the report: [1-9]")
    until(lambda: counted.match(window.foot.text()) is not None)  # so the case was read by then
    window.bench.choose((window.bench.marks[-1].id,))
    QTest.keyClick(window.evidence, Qt.Key.Key_Delete)
    until(lambda: not window.reporting.running, 60)
    assert "has changed while its report was made" in window.foot.text()
    assert not (tmp_path / "stale").exists()
