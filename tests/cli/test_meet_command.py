"""How many routines of a meet to audit, and which ones by lot, from the command line."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from scipy.stats import hypergeom

Run = Callable[..., tuple[int, str, str]]
TABLE = "\ufeffDivision;START;Posted\n" + "".join(
    f"{'two' if number % 4 else 'three'};{number};8,{number:03d}\n" for number in range(1, 41)
)


@pytest.fixture
def table(tmp_path: Path) -> Path:
    """Forty starts, a quarter in one division; with a byte order mark and semicolons."""
    path = tmp_path / "starts.csv"
    path.write_text(TABLE, encoding="utf-8")
    return path


def test_the_size_is_said_with_what_it_means(reviewer: Run) -> None:
    code, out, _ = reviewer("meet", "size", "--of", "200", "--rarer-than", "5")
    assert code == 0
    assert out.startswith("51: If none of 51 routines has the fault, fewer than 5 % of all have it")
    missed = hypergeom.pmf(0, 200, 10, 51)
    assert f"Were 10 of the 200 faulty, a lot of 51 would hold none of them {100 * missed:.1f} times" in out


def test_a_share_is_told_with_what_it_was_worked_out_for(reviewer: Run) -> None:
    """385 by Cochran's formula with z = 1.96 (1.96² / (4 · 0.05²) = 384.2, rounded up)."""
    code, out, _ = reviewer("meet", "size", "--within", "5")
    assert code == 0
    assert out.startswith("385: A sample of 385 tells any share to within 5 points")
    assert "a share of one half" in out


def test_one_question_at_a_time(reviewer: Run) -> None:
    assert reviewer("meet", "size", "--of", "200")[0] == 2
    assert reviewer("meet", "size", "--within", "5", "--rarer-than", "5")[0] == 2


def test_a_sample_is_drawn_again_with_its_seed(reviewer: Run, table: Path) -> None:
    first, again = (reviewer("meet", "sample", table, "--number", "8", "--seed", "7", "--json") for _ in "ab")
    assert first == again
    found = json.loads(first[1])
    assert (found["of"], len(found["drawn"]), found["seed"]) == (40, 8, "7")
    assert [one["lot"] for one in found["drawn"]] == sorted(one["lot"] for one in found["drawn"])


def test_a_column_of_any_case_gives_the_strata(reviewer: Run, table: Path) -> None:
    code, out, _ = reviewer("meet", "sample", table, "--number", "8", "--seed", "7", "--by", "DIVISION")
    drawn = [int(line) for line in out.splitlines()]
    assert code == 0
    assert sum(number % 4 == 0 for number in drawn) == 2


@pytest.mark.parametrize(
    ("text", "number", "said", "where"),
    [
        ("start\n1\n2\n1\n", "2", "start-twice", "starts.csv:4"),
        ("start;x\n1;a\n;b\n", "1", "no-start", "starts.csv:3"),
        ("name\n1\n", "1", "missing-column", "starts.csv:1"),
        ("start\n1\n2\n", "3", "no-sample", "starts.csv"),
        ("", "1", "no-rows", "starts.csv:1"),
    ],
)
def test_what_is_wrong_is_named_with_its_line(
    reviewer: Run, tmp_path: Path, text: str, number: str, said: str, where: str
) -> None:
    path = tmp_path / "starts.csv"
    path.write_text(text, encoding="utf-8")
    code, out, _ = reviewer("meet", "sample", path, "--number", number, "--seed", "7", "--json")
    (problem,) = json.loads(out)["problems"]
    assert (code, problem["code"], problem["where"]) == (2, said, where)
