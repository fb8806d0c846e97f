"""What people are told is a sentence of the catalogue wherever it is made, not text put together there."""

import ast
from collections.abc import Iterator

from tests.words.extracting import KEYWORDS, ROOT

SOURCES = sorted((ROOT / "reviewer").rglob("*.py"))
PROBLEM = ("message", "remedy")
"""The parts of a problem that are sentences, after its code and its place."""


def calls(text: str, *names: str) -> Iterator[ast.Call]:
    for node in ast.walk(ast.parse(text)):
        name = getattr(node.func, "attr", getattr(node.func, "id", "")) if isinstance(node, ast.Call) else ""
        if isinstance(node, ast.Call) and name in names:
            yield node


def sentences_of(problem: ast.Call) -> list[ast.expr]:
    return [*problem.args[2:], *(one.value for one in problem.keywords if one.arg in PROBLEM)]


def is_text(said: ast.expr) -> bool:
    """Whether this is text itself, plain, with holes filled in, or put together."""
    if isinstance(said, ast.BinOp):
        return is_text(said.left) or is_text(said.right)
    return isinstance(said, ast.JoinedStr) or (isinstance(said, ast.Constant) and isinstance(said.value, str))


def is_put_together(said: ast.expr) -> bool:
    return is_text(said) and not isinstance(said, ast.Constant)


def words_in(said: ast.expr) -> int:
    """How many words stand side by side in a text with holes; a code or a name is one."""
    texts = [
        one.value for one in ast.walk(said) if isinstance(one, ast.Constant) and isinstance(one.value, str)
    ]
    return max((len([word for word in text.split() if word.isalpha()]) for text in texts), default=0)


def test_no_problem_is_made_of_text_that_no_catalogue_has() -> None:
    made = [(path, call) for path in SOURCES for call in calls(path.read_text("utf-8"), "Problem")]
    found = [f"{path.name}:{call.lineno}" for path, call in made if any(map(is_text, sentences_of(call)))]
    assert found == []
    assert len(made) > 200


def test_no_sentence_is_put_together_before_it_is_looked_up() -> None:
    found = [
        f"{path.name}:{call.lineno}"
        for path in SOURCES
        for call in calls(path.read_text("utf-8"), *KEYWORDS)
        if call.args and is_put_together(call.args[0])
    ]
    assert found == []


def test_no_words_are_put_together_to_fill_a_hole_of_a_sentence() -> None:
    found = [
        f"{path.name}:{call.lineno} {one.arg}"
        for path in SOURCES
        for call in calls(path.read_text("utf-8"), "message")
        for one in call.keywords
        if is_put_together(one.value) and words_in(one.value) > 1
    ]
    assert found == []


def test_the_checks_see_such_text() -> None:
    text = (
        'Problem("a", where, f"No {thing}.", remedy)\nmessage(f"No {x}.")\nmessage("{x}", x=f"no such {y}")'
    )
    (problem,) = calls(text, "Problem")
    whole, part = calls(text, "message")
    assert [is_text(one) for one in sentences_of(problem)] == [True, False]
    assert is_put_together(whole.args[0])
    assert words_in(part.keywords[0].value) == 2
