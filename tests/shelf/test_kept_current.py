"""The index follows the cases: what changed is read, what is gone forgotten; a bad index is made anew."""

import os
import shutil
import sqlite3
from concurrent.futures import ThreadPoolExecutor
from dataclasses import replace
from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import shelfkeeping
from reviewer.actions.searching import ShelfAnswer
from reviewer.shelf import FILE, ShelfError
from reviewer.terms.shelving import Wanted
from tests.shelf.drawn_cases import draw_cases

ALL = Wanted()


def look(folder: Path, wanted: Wanted = ALL, **also: object) -> ShelfAnswer:
    return actions.search_shelf(folder, wanted, limit=5000, recordings=False, **also)  # type: ignore[arg-type]


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    return draw_cases(tmp_path / "evening", 6)


def a_case(folder: Path) -> Path:
    return folder / "start 00001.case"


def test_only_what_changed_is_read_again(folder: Path) -> None:
    assert look(folder).kept.read == 6
    assert look(folder).kept.read == 0
    with actions.open_case(a_case(folder), author="A") as audit:
        actions.place_mark(audit, kind="fact", code="springboard-left")
    found = look(folder, Wanted(words="springboard"))
    assert (found.kept.read, found.found.total) == (1, 1)
    with actions.open_case(a_case(folder), author="A") as audit:
        actions.undo(audit)
    assert look(folder, Wanted(words="springboard")).found.total == 0


def test_a_copied_or_touched_file_is_not_read_again(folder: Path) -> None:
    before = look(folder).found
    os.utime(a_case(folder), (1, 1))
    found = look(folder)
    assert (found.kept.read, found.found.total) == (0, before.total)
    assert found.kept.cases == 6


def test_what_is_gone_is_found_no_more(folder: Path) -> None:
    before = look(folder).found.total
    a_case(folder).unlink()
    found = look(folder)
    assert found.kept.removed == 1
    assert found.found.total < before
    assert all(hit.case.path != "start 00001.case" for hit in found.found.hits)


def test_a_stop_keeps_what_was_read(folder: Path) -> None:
    stopped = look(folder, progress=lambda done, all_: done < 3)
    assert (stopped.kept.read, stopped.kept.whole) == (3, False)
    assert look(folder).kept.read == 3


