"""Every rule case of the editions, as judges wrote them down: marks in, lines out, exact."""

from pathlib import Path

import pytest

from reviewer import rules
from reviewer.actions.examples import differences, run_cases
from reviewer.terms.rulebook import RuleBook

CASES = Path(__file__).parent / "cases"
BOOKS = Path(__file__).parent / "books"


def books() -> dict[str, RuleBook]:
    """The shipped editions and the small books of the tests, by id."""
    files = (*rules.shipped(), *sorted(BOOKS.glob("*.yaml")))
    return {book.id: book for book in map(rules.load, files)}


def files_of(book: str) -> list[Path]:
    """The files of cases of a book."""
    wanted = f"\nrule-book: {book}\n"
    return [path for path in sorted(CASES.glob("*.yaml")) if wanted in path.read_text(encoding="utf-8")]


@pytest.mark.parametrize("path", sorted(CASES.glob("*.yaml")), ids=lambda path: path.stem)
def test_what_the_rules_say_comes_out(path: Path) -> None:
    book = next(book for name, book in books().items() if path in files_of(name))
    cases = rules.read_cases(path, book)
    assert cases
    assert [str(problem.message) for case in cases for problem in differences(case, book)] == []


@pytest.mark.parametrize("path", rules.shipped(), ids=lambda path: path.stem)
def test_the_examples_in_the_clauses_come_out(path: Path) -> None:
    number, problems = run_cases(rules.load(path), path.name)
    assert number > 0
    assert problems == ()


def test_a_case_that_comes_out_otherwise_is_named_with_its_line(tmp_path: Path) -> None:
    path = tmp_path / "wrong.yaml"
    path.write_text(
        "format: reviewer.rule-cases/1\nrule-book: demo-bars-2\ncases:\n"
        "  - name: A mount alone has the full score\n    marks: [{element: pullover, roles: [mount]}]\n"
        "    expect: {final-score: 10.000, value-parts: 1}\n",
        encoding="utf-8",
    )
    _, problems = run_cases(rules.load(rules.find("demo-bars-2")), "demo-bars-2", (path,))
    assert [(one.code, one.where) for one in problems] == [("case-differs", f"{path}:4")]
    assert "expected 10.000" in str(problems[0].message)
