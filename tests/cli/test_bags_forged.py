"""A forger takes files or events out of a bag, changes the page, makes the manifests anew: it is named."""

import json
import shutil
import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.exchange import list_files

IDENTIFIER = ("event", "bag-info.txt: External-Identifier")


@pytest.fixture(scope="module")
def packed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A bag without its recording, of a case at whose end two reports were written."""
    folder = tmp_path_factory.mktemp("packed")
    actions.run_demo(folder / "demo")
    with actions.open_case(folder / "demo" / "square-on.case", author="A") as audit:
        actions.write_report(audit, folder / "german", language="de")
    with actions.open_case(folder / "demo" / "square-on.case", author=None) as audit:
        assert [one.kind for one in audit.case.events[-2:]] == ["report-written"] * 2
        actions.pack_case(audit, folder / "bag", use="inquiry", today="2026-11-26")
    return folder


@pytest.fixture
def bag(packed: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(packed / "bag", tmp_path / "bag"))


def listed_anew(bag: Path) -> None:
    info = dict(line.split(": ", 1) for line in (bag / "bag-info.txt").read_text().splitlines())
    info.pop("Payload-Oxum")
    list_files(bag, info)


def named(bag: Path) -> list[tuple[str, str]]:
    listed_anew(bag)
    return [(one["what"], one["where"]) for one in actions.verify(bag)["differences"]]


def a_better_score(bag: Path) -> None:
    page = bag / "data" / "report" / "report.html"
    text = page.read_text("utf-8")
    assert "9.650" in text
    page.write_text(text.replace("9.650", "9.850"), "utf-8")


def cut(bag: Path, events: int) -> None:
    database = sqlite3.connect(bag / "data" / "routine.case")
    database.execute("DROP TRIGGER events_are_not_removed")
    database.execute("DELETE FROM events WHERE number > (SELECT max(number) FROM events) - ?", [events])
    database.commit()
    database.close()


def test_the_bag_derives_again_as_it_was_packed(bag: Path) -> None:
    assert named(bag) == []


@pytest.mark.parametrize("gone", ["report.pdf", "case.json"])
def test_a_report_that_lost_a_file_is_still_held_against_the_case(bag: Path, gone: str) -> None:
    (bag / "data" / "report" / gone).unlink()
    assert named(bag) == [("file", f"data/report/{gone}")]
    a_better_score(bag)
    found = named(bag)
    assert found[0] == ("file", f"data/report/{gone}")
    assert {what for what, _ in found[1:]} == {"page"}


def test_a_report_without_its_page_is_still_held_against_the_case(bag: Path) -> None:
    (bag / "data" / "report" / "report.html").unlink()
    finding = bag / "data" / "report" / "report.json"
    finding.write_text(finding.read_text("utf-8").replace("9.650", "9.850"), "utf-8")
    found = named(bag)
    assert found[0] == ("file", "data/report/report.html")
    assert ("ledger", "report.json: score.final_score") in found


def test_a_report_without_its_finding_says_why_the_page_was_not_checked(bag: Path) -> None:
    (bag / "data" / "report" / "report.json").unlink()
    assert named(bag) == [("file", "data/report/report.json")]
    why = {one["what"]: one["why"] for one in actions.verify(bag)["not_checked"]}
    assert "report.json" in why["ledger"]
    assert "report.json" in why["pages"]


@pytest.mark.parametrize("events", [1, 2])
def test_events_cut_off_the_end_are_named_by_what_the_bag_was_packed_after(bag: Path, events: int) -> None:
    cut(bag, events)
    assert named(bag) == [IDENTIFIER]
    (found,) = actions.verify(bag)["differences"]
    assert "which is gone" in found["stored"]


def test_an_event_added_after_packing_is_named(bag: Path) -> None:
    with actions.open_case(bag / "data" / "routine.case", author="A") as audit:
        number = len(audit.case.events)
        actions.write_note(audit, "written later")
    shutil.rmtree(bag / "data" / "report")
    assert named(bag) == [IDENTIFIER]
    (found,) = actions.verify(bag)["differences"]
    assert (found["stored"], found["derived"]) == (
        f"packed after event {number}",
        f"the case goes on to event {number + 1}",
    )


def test_a_bag_that_does_not_say_what_it_was_packed_after_is_named(bag: Path) -> None:
    info = bag / "bag-info.txt"
    lines = info.read_text().splitlines(keepends=True)
    info.write_text("".join(line for line in lines if not line.startswith("External-Identifier")))
    assert named(bag) == [IDENTIFIER]


def test_a_judges_own_pack_names_the_last_event_that_went_with_it(packed: Path, tmp_path: Path) -> None:
    case = shutil.copy(packed / "demo" / "square-on.case", tmp_path)
    with actions.open_case(Path(case), author="A") as audit:
        last = audit.case.events[-1].hash
        made = actions.pack_case(audit, tmp_path / "own", use="inquiry", today="2026-11-26")
    assert made["head"] == last
    assert actions.verify(tmp_path / "own")["differences"] == []


def test_a_bag_that_lost_its_case_is_held_against_the_case_in_its_report(bag: Path) -> None:
    (bag / "data" / "routine.case").unlink()
    assert named(bag) == [("file", "data/routine.case")]
    a_better_score(bag)
    found = named(bag)
    assert found[0] == ("file", "data/routine.case")
    assert {what for what, _ in found[1:]} == {"page"}


@pytest.mark.parametrize("packed_up", [False, True])
def test_a_broken_case_is_named_by_its_place_in_the_bag(bag: Path, packed_up: bool) -> None:
    (bag / "data" / "routine.case").write_bytes(b"SQLite format 3\0")
    listed_anew(bag)
    place = Path(shutil.make_archive(str(bag), "zip", bag.parent, "bag")) if packed_up else bag
    (found,) = actions.verify(place)["differences"]
    assert (found["what"], found["where"]) == ("file", "data/routine.case")
    assert "damaged" in found["stored"]


def test_a_broken_case_is_not_signed_and_named_by_its_place_in_the_bag(bag: Path, tmp_path: Path) -> None:
    (bag / "data" / "routine.case").write_bytes(b"SQLite format 3\0")
    listed_anew(bag)
    actions.make_key(tmp_path / "a.pem")
    with pytest.raises(actions.AuditError) as refused:
        actions.sign_bag(bag, tmp_path / "a.pem")
    assert [one.where for one in refused.value.problems] == ["data/routine.case"]


def test_a_case_written_in_another_form_beside_the_report_is_named_itself(bag: Path) -> None:
    beside = bag / "data" / "report" / "case.json"
    case = json.loads(beside.read_bytes())
    beside.write_text(json.dumps(case), "utf-8")
    assert named(bag) == [("file", "case.json")]
    beside.write_text(json.dumps(case | {"remark": "the judge agreed"}), "utf-8")
    assert named(bag) == [("file", "case.json: remark")]


@pytest.mark.parametrize("name", ["report.json", "case.json"])
def test_a_document_of_a_bag_that_is_nested_without_end_is_named_and_the_rest_checked(
    bag: Path, name: str
) -> None:
    (bag / "data" / "report" / name).write_text("[" * 100_000)
    assert named(bag) == [("file", f"data/report/{name}")]
    (found,) = actions.verify(bag)["differences"]
    assert "line 1 column 101" in found["stored"]
    assert "readings" in actions.verify(bag)["checked"]


def test_a_signature_that_is_nested_without_end_is_named(bag: Path) -> None:
    (bag / f"signature-{'0' * 16}.json").write_text("[" * 60_000)
    assert named(bag) == [("signature", f"signature-{'0' * 16}.json")]


def test_a_folder_of_something_else_is_neither_report_nor_bag_nor_case(tmp_path: Path) -> None:
    command = [sys.executable, "-m", "reviewer", "verify", str(tmp_path), "--json"]
    found = subprocess.run(command, capture_output=True, text=True)
    (problem,) = json.loads(found.stdout)["problems"]
    assert (found.returncode, problem["where"]) == (2, str(tmp_path))
    assert "neither a report nor a bag" in problem["message"]
