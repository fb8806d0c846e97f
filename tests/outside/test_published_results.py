"""Published results of uneven bars, held against the edition that follows the published international code.

Sources: `published_rows.csv` are rows of official result sheets of 2021 to 2023. The four judges' marks are
of a meeting of 2023, the six judges' of a final of 2008 as newspapers printed them.
The bands of the reference judges are of a statistics page of 2020 on the appendix to the codes.
Arithmetic is held against Python's `decimal`.
"""

import csv
from collections.abc import Sequence
from decimal import ROUND_DOWN, ROUND_HALF_UP, Decimal
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer import rules
from reviewer.actions.posted import posted_document
from reviewer.scoring.panel import average, with_reference
from reviewer.scoring.posted import ranks, total
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedRow

HERE = Path(__file__).parent
PUBLISHED = HERE / "published_rows.csv"
ROWS = list(csv.DictReader(PUBLISHED.read_text(encoding="utf-8").splitlines()))
BOOK = rules.load(rules.find("international-bars"))
REFERENCE = rules.load(HERE.parent / "rules" / "books" / "reference-judges.yaml")
ROUNDED = rules.parse(BOOK.text.replace("rounding: truncate", "rounding: half up"), "rounded.yaml")
THOUSANDTH = Decimal("0.001")


def row(difficulty: str, execution: str, penalty: str = "0") -> PostedRow:
    return PostedRow(Points.parse(difficulty), (), Points.parse(execution), Points.parse(penalty or "0"))


def points(words: str) -> tuple[Points, ...]:
    return tuple(Points.parse(word) for word in words.split())


def contradictions(tmp_path: Path, text: str) -> list[dict[str, Any]]:
    table = tmp_path / "rows.csv"
    table.write_text(text, encoding="utf-8")
    return list(posted_document(table, "international-bars", ranks=True)["contradictions"])


def test_no_published_row_contradicts_itself() -> None:
    found = posted_document(PUBLISHED, "international-bars", ranks=True)
    assert found["rows"] == len(ROWS) == 28
    assert found["contradictions"] == []


@pytest.mark.parametrize("one", ROWS, ids=lambda one: f"{one['event']} {one['total']}")
def test_difficulty_and_execution_less_penalty_are_the_published_total(one: dict[str, str]) -> None:
    found = total(row(one["difficulty"], one["execution"], one["penalty"]), BOOK)
    assert str(found) == one["total"]


def test_a_total_a_thousandth_too_high_is_told_with_its_line(tmp_path: Path) -> None:
    raised = [one | {"total": str(Decimal(one["total"]) + THOUSANDTH)} for one in ROWS]
    lines = [",".join(ROWS[0]), *(",".join(one.values()) for one in raised)]
    assert contradictions(tmp_path, "\n".join(lines)) == [
        {"line": line, "said": changed["total"], "derived": one["total"]}
        for line, (one, changed) in enumerate(zip(ROWS, raised, strict=True), start=2)
    ]


def test_ties_of_a_final_are_parted_by_execution_and_the_ranks_are_those_published() -> None:
    final = [one for one in ROWS if one["event"] == "final 2023"]
    found = ranks([row(one["difficulty"], one["execution"]) for one in final], BOOK)
    assert [str(rank) for rank in found] == [one["rank"] for one in final]


def test_two_published_as_equal_in_all_share_their_rank() -> None:
    shared = [row("6.0", "8.133"), row("6.0", "8.133"), row("5.8", "8.133")]
    assert ranks(shared, BOOK) == (1, 1, 3)


def test_equal_total_and_execution_are_parted_by_difficulty() -> None:
    """From memory: the step after execution."""
    assert ranks([row("5.0", "8.000"), row("5.3", "8.000", "0.3")], BOOK) == (2, 1)


def test_ranks_of_a_tie_the_wrong_way_round_are_told(tmp_path: Path) -> None:
    text = PUBLISHED.read_text(encoding="utf-8")
    text = text.replace("final 2023,3,", "final 2023,X,").replace("final 2023,4,", "final 2023,3,")
    found = contradictions(tmp_path, text.replace("final 2023,X,", "final 2023,4,"))
    assert [(one["column"], one["said"], one["derived"]) for one in found] == [
        ("rank", "4", "3"),
        ("rank", "3", "4"),
    ]


def test_a_rank_shared_where_execution_parts_is_told_also_in_an_excerpt(tmp_path: Path) -> None:
    text = PUBLISHED.read_text(encoding="utf-8")
    found = contradictions(tmp_path, text.replace("final 2021,5,6.2", "final 2021,4,6.2"))
    assert [(one["column"], one["said"], one["derived"]) for one in found] == [("rank", "4", "5")]


def test_equal_rows_that_do_not_share_their_rank_are_told(tmp_path: Path) -> None:
    text = PUBLISHED.read_text(encoding="utf-8")
    found = contradictions(tmp_path, text.replace("qualification 2023,9,", "qualification 2023,10,", 1))
    assert [(one["column"], one["said"], one["derived"]) for one in found] == [("rank", "10", "9")]


@pytest.mark.parametrize(
    ("marks", "published"),
    [
        ("9.3 9.0 8.9 9.1", "9.050"),
        ("8.8 8.5 8.7 8.4", "8.600"),
        ("9.2 9.2 9.1 9.1", "9.150"),
        ("8.8 8.7 8.9 8.8", "8.800"),
        ("9.1 9.1 9.1 9.0", "9.100"),
        ("8.3 8.4 8.6 8.5", "8.450"),
        ("9.0 8.8 8.6 8.9", "8.850"),
        ("8.4 8.3 8.6 8.4", "8.400"),
    ],
)
def test_four_judges_marks_make_the_published_execution(marks: str, published: str) -> None:
    assert str(average(points(marks), BOOK)) == published


