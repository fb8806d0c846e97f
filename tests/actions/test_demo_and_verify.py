"""The main job on the sample clip; and a report that a colleague derives again, or catches."""

import json
import os
import shutil
import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.terms.exact import Points


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("demo")
    actions.run_demo(folder)
    return folder


@pytest.fixture
def copy(made: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(made, tmp_path / "copy"))


def differences(folder: Path, recording: Path | None = None) -> list[tuple[str, str]]:
    found = actions.verify(folder / "report", recording=recording, pictures=recording is not None)
    assert found["same"] == (not found["differences"])
    return [(one["what"], one["where"]) for one in found["differences"]]


def edit(path: Path, change: Callable[[Any], None]) -> None:
    document = json.loads(path.read_bytes())
    change(document)
    path.write_text(json.dumps(document), encoding="utf-8")


def test_the_demo_gives_the_ledger_that_was_marked_in_the_window(made: Path) -> None:
    score = actions.score_document(made / "square-on.case", posted=Points.parse("9.700"))
    assert (score["start_value"], score["final_score"]) == ("10.000", "9.650")
    assert [(line["clause"], line["points"], line["frames"][0]["frame"]) for line in score["lines"]] == [
        ("fault.legs-apart", "-0.100", 288),
        ("fault.arms-bent", "-0.100", 346),
        ("fault.medium-step", "-0.150", 738),
    ]
    assert score["posted"] == {"score": "9.700", "reachable": True, "nearest": "9.700"}


def test_an_untouched_report_derives_again_down_to_its_pictures(copy: Path) -> None:
    assert differences(copy, copy / "square-on.mp4") == []


def test_a_report_has_the_same_bytes_each_time(copy: Path) -> None:
    with actions.open_case(copy / "square-on.case", author="A") as audit:
        first = actions.write_report(audit, copy / "one")["files"]
        again = actions.write_report(audit, copy / "two")["files"]
        assert [event.kind for event in audit.case.events].count("report-written") == 1
    assert first == again
    assert set(first) == {"report.html", "report.pdf", "report.json", "case.json"}


def test_a_changed_event_is_named(copy: Path) -> None:
    def change(case: Any) -> None:
        case["events"][6]["body"] = case["events"][6]["body"].replace('"author":"A"', '"author":"B"')

    edit(copy / "report" / "case.json", change)
    assert differences(copy) == [("event", "7")]


def test_a_removed_event_is_named(copy: Path) -> None:
    edit(copy / "report" / "case.json", lambda case: case["events"].pop(4))
    assert differences(copy)[0] == ("event", "5")


def test_a_changed_rule_value_is_named_by_its_clause(copy: Path) -> None:
    def change(case: Any) -> None:
        for digest, text in case["books"].items():
            changed = text.replace("fault.medium-step", "fault.medium-step", 1)
            place = changed.index("fault.medium-step")
            case["books"][digest] = changed[:place] + changed[place:].replace("0.150", "0.100", 1)

    edit(copy / "report" / "case.json", change)
    found = differences(copy)
    assert ("clause", "fault.medium-step") in found
    assert {what for what, _ in found} == {"clause", "rule"}


def test_a_changed_ledger_line_is_named(copy: Path) -> None:
    def change(finding: Any) -> None:
        finding["score"]["lines"][2]["points"] = "-0.050"

    edit(copy / "report" / "report.json", change)
    assert ("ledger", "report.json: score.lines[2].points") in differences(copy)


def test_a_changed_picture_is_named_by_its_frame(copy: Path) -> None:
    page = copy / "report" / "report.html"
    text = page.read_text(encoding="utf-8")
    start = text.index('id="frame-346-picture"')
    place = text.index("base64,", start) + 4000
    swapped = "A" if text[place] != "A" else "B"
    page.write_text(text[:place] + swapped + text[place + 1 :], encoding="utf-8")
    assert differences(copy) == [("picture", "report.html: frame 346")]


def test_a_changed_word_on_the_page_is_named_by_its_line(copy: Path) -> None:
    page = copy / "report" / "report.html"
    text = page.read_text(encoding="utf-8")
    page.write_text(text.replace("Arms bent", "Arms straight", 1), encoding="utf-8")
    (found,) = differences(copy)
    assert found[0] == "page"


def test_another_recording_is_named(copy: Path) -> None:
    other = copy / "square-on.mp4"
    other.write_bytes(other.read_bytes() + b"\0")
    assert differences(copy, other)[0] == ("recording", "square-on.mp4")


def test_a_changed_event_in_the_case_itself_is_named(copy: Path) -> None:
    case = copy / "square-on.case"
    with sqlite3.connect(case) as rows:
        rows.execute("DROP TRIGGER events_are_not_rewritten")
        changed = "CAST(replace(CAST(body AS TEXT), 'arms-bent', 'legs-bent') AS BLOB)"
        rows.execute(f"UPDATE events SET body = {changed} WHERE number > 3")
    rows.close()
    found = actions.verify(case)
    assert not found["same"]
    assert found["differences"][0]["what"] == "event"
    assert [one["what"] for one in found["not_checked"]] == ["recording", "readings", "ledger", "pages"]


def test_a_demo_for_passing_goes_with_its_process_and_those_of_killed_ones_with_the_next(
    tmp_path: Path,
) -> None:
    made = "import os; from reviewer import actions; print(actions.fresh_demo(), flush=True)"
    kept = tmp_path / "reviewer-passing-demo-of-mine"
    kept.mkdir()

    def case(then: str) -> Path:
        told = subprocess.run(
            [sys.executable, "-c", f"{made}; {then}"],
            env={**os.environ, "TMPDIR": str(tmp_path)}, capture_output=True, text=True, check=False,
        )  # fmt: skip
        return Path(told.stdout.strip())

    killed = case("os._exit(9)")
    assert killed.is_file()
    in_use = case("os._exit(9)")
    assert not killed.exists()
    with actions.open_case(in_use, author="B"):
        assert not case("pass").exists()
        assert in_use.is_file()
    assert not case("pass").parent.exists()
    assert list(tmp_path.iterdir()) == [kept]


def test_a_moved_recording_is_found_again_by_its_fingerprint(copy: Path, tmp_path: Path) -> None:
    away = tmp_path / "elsewhere"
    away.mkdir()
    shutil.move(copy / "square-on.case", away / "kept.case")
    shutil.move(copy / "square-on.mp4", away / "renamed.mp4")
    with actions.open_case(away / "kept.case", author=None) as audit:
        assert audit.recording_path is not None
        assert audit.recording_path.is_file()


def test_a_reading_kept_on_a_cast_is_one_step_of_undo(copy: Path) -> None:
    with actions.open_case(copy / "square-on.case", author="A") as audit:
        before, clicks = audit.state, audit.readings[0].clicks
        change = actions.take_and_confirm(audit, clicks, "m5")
        assert change.what == {"marks", "sheet", "readings"}
        assert len(audit.readings) == len(before.readings) + 1
        actions.undo(audit)
        assert (audit.marks, audit.state.readings) == (before.marks, before.readings)
        actions.redo(audit)
        assert next(mark for mark in audit.marks if mark.id == "m5").angle != before.marks[4].angle
