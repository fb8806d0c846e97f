"""No rule in code: with every code of a book renamed, all its cases come out as before.

Renamed are elements, faults, facts, requirements, roles, conditions, letters of values and ids of clauses, in
the book and in its cases alike.
"""

import ast
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import yaml

from reviewer import rules
from reviewer.actions.examples import differences
from reviewer.rules.clauses import READERS
from reviewer.terms.provisions import ElementValues, Required
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import STAGES
from reviewer.terms.vocabulary import REASONS, TESTS

CASES = Path(__file__).parent / "cases"
PROGRAM = Path(__file__).parents[2] / "reviewer"

_IN_BOOKS = {
    "id": "clause",
    "roles": "role",
    "role": "role",
    "may-be": "role",
    "not-in": "role",
    "conditions": "condition",
    "condition": "condition",
    "with": "condition",
    "parted-by": "condition",
    "joined-by": "condition",
    "not-when": "condition",
    "unless": "condition",
    "code": "element",
    "elements": "element",
    "into": "element",
    "not-elements": "element",
    "requirement": "requirement",
    "fulfils": "requirement",
    "fault": "fault",
    "faults": "fault",
    "by": "fault",
    "after": "fault",
    "not-on-top-of-it": "fault",
    "fact": "fact",
    "value": "letter",
    "values": "letter",
    "at-least": "letter",
}
"""Fields of clauses that hold codes, or map codes to something, and what the codes are of."""
_IN_MARKS = {
    "element": "element",
    "fault": "fault",
    "fact": "fact",
    "roles": "role",
    "with": "condition",
}
_IN_CASES = {"about": "clause", "clause": "clause", "refused-by": "clause", "choose": "clause"}
_ELSEWHERE = {"value-parts": "a figure of a rule case", "circle": "a problem of rule books that contradict"}
VOCABULARY = {*REASONS, *TESTS, *STAGES, *READERS, *_ELSEWHERE}
"""Words of the program itself that some edition also has as a code: the closed list of reasons, the tests
that withhold credit, the stages of the ledger, the kinds of clause, and the words above."""
WORDS = PROGRAM / "words" / "spoken.py"
SHOWN = {"keys.py": "EXAMPLES"}
"""What shows people by example what they may type; nothing is decided by it."""


class Names:
    """Every code of a book, each with a new name that says nothing."""

    def __init__(self, book: RuleBook) -> None:
        values = book.one(ElementValues)
        known = {
            "clause": [one.id for one in book.clauses],
            "element": [one.code for one in book.elements],
            "fault": [one.code for one in book.faults],
            "fact": [one.code for one in book.facts],
            "requirement": [one.code for one in book.all(Required)],
            "role": [one.code for one in book.roles],
            "condition": [one.code for one in book.conditions],
            "letter": [letter for letter, _ in values.values] if values else [],
        }
        every = [(kind, code) for kind, codes in known.items() for code in codes]
        self.new = {one: f"x{number}" for number, one in enumerate(every, start=1)}

    def of_book(self, book: Any) -> Any:
        """The book with other names; its routines are marks."""
        routines = {name: self.of_marks(marks) for name, marks in book.get("routines", {}).items()}
        clauses = [self._of_clause(clause) for clause in book["clauses"]]
        heads = {key: self._renamed(book[key], _IN_BOOKS, _IN_BOOKS[key]) for key in ("roles", "conditions")}
        return {**book, **heads, "clauses": clauses, **({"routines": routines} if routines else {})}

    def of_cases(self, file: Any) -> Any:
        """A file of cases with other names."""
        routines = {name: self.of_marks(marks) for name, marks in file.get("routines", {}).items()}
        cases = [self._of_case(case) for case in file["cases"]]
        return {**file, "cases": cases, **({"routines": routines} if routines else {})}

    def of_marks(self, marks: list[Any]) -> list[Any]:
        """Marks with other names of what they say; their own ids stay."""
        return [self._renamed(mark, _IN_MARKS) for mark in marks]

    def _of_clause(self, clause: Any) -> Any:
        examples = [self._of_case(case) for case in clause.get("examples", ())]
        rest = self._renamed({key: value for key, value in clause.items() if key != "examples"}, _IN_BOOKS)
        return {**rest, **({"examples": examples} if examples else {})}

    def _of_case(self, case: Any) -> Any:
        marks = {"marks": self.of_marks(case["marks"])} if "marks" in case else {}
        changes = {name: self._renamed(change, _IN_MARKS) for name, change in case.get("change", {}).items()}
        change = {"change": changes} if changes else {}
        return {**self._renamed(case, _IN_CASES), **marks, **change}

    def _renamed(self, said: Any, fields: dict[str, str], kind: str = "") -> Any:
        """The same with new names: text that is a code of the kind, keys that are, and what stands below."""
        if isinstance(said, str):
            return self.new.get((kind, said), said)
        if isinstance(said, list):
            return [self._renamed(one, fields, kind) for one in said]
        return {
            self.new.get((kind, key), key): self._renamed(value, fields, fields.get(key, ""))
            for key, value in said.items()
        }


@pytest.mark.parametrize("path", rules.shipped(), ids=lambda path: path.stem)
def test_with_every_code_renamed_all_cases_come_out_as_before(path: Path, tmp_path: Path) -> None:
    names = Names(rules.load(path))
    book = rules.load(_written(tmp_path / path.name, names.of_book, path))
    assert not {code for _, code in names.new} & set(_codes(book))
    cases = [*rules.examples(book, path.name)]
    for file in sorted(CASES.glob("*.yaml")):
        if f"\nrule-book: {book.id}\n" in file.read_text(encoding="utf-8"):
            cases += rules.read_cases(_written(tmp_path / f"cases-{file.name}", names.of_cases, file), book)
    assert cases
    assert [str(problem.message) for case in cases for problem in differences(case, book)] == []


def test_no_code_of_any_edition_stands_in_the_program() -> None:
    codes = {code for path in rules.shipped() for code in _codes(rules.load(path))} - VOCABULARY
    found = [place for path in sorted(PROGRAM.rglob("*.py")) for place in _literals(path, codes)]
    assert found == []


def _codes(book: RuleBook) -> Iterator[str]:
    return (code for kind, code in Names(book).new if kind != "letter")


def _literals(path: Path, codes: set[str]) -> Iterator[str]:
    tree = ast.parse(path.read_text(encoding="utf-8"))
    shown = {id(one) for node in tree.body for one in ast.walk(node) if _shows(node, SHOWN.get(path.name))}
    if path == WORDS:
        return  # words that are translated, whatever rule book they come from
    for node in ast.walk(tree):
        if isinstance(node, ast.Constant) and node.value in codes and id(node) not in shown:
            yield f"{path.relative_to(PROGRAM)}:{node.lineno}: {node.value}"


def _shows(node: ast.stmt, name: str | None) -> bool:
    return isinstance(node, ast.Assign) and [ast.unparse(one) for one in node.targets] == [name]


def _written(path: Path, renamed: Callable[[Any], Any], original: Path) -> Path:
    said = yaml.load(original.read_text(encoding="utf-8"), yaml.BaseLoader)
    path.write_text(yaml.safe_dump(renamed(said), sort_keys=False, allow_unicode=True), encoding="utf-8")
    return path