def test_others_read_the_same(folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    here = look(folder).found
    shelfkeeping.remove_shelf(folder)
    monkeypatch.setattr(shelfkeeping, "MANY", 1)
    monkeypatch.setattr(shelfkeeping, "TOGETHER", 2)
    with ThreadPoolExecutor(2) as workers:
        assert look(folder, workers=workers).found == here


def test_a_withdrawn_case_is_a_count_and_nothing_more(folder: Path) -> None:
    before = look(folder).found.total
    with actions.open_case(a_case(folder), author="A") as audit:
        actions.withdraw_consent(audit)
    found = look(folder)
    assert found.locked == 1
    assert found.found.total < before
    assert "start 00001.case" not in {hit.case.path for hit in found.found.hits}


def test_a_damaged_case_is_named_and_the_rest_found(folder: Path) -> None:
    before = look(folder).found.total
    whole = a_case(folder).read_bytes()
    a_case(folder).write_bytes(whole[: len(whole) // 2])
    (folder / "no case at all.case").write_text("Anna")
    found = look(folder)
    assert sorted(problem.where for problem in found.problems) == ["no case at all.case", "start 00001.case"]
    assert 0 < found.found.total < before
    a_case(folder).write_bytes(whole)
    assert look(folder).found.total == before


def test_one_changed_byte_of_an_event_is_noticed(folder: Path) -> None:
    look(folder)
    with sqlite3.connect(a_case(folder)) as database:
        database.execute("DROP TRIGGER events_are_not_rewritten")
        database.execute("UPDATE events SET body = CAST(body || ' ' AS BLOB) WHERE number = 5")
    database.close()
    (problem,) = look(folder).problems
    assert problem.where == "start 00001.case"


@pytest.mark.parametrize("bytes_", [b"", b"no index", os.urandom(40_000)], ids=["empty", "text", "noise"])
def test_a_damaged_index_is_made_anew(folder: Path, bytes_: bytes) -> None:
    before = look(folder).found
    (folder / FILE).write_bytes(bytes_)
    assert look(folder).found == before
    assert look(folder).kept.read == 0


def test_an_index_cut_off_is_made_anew(folder: Path) -> None:
    before = look(folder).found
    (folder / FILE).write_bytes((folder / FILE).read_bytes()[:-5000])
    assert look(folder).found == before


def test_an_index_with_a_spoilt_page_is_made_anew(folder: Path) -> None:
    before = look(folder).found
    whole = bytearray((folder / FILE).read_bytes())
    whole[4096:] = bytes(len(whole) - 4096)
    (folder / FILE).write_bytes(whole)
    assert look(folder).found == before


@pytest.mark.parametrize("statement", ["PRAGMA user_version = 99", "UPDATE made SET program = '99.0'"])
def test_an_index_of_another_version_is_made_anew(folder: Path, statement: str) -> None:
    before = look(folder).found
    with sqlite3.connect(folder / FILE) as database:
        database.execute(statement)
    database.close()
    found = look(folder)
    assert (found.kept.read, found.found) == (6, before)


def test_two_at_once_wait_for_each_other(folder: Path) -> None:
    with ThreadPoolExecutor(4) as threads:
        found = list(threads.map(lambda _: look(folder).found, range(8)))
    assert all(one == found[0] for one in found)


def test_an_index_that_is_written_to_without_end_is_told(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    look(folder)
    monkeypatch.setattr("reviewer.shelf.transactions.WAIT", 0.1)
    with sqlite3.connect(folder / FILE, isolation_level=None) as other:
        other.execute("BEGIN EXCLUSIVE")
        with pytest.raises(ShelfError, match="Another process"):
            look(folder)
    other.close()


def test_without_room_for_an_index_all_is_found_and_said_so(
    folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    before = look(folder).found
    shelfkeeping.remove_shelf(folder)
    (folder / FILE).mkdir()  # nobody, not even an administrator, writes a file where a folder is
    found = look(folder)
    assert found.found == before
    assert not found.kept.on_disk
    assert [problem.code for problem in found.problems] == ["shelf-unkept"]


def test_no_folder_is_refused(tmp_path: Path) -> None:
    with pytest.raises(actions.AuditError, match="no such folder"):
        look(tmp_path / "nowhere")


def test_an_empty_folder_holds_nothing(tmp_path: Path) -> None:
    found = look(tmp_path)
    assert (found.found.total, found.kept.cases) == (0, 0)
    assert [problem.code for problem in found.problems] == ["no-cases"]


def test_what_is_forgotten_leaves_no_byte(folder: Path) -> None:
    with actions.open_case(a_case(folder), author="A") as audit:
        placed = actions.place_mark(audit, kind="element", code="cast", start=0)
        mark = next(one for one in audit.marks if one.id == placed.mark)
        actions.change_mark(audit, replace(mark, called="Quarkblume"))
    look(folder)
    assert b"Quarkblume" in (folder / FILE).read_bytes()
    actions.forget(folder, a_case(folder))
    assert b"Quarkblume" not in (folder / FILE).read_bytes()
    assert b"start 00001" not in (folder / FILE).read_bytes()


def test_with_its_last_case_the_index_goes(folder: Path) -> None:
    look(folder)
    for case in sorted(folder.rglob("*.case")):
        actions.forget(folder, case)
        case.unlink()
    assert not (folder / FILE).exists()


def test_every_folder_above_forgets(folder: Path) -> None:
    below = folder / "second session"
    look(folder)
    look(below)
    case = next(below.glob("*.case"))
    actions.forget_everywhere(case)
    for one in (folder, below):
        assert case.name.encode() not in (one / FILE).read_bytes()


def test_withdrawing_consent_leaves_nothing_in_any_index(folder: Path) -> None:
    look(folder)
    with actions.open_case(a_case(folder), author="A") as audit:
        actions.withdraw_consent(audit)
    assert b"start 00001" not in (folder / FILE).read_bytes()


def test_the_index_holds_no_name_and_no_words_of_a_person(folder: Path) -> None:
    with actions.open_case(a_case(folder), author="Q9") as audit:
        actions.write_note(audit, "<b>Annabel</b> cried", None)
        actions.place_mark(audit, kind="fact", code="springboard-left")
        audit.case.remember_place("0" * 64, Path("/home/quittenbaum/film.mp4"))
    with sqlite3.connect(a_case(folder)) as database:  # a name as older versions kept it in a case
        database.execute("INSERT INTO people VALUES ('G-7', 'Annabel Quittenbaum')")
    database.close()
    look(folder)
    kept = (folder / FILE).read_bytes().lower()
    for word in (b"annabel", b"quittenbaum", b"cried", b"film.mp4", b"q9", b"g-7"):
        assert word not in kept
    assert look(folder, Wanted(words="Annabel")).found.total == 0


def test_a_folder_carried_elsewhere_takes_its_index_with_it(folder: Path, tmp_path: Path) -> None:
    before = look(folder).found
    stick = tmp_path / "stick"
    shutil.copytree(folder, stick)
    shutil.rmtree(folder)
    found = look(stick)
    assert found.kept.read == 0
    assert [hit.passage for hit in found.found.hits] == [hit.passage for hit in before.hits]