@pytest.mark.parametrize("counting", ["9.1 9.1 9.0 8.9", "9.1 9.0 9.0 9.0"])
def test_six_judges_of_a_final_make_the_published_mark_and_total(counting: str) -> None:
    """The four counting marks were printed; the highest and the lowest that fall away are ours."""
    marks = points(f"9.4 {counting} 8.5")
    assert str(average(marks, BOOK)) == "9.025"
    assert str(total(PostedRow(Points.parse("7.7"), marks, None, Points(0)), BOOK)) == "16.725"


@pytest.mark.parametrize(("best", "counts"), [("9.1 9.1 9.0", "9.066"), ("9.1 9.0 9.0", "9.033")])
def test_the_mean_of_the_three_best_is_cut_to_thousandths(best: str, counts: str) -> None:
    """27.2 / 3 = 9.0666… and 27.1 / 3 = 9.0333… parted a tie of 2008."""
    assert str(average(points(best), BOOK)) == counts


def test_a_cup_that_rounded_is_reproduced_by_a_book_that_rounds() -> None:
    """5.5 + 7.367 = 12.867 as published: a mean of three that was cut would end in 66. The marks are ours."""
    marks = points("7.3 7.4 7.4")
    assert str(average(marks, ROUNDED)) == "7.367"
    assert str(total(PostedRow(Points.parse("5.5"), marks, None, Points(0)), ROUNDED)) == "12.867"
    assert str(average(marks, BOOK)) == "7.366"


@pytest.mark.parametrize(
    ("panel", "reference", "counts"),
    [
        ("8.566", "8.900", "8.733"),
        ("8.700", "8.900", "8.700"),
        ("4.466", "5.000", "4.733"),
        ("8.633", "9.000", "8.816"),
    ],
)
def test_a_reference_beyond_the_allowed_gap_counts_half(panel: str, reference: str, counts: str) -> None:
    """Worked out from the published bands."""
    assert str(with_reference(Points.parse(panel), Points.parse(reference), REFERENCE)) == counts


@pytest.mark.parametrize(
    ("lowest", "allowed"),
    [
        ("9.6", "0.05"),
        ("9.4", "0.10"),
        ("9.0", "0.15"),
        ("8.5", "0.20"),
        ("8.0", "0.30"),
        ("7.5", "0.40"),
        ("0", "0.50"),
    ],
)
def test_each_published_band_begins_at_its_edge(lowest: str, allowed: str) -> None:
    reference = max(Points.parse(lowest), Points.parse("5"))
    edge = reference - Points.parse(allowed)
    assert with_reference(edge, reference, REFERENCE) == edge
    assert with_reference(edge - Points(1), reference, REFERENCE) != edge - Points(1)


def mean(marks: Sequence[Points], rounding: str) -> Decimal:
    exact = sum(Decimal(str(mark)) for mark in marks) / len(marks)
    return exact.quantize(THOUSANDTH, rounding=rounding)


scores = st.integers(0, 10_000).map(Points)
difficulties = st.integers(0, 100).map(lambda tenths: Points(tenths * 100))
COUNTING = {1: 1, 2: 2, 3: 3, 4: 2, 5: 3, 6: 4, 7: 3}
"""Judges on the panel to scores that count. Published for 4, 5, 6 and 7; from memory for the others."""


@given(st.lists(scores, min_size=1, max_size=7))
def test_averages_are_those_of_decimal_arithmetic(marks: list[Points]) -> None:
    away = (len(marks) - COUNTING[len(marks)]) // 2
    kept = sorted(marks)[away : len(marks) - away]
    assert Decimal(str(average(marks, BOOK))) == mean(kept, ROUND_DOWN)
    assert Decimal(str(average(marks, ROUNDED))) == mean(kept, ROUND_HALF_UP)


@given(difficulties, scores, scores)
def test_totals_are_those_of_decimal_arithmetic(
    difficulty: Points, execution: Points, penalty: Points
) -> None:
    exact = Decimal(str(difficulty)) + Decimal(str(execution)) - Decimal(str(penalty))
    found = total(PostedRow(difficulty, (), execution, penalty), BOOK)
    assert Decimal(str(found)) == max(exact, Decimal(0))


few = st.integers(0, 3).map(lambda tenths: Points(tenths * 100))
crowded = st.builds(PostedRow, few, st.just(()), few, few)


@given(st.lists(crowded, max_size=8))
def test_a_rank_is_one_more_than_the_number_of_better_rows(rows: list[PostedRow]) -> None:
    def standing(one: PostedRow) -> tuple[Decimal, ...]:
        d, e, p = (Decimal(str(part)) for part in (one.difficulty, one.execution, one.penalty))
        return max(d + e - p, Decimal(0)), e, d

    better = [sum(standing(other) > standing(one) for other in rows) for one in rows]
    assert ranks(rows, BOOK) == tuple(1 + number for number in better)


def test_a_table_of_tens_of_thousands_of_rows_is_read_whole(tmp_path: Path) -> None:
    head, *body = PUBLISHED.read_text(encoding="utf-8").splitlines()
    body = [line.partition(",")[2].partition(",")[2] for line in body]
    many = [body[place % len(body)] for place in range(24_434)]
    table = tmp_path / "many.csv"
    table.write_text("\n".join([head.removeprefix("event,rank,"), *many]), encoding="utf-8")
    found = posted_document(table, "international-bars")
    assert found["rows"] == 24_434
    assert found["contradictions"] == []
