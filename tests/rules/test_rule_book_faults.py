"""A rule book with faults reports them all, each with its line and a remedy."""

from pathlib import Path

import pytest

from reviewer import rules

SOUND = rules.find("demo-bars-2").read_text(encoding="utf-8")


def test_the_shipped_editions_are_sound_and_say_they_are_not_official() -> None:
    for path in rules.shipped():
        book = rules.load(path)
        assert rules.check(path) == ()
        assert any("official" in caution for caution in book.cautions)
        assert all(clause.source.kind and clause.since for clause in book.clauses)


def test_ten_faults_are_reported_at_once_each_with_its_line(tmp_path: Path) -> None:
    lines = SOUND.splitlines()
    places = [number for number, line in enumerate(lines) if line.strip().startswith("source:")][:10]
    for number in places:
        indent = len(lines[number]) - len(lines[number].lstrip())
        lines[number] = " " * indent + "source: somebody said so"
    path = tmp_path / "ten.yaml"
    path.write_text("\n".join(lines), encoding="utf-8")
    problems = rules.check(path)
    found = {problem.where.rsplit(":", 1)[-1] for problem in problems}
    assert {str(number + 1) for number in places} <= found
    assert all("ten.yaml" in problem.where and str(problem.remedy) for problem in problems)


@pytest.mark.parametrize(
    "text",
    [
        "",
        "- a list",
        "id: [unclosed",
        "id: a\nid: b\n",
        "a: &x [1]\nb: *x\n",
        "a: !!python/object:os.system x\n",
        "x" * 2_000_000,
    ],
    ids=["empty", "list", "unclosed", "twice", "alias", "tag", "huge"],
)
def test_what_is_no_rule_book_is_refused_with_a_place(text: str, tmp_path: Path) -> None:
    path = tmp_path / "bad.yaml"
    path.write_text(text, encoding="utf-8")
    problems = rules.check(path)
    assert problems
    assert all(
        "bad.yaml" in problem.where and str(problem.message) and str(problem.remedy) for problem in problems
    )


@pytest.mark.parametrize("amount", ["-0.500 points", "1e999999 points", "0.5", "lots"])
def test_an_amount_that_is_none_is_refused(amount: str, tmp_path: Path) -> None:
    path = tmp_path / "amount.yaml"
    number, line = next((n, one) for n, one in enumerate(SOUND.splitlines()) if "0.500 points" in one)
    lines = SOUND.splitlines()
    lines[number] = line.replace("0.500 points", amount)
    path.write_text("\n".join(lines), encoding="utf-8")
    assert any(problem.where.endswith(f":{number + 1}") for problem in rules.check(path))
