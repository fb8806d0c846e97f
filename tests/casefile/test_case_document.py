"""A case is one whole document on disk, written by one named person at a time."""

import shutil
import sqlite3
from datetime import UTC, datetime
from hashlib import sha256
from pathlib import Path

import pytest

from reviewer.casefile import Case, CaseError, create_case, open_case

CAST = {"id": "m1", "kind": "element", "code": "cast"}


def code_of(refused: pytest.ExceptionInfo[CaseError]) -> str:
    problem = refused.value.problems[0]
    assert problem.where
    assert str(problem.message)
    assert str(problem.remedy)
    return problem.code


def test_a_mark_is_in_the_file_before_its_call_returns(case: Case) -> None:
    event = case.append("mark-placed", {"mark": CAST})
    with open_case(case.path, None) as other:
        assert other.events[-1] == event
        assert [mark.id for mark in other.state.marks] == ["m1"]


def test_a_plain_copy_of_a_case_that_is_open_is_a_whole_case(case: Case, tmp_path: Path) -> None:
    case.append("mark-placed", {"mark": CAST})
    copy = tmp_path / "copy.case"
    shutil.copyfile(case.path, copy)
    with open_case(copy, "judge-2") as copied:
        assert copied.events == case.events
        assert copied.state == case.state


def test_the_file_is_kept_with_a_rollback_journal_and_full_sync(case: Case) -> None:
    # SQLite documentation, pragma.html: journal_mode "delete", synchronous 2 = FULL
    database = case._database
    assert database is not None
    assert database.execute("PRAGMA journal_mode").fetchone()[0] == "delete"
    assert database.execute("PRAGMA synchronous").fetchone()[0] == 2
    assert database.execute("PRAGMA foreign_keys").fetchone()[0] == 1


def test_the_header_says_what_the_file_is(case: Case) -> None:
    # SQLite documentation, fileformat2.html: application id at offset 68, user version at 60, big-endian
    header = case.path.read_bytes()[:100]
    assert header[68:72] == b"RV01"
    assert header[60:64] == b"\0\0\0\1"


@pytest.mark.parametrize("change", ["UPDATE events SET hash = 'x'", "DELETE FROM events"])
def test_events_are_never_rewritten_or_removed(case: Case, change: str) -> None:
    case.close()
    database = sqlite3.connect(case.path)
    with pytest.raises(sqlite3.IntegrityError, match="never"):
        database.execute(change)
    database.close()


def test_an_existing_file_is_never_overwritten(case_path: Path) -> None:
    case_path.write_bytes(b"the minutes of the last meet")
    with pytest.raises(CaseError) as refused:
        create_case(case_path, "judge-1", "G-07", "given")
    assert code_of(refused) == "case-exists"
    assert case_path.read_bytes() == b"the minutes of the last meet"
    assert [path.name for path in case_path.parent.iterdir()] == [case_path.name]


def test_a_case_needs_a_folder(tmp_path: Path) -> None:
    with pytest.raises(CaseError) as refused:
        create_case(tmp_path / "none" / "a.case", "judge-1", "G-07", "given")
    assert code_of(refused) == "no-folder"


def test_a_second_writer_is_told_who_writes_and_may_read(case: Case) -> None:
    with pytest.raises(CaseError) as refused:
        open_case(case.path, "judge-2")
    assert code_of(refused) == "case-held"
    assert "judge-1" in str(refused.value)
    assert "read only" in str(refused.value)
    with open_case(case.path, None) as reader:
        assert reader.events == case.events


def test_the_next_writer_follows_when_the_first_has_closed(case: Case) -> None:
    case.close()
    with open_case(case.path, "judge-2") as second:
        assert second.append("mark-placed", {"mark": CAST}).author == "judge-2"
    assert [path.name for path in case.path.parent.iterdir()] == [case.path.name]


