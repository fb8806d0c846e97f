"""What is no case is refused with its place and a remedy, and left as it was."""

import os
import sqlite3
from pathlib import Path

import pytest

from reviewer.casefile import Case, CaseError, open_case, read_events


def refused(path: Path, author: str | None = None) -> str:
    with pytest.raises(CaseError) as caught:
        open_case(path, author)
    problem = caught.value.problems[0]
    assert str(path) in problem.where
    assert str(problem.remedy)
    return problem.code


@pytest.mark.parametrize("author", [None, "judge-2"])
def test_what_is_no_case_is_refused(tmp_path: Path, author: str | None) -> None:
    (tmp_path / "empty.case").write_bytes(b"")
    (tmp_path / "text.case").write_text("SQLite, but only in words")
    assert refused(tmp_path / "missing.case", author) == "no-file"
    assert refused(tmp_path, author) == "a-folder"
    assert refused(tmp_path / "empty.case", author) == "not-a-case"
    assert refused(tmp_path / "text.case", author) == "not-a-case"
    assert not (tmp_path / "missing.case").exists()
    assert not list(tmp_path.glob("*.writing"))


@pytest.mark.parametrize("author", [None, "judge-2"])
def test_another_sqlite_file_is_no_case_and_stays_as_it_was(tmp_path: Path, author: str | None) -> None:
    path = tmp_path / "other.case"
    database = sqlite3.connect(path)
    database.execute("CREATE TABLE songs (title)")
    database.commit()
    database.close()
    before = path.read_bytes()
    assert refused(path, author) == "not-a-case"
    assert path.read_bytes() == before


@pytest.mark.parametrize("author", [None, "judge-2"])
def test_a_case_of_a_newer_format_is_refused(case: Case, author: str | None) -> None:
    case.close()
    database = sqlite3.connect(case.path)
    database.execute("PRAGMA user_version = 2")
    database.close()
    before = case.path.read_bytes()
    assert refused(case.path, author) == "newer-case"
    assert case.path.read_bytes() == before


def test_a_case_cut_off_anywhere_is_refused_in_words(case: Case) -> None:
    for number in range(60):
        case.append("mark-placed", {"mark": {"id": f"m{number}", "kind": "element", "code": "cast"}})
    case.close()
    whole = case.path.read_bytes()
    assert len(whole) > 12 * 4096
    for size in (16, 50, 100, 1000, 4096, 5000, 8192, len(whole) // 2, len(whole) - 4096, len(whole) - 1):
        case.path.write_bytes(whole[:size])
        assert refused(case.path) in ("case-damaged", "not-a-case"), size
        assert refused(case.path, "judge-1") in ("case-damaged", "not-a-case"), size


@pytest.mark.parametrize("table", ["events", "books"])
def test_a_case_that_lacks_a_table_is_refused_in_words(case: Case, table: str) -> None:
    case.close()
    database = sqlite3.connect(case.path)
    database.execute(f"DROP TABLE {table}")
    database.close()
    with pytest.raises(CaseError), open_case(case.path, None) as reader:
        reader.books()


def test_rows_of_any_kind_are_read_raw_for_the_check_to_name(case: Case) -> None:
    case.close()
    database = sqlite3.connect(case.path)
    database.executescript(
        "DROP TABLE events; CREATE TABLE events (number, hash, body);"
        "INSERT INTO events VALUES (1, NULL, NULL), (2, x'ff', 'text'), ('three', 3, 3.5), (4, 'h', '[[[');"
    )
    database.close()
    events = read_events(case.path)
    assert [event.kind for event in events] == [""] * 4
    assert refused(case.path) == "event-changed"


@pytest.mark.skipif(os.name != "posix" or os.geteuid() == 0, reason="the superuser may write anywhere")
def test_a_folder_nobody_may_write_to_is_named(case: Case) -> None:
    case.close()
    case.path.parent.chmod(0o500)
    try:
        assert refused(case.path, "judge-1") == "cannot-write"
        open_case(case.path, None).close()
    finally:
        case.path.parent.chmod(0o700)
