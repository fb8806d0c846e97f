"""Rule cases with faults: every one at once, with file, line and remedy, before any case is run."""

from pathlib import Path

import pytest

from reviewer import rules
from reviewer.actions.examples import run_cases
from reviewer.terms.problems import Problem, ReviewerError

BOOK = rules.load(rules.find("demo-bars-2"))
SMALL = (Path(__file__).parent / "small-book.yaml").read_text(encoding="utf-8")
HEAD = """format: reviewer.rule-cases/1
rule-book: demo-bars-2
routines:
  one: [{id: a, element: cast}]
cases:
"""
LINES = HEAD.count("\n")


def problems_of(path: Path, text: str) -> tuple[Problem, ...]:
    path.write_text(text, encoding="utf-8")
    with pytest.raises(ReviewerError) as caught:
        run_cases(BOOK, "demo-bars-2", (path,))
    assert all(str(one.message) and str(one.remedy) for one in caught.value.problems)
    return caught.value.problems


@pytest.fixture
def path(tmp_path: Path) -> Path:
    return tmp_path / "cases.yaml"


BAD = {
    "an unknown clause": ("about: [no-such], marks: []", "unknown-clause"),
    "an unknown routine": ("routine: whole", "unknown-routine"),
    "an unknown mark left out": ("routine: one, leave-out: [b]", "unknown-mark"),
    "an unknown mark changed": ("routine: one, change: {b: {angle: -40}}", "unknown-mark"),
    "a place before an unknown mark": ("routine: one, marks: [{element: cast, before: z}]", "unknown-mark"),
    "a clause that leaves nothing open": ("routine: one, choose: {fault.fall: other}", "not-open"),
    "a word that is no reading": ("routine: one, choose: {few-value-parts: kindly}", "bad-value"),
    "an unknown figure": ("routine: one, expect: {beauty: 10}", "unknown-figure"),
    "an amount that is none": ("marks: [{fault: fall, amount: lots}]", "bad-value"),
    "an absurd amount": ("marks: [{fault: fall, amount: 1e999999}]", "bad-value"),
    "an amount of four places": ("marks: [{fault: fall, amount: 0.1234}]", "bad-value"),
    "an angle that is none": ("marks: [{element: cast, angle: steep}]", "bad-value"),
    "an uncertainty that is none": ("marks: [{element: cast, angle: -40, u: some}]", "bad-value"),
    "a verdict that is none": ("marks: [{element: cast, verdict: lovely}]", "bad-value"),
    "a clock that is none": ("marks: [{fault: fall, clock: late}]", "bad-value"),
    "a length that is none": ("marks: [{fact: extra-matting, length: 9}]", "bad-value"),
    "a mark of two kinds": ("marks: [{element: cast, fault: fall}]", "bad-value"),
    "a mark of no kind": ("marks: [{id: a}]", "bad-value"),
    "an unknown field of a mark": ("marks: [{element: cast, mood: fine}]", "unknown-field"),
    "an unknown field of a case": ("routine: one, mood: fine", "unknown-field"),
    "marks that are no list": ("marks: cast", "no-list"),
    "two questions": ("panel: {scores: {A: 9.0}}, rows: [{execution: 8.0}]", "bad-value"),
    "a score that is none": ("panel: {scores: {A: nine}}", "bad-value"),
    "a time that is none": (
        "inquiry: {asked-by: coach, about: start value, after: soon, recording: yes}", "bad-value"),
    "a row without execution": ("rows: [{difficulty: 6.3}]", "missing-field"),
    "nothing expected": ("routine: one, expect: {}", "bad-value"),
}  # fmt: skip


@pytest.mark.parametrize(("said", "code"), BAD.values(), ids=BAD)
def test_a_case_with_a_fault_is_told_at_its_line(path: Path, said: str, code: str) -> None:
    expect = "" if "expect:" in said else ", expect: {final-score: 10}"
    found = problems_of(path, f"{HEAD}  - {{name: N, {said}{expect}}}\n")
    assert code in [one.code for one in found]
    assert {one.where for one in found} == {f"{path}:{LINES + 1}"}


def test_all_faults_of_a_file_are_told_at_once(path: Path) -> None:
    told = {key: said for key, (said, code) in BAD.items() if code not in ("unknown-figure", "bad-value")}
    cases = "".join(f"  - {{name: N, {said}, expect: {{final-score: 10}}}}\n" for said in told.values())
    found = problems_of(path, HEAD + cases)
    assert {one.where for one in found} == {f"{path}:{LINES + n}" for n in range(1, len(told) + 1)}


def test_two_fields_of_one_name_are_told(path: Path) -> None:
    found = problems_of(path, f"{HEAD}  - {{name: N, name: M, routine: one, expect: {{final-score: 10}}}}\n")
    assert [(one.code, one.where) for one in found] == [("duplicate-key", f"{path}:{LINES + 1}")]


def test_cases_of_another_book_are_refused(path: Path) -> None:
    text = HEAD.replace("demo-bars-2", "international-bars")
    text += "  - {name: N, routine: one, expect: {value-parts: 0}}\n"
    (problem,) = problems_of(path, text)
    assert (problem.code, problem.where) == ("other-book", f"{path}:2")


@pytest.mark.parametrize("text", ["", "[]", "cases", "a: &a [1]", "a: [", "\0", "x" * 2_000_000])
def test_what_are_no_cases_is_told(path: Path, text: str) -> None:
    assert all(str(path) in one.where for one in problems_of(path, text))


def test_an_example_in_a_clause_with_a_fault_is_told_at_its_line() -> None:
    book = rules.parse(
        SMALL
        + "  - {id: own, title: T, since: 2026-08-01, source: from memory, rule: note, says: x, examples: "
        "[{name: N, marks: [{fault: fall, amount: lots}], expect: {final-score: 10}}]}\n",
        "own.yaml",
    )
    with pytest.raises(ReviewerError) as caught:
        run_cases(book, "own.yaml")
    assert [(one.code, one.where) for one in caught.value.problems] == [
        ("bad-value", f"own.yaml:{SMALL.count(chr(10)) + 1}")
    ]


def test_a_case_that_differs_says_what_came_out_and_what_was_expected(path: Path) -> None:
    path.write_text(f"{HEAD}  - {{name: Both, routine: one, expect: {{value-parts: 3, average: 1}}}}\n")
    number, found = run_cases(BOOK, "demo-bars-2", (path,))
    assert [one.code for one in found] == ["case-differs", "case-differs"]
    assert number > 1
    assert "value parts: 1, expected 3" in str(found[0].message)