def test_a_reader_writes_nothing(case: Case) -> None:
    with open_case(case.path, None) as reader:
        before = case.path.read_bytes()
        for write in (lambda: reader.append("mark-placed", {"mark": CAST}), reader.undo, reader.erase_texts):
            with pytest.raises(CaseError) as refused:
                write()
            assert code_of(refused) == "read-only"
        assert case.path.read_bytes() == before


def test_a_closed_case_says_so(case: Case) -> None:
    case.close()
    with pytest.raises(CaseError) as refused:
        case.append("mark-placed", {"mark": CAST})
    assert code_of(refused) == "case-closed"


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("mark-invented", {}),
        ("mark-placed", {}),
        ("mark-placed", {"mark": {"id": "m1"}}),
        ("mark-placed", {"mark": {**CAST, "at": 1.5}}),
        ("mark-placed", {"mark": {**CAST, "weight": 1.5}}),
        ("mark-placed", {"mark": {**CAST, "code": "half \ud800 pair"}}),
        ("posted-entered", {"score": "8.9000"}),
        ("rule-book-chosen", {"id": "b", "sha256": "short", "clauses": {}}),
        ("undone", {"event": "0" * 64}),
    ],
)
def test_what_is_no_event_is_refused_and_nothing_is_written(
    case: Case, kind: str, payload: dict[str, object]
) -> None:
    with pytest.raises(CaseError):
        case.append(kind, payload)
    assert len(case.events) == 1
    with open_case(case.path, None) as reader:
        assert len(reader.events) == 1


def test_a_recording_is_cited_by_ticks_that_agree_with_its_frames(case: Case) -> None:
    said = {"sha256": "a" * 64, "time_base": "1/90000", "first_pts": 0, "last_pts": 6000}
    with pytest.raises(CaseError):
        case.append("recording-cited", {**said, "frames": 4, "pts_runs": [[0, 3000, 3]]})
    case.append("recording-cited", {**said, "frames": 3, "pts_runs": [[0, 3000, 3]]})
    assert case.state.recording is not None
    assert case.state.recording.pts == (0, 3000, 6000)


def test_notes_and_paths_can_be_erased_and_the_chain_stays_whole(case: Case) -> None:
    note = case.keep_text("Feet apart on the second kip, said the athlete called Mirabelle.")
    case.append("note-written", {"sha256": note, "at": None})
    case.remember_place("b" * 64, Path("/videos/mirabelle.mp4"))
    assert case.place("b" * 64) == Path("/videos/mirabelle.mp4")
    case.erase_texts()
    assert (case.text(note), case.place("b" * 64)) == (None, None)
    case.close()
    assert b"irabelle" not in case.path.read_bytes()
    with open_case(case.path, None) as reader:
        assert reader.state.notes == ((note, None),)


def test_the_chain_and_the_export_hold_no_name_text_or_path(case: Case) -> None:
    case.append("note-written", {"sha256": case.keep_text("Mirabelle"), "at": 3})
    case.remember_place("b" * 64, Path("/Mirabelle"))
    assert "Mirabelle" not in repr(case.export())
    assert not any(b"Mirabelle" in event.body for event in case.events)


def test_a_rule_book_is_kept_under_the_hash_of_its_bytes(case: Case) -> None:
    text = "id: bücher\n"
    digest = case.keep_book(text)
    assert digest == sha256(text.encode()).hexdigest()
    assert case.book(digest) == text
    assert case.book("0" * 64) is None


def test_the_same_gestures_at_the_same_times_make_the_same_chain(tmp_path: Path) -> None:
    noon = datetime(2026, 1, 2, 12, tzinfo=UTC)
    chains = []
    for name in ("a.case", "b.case"):
        with create_case(tmp_path / name, "j", "G", "given", lambda: noon) as made:
            made.append("mark-placed", {"mark": CAST})
            chains.append(made.events)
    assert chains[0] == chains[1]
    assert chains[0][0].at == "2026-01-02T12:00:00.000000Z"
