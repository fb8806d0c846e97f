"""`reviewer posted` as a person types it: tables from many hands, and what is wrong with them."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

BOOK = "international-bars"
HEAD = "difficulty,execution,penalty,total\n"
GOOD = "6.7,8.400,,15.100\n"
BAD = "6.3,8.466,0.3,14.467\n"


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


@pytest.fixture
def table(tmp_path: Path) -> Path:
    return tmp_path / "rows.csv"


def answer(table: Path, content: str | bytes, code: int, book: str = BOOK, *more: str) -> dict[str, Any]:
    table.write_bytes(content.encode() if isinstance(content, str) else content)
    found = run("posted", table, "--rule-book", book, "--json", *more)
    assert found.returncode == code, found.stdout + found.stderr
    return dict(json.loads(found.stdout))


def problems(table: Path, content: str | bytes, *more: str) -> list[tuple[str, str]]:
    found = answer(table, content, 2, BOOK, *more)["problems"]
    assert all(one["remedy"] for one in found)
    return [(one["code"], one["where"]) for one in found]


def test_rows_that_agree_end_with_yes(table: Path) -> None:
    found = answer(table, HEAD + GOOD * 2, 0)
    assert (found["format"], found["rows"], found["contradictions"]) == ("reviewer.posted/1", 2, [])


def test_a_row_that_contradicts_itself_is_named_with_its_line(table: Path) -> None:
    found = answer(table, HEAD + GOOD + BAD, 1)
    assert found["contradictions"] == [{"line": 3, "said": "14.467", "derived": "14.466"}]


def test_the_same_in_words(table: Path) -> None:
    table.write_text(HEAD + GOOD + BAD)
    found = run("posted", table, "--rule-book", BOOK)
    assert found.returncode == 1
    assert found.stdout == (
        "rows.csv:3: total is 14.467, by the rule book 14.466.\nRows: 2; contradictions: 1.\n"
    )


@pytest.mark.parametrize(
    "content",
    [
        b"\xef\xbb\xbf" + (HEAD + GOOD).encode(),
        "Difficulty , EXECUTION,Penalty,Total\r\n6.7, 8.400 ,,15.1\r\n\r\n",
        "difficulty;execution;penalty;total\n6,7;8,400;;15,100\n",
        "difficulty\texecution\tpenalty\ttotal\n6.7\t8.400\t\t15.100\n",
        'club,difficulty,execution,total\n"Harbour Club, ""first""\nteam",6.7,8.400,15.100\n',
        "difficulty,execution,penalty,total,\n6.7,8.400,,15.100,\n,,,,\n",
        "difficulty,e1,e2,e3,e4,total\n6.7,8.4,8.4,8.5,8.3,15.1\n",
        "difficulty,e1,e2,e3,e4,e5,execution,total\n6.7,8.4,8.4,8.5,8.3,,8.4,15.1\n",
    ],
    ids=["BOM", "CRLF and capitals", "semicolons", "tabs", "quoted", "trailing commas", "judges", "both"],
)
def test_tables_from_many_hands_are_read(table: Path, content: str | bytes) -> None:
    assert answer(table, content, 0)["rows"] == 1


def test_lines_are_those_of_the_file_also_after_a_quoted_line_break(table: Path) -> None:
    found = answer(table, 'club,difficulty,execution,total\n"a\nb",6.7,8.4,15.1\n\n"c",6.7,8.4,15.2\n', 1)
    assert [one["line"] for one in found["contradictions"]] == [5]


def test_an_execution_that_is_not_the_average_of_its_marks_is_told(table: Path) -> None:
    found = answer(table, "difficulty,e1,e2,e3,execution,total\n6.0,8.5,8.6,8.6,8.567,14.567\n", 1)
    assert found["contradictions"] == [
        {"line": 2, "column": "execution", "said": "8.567", "derived": "8.566"}
    ]


def test_ranks_are_held_against_the_totals_of_their_event(table: Path) -> None:
    rows = "one,1,6.7,8.4,15.1\none,2,6.5,8.266,14.766\none,2,6.3,8.466,14.766\ntwo,1,5.0,8.0,13.0\n"
    content = "event,rank,difficulty,execution,total\n" + rows
    found = answer(table, content, 1, BOOK, "--ranks")
    assert found["contradictions"] == [{"line": 3, "column": "rank", "said": "2", "derived": "3"}]
    assert answer(table, content, 0)["contradictions"] == []


def test_where_judges_begin_at_the_start_value_the_average_is_the_column(table: Path) -> None:
    rows = "average,penalty,total\n8.500,2.3,6.200\n4.500,2.0,4.000\n9.000,0.3,8.600\n"
    found = answer(table, rows, 1, "demo-bars-2")
    assert found["contradictions"] == [{"line": 4, "said": "8.600", "derived": "8.700"}]


def test_every_problem_is_told_at_once_with_its_line(table: Path) -> None:
    rows = "6.7,8.4000,,15.1,0\n-6.7,8.4,-0.3,x,\n6.7,,,1e1,\n"
    assert problems(table, HEAD.replace("total", "total,rank") + rows, "--ranks") == [
        ("bad-value", "rows.csv:2"),
        ("bad-value", "rows.csv:2"),
        ("negative", "rows.csv:3"),
        ("negative", "rows.csv:3"),
        ("bad-value", "rows.csv:3"),
        ("bad-value", "rows.csv:4"),
        ("bad-value", "rows.csv:4"),
    ]


def test_missing_columns_are_named_together_with_bad_values(table: Path) -> None:
    assert problems(table, "difficulty,penalty\n6.7,x\n") == [
        ("missing-column", "rows.csv:1"),
        ("missing-column", "rows.csv:1"),
        ("bad-value", "rows.csv:2"),
    ]


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        ("", ("no-rows", "rows.csv:1")),
        (HEAD, ("no-rows", "rows.csv:1")),
        (HEAD + "6.7,8,400,,15,100\n", ("too-many-cells", "rows.csv:2")),
        (HEAD + '6.7,"8.4,,15.1\n', ("not-csv", "rows.csv:2")),
        (HEAD.encode() + b"6.7,8.4,,15.1\n\xff,,,\n", ("not-utf-8", "rows.csv:3")),
        (HEAD.encode("utf-16"), ("not-utf-8", "rows.csv:1")),
        ("total," + HEAD + "1," + GOOD, ("column-twice", "rows.csv:1")),
    ],
    ids=["empty", "header only", "commas as decimal signs", "open quote", "Latin", "UTF-16", "column twice"],
)
def test_what_is_no_table_is_refused(table: Path, content: str | bytes, expected: tuple[str, str]) -> None:
    assert expected in problems(table, content)


def test_a_file_that_is_too_large_a_folder_or_not_there_is_refused(table: Path, tmp_path: Path) -> None:
    with table.open("wb") as large:
        large.truncate(50 * 1024 * 1024 + 1)
    for path, code in ((table, "too-large"), (tmp_path, "a-folder"), (tmp_path / "none.csv", "no-file")):
        found = run("posted", path, "--rule-book", BOOK, "--json")
        assert found.returncode == 2
        assert [one["code"] for one in json.loads(found.stdout)["problems"]] == [code]


def test_an_unknown_rule_book_is_refused(table: Path) -> None:
    assert answer(table, HEAD + GOOD, 2, "no-such-book")["problems"]
