"""JSON that was made to do harm is refused where it is read, with its place."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from reviewer.casefile.chain import hash_of, read_event
from reviewer.settings.remembering import Remembered, recall
from reviewer.terms.parsing import DEEPEST, parsed, parsed_object
from reviewer.terms.problems import DocumentError

DEEP = "[" * 100_000


def nested(depth: int) -> str:
    return "[" * depth + "]" * depth


def test_as_deep_as_is_allowed_is_read_and_one_deeper_is_not() -> None:
    assert parsed(nested(DEEPEST)) == json.loads(nested(DEEPEST))
    with pytest.raises(ValueError, match=f"nested deeper than {DEEPEST}: line 1 column {DEEPEST + 1}"):
        parsed(nested(DEEPEST + 1))


def test_many_beside_one_another_and_brackets_in_words_are_not_deep() -> None:
    flat = [["[[[", '"{{{', "\\"]] * 1000
    assert parsed(json.dumps(flat)) == flat
    assert parsed(json.dumps("[" * 1000).encode("utf-16")) == "[" * 1000


@pytest.mark.parametrize("content", [DEEP.encode(), b"\xff\xfe\xfd", b"", b'{"a":1,"a":2}', b"[]"])
def test_what_is_no_json_object_is_refused_by_its_file(content: bytes) -> None:
    with pytest.raises(DocumentError) as refused:
        parsed_object(content, "case.json")
    (problem,) = refused.value.problems
    assert (problem.code, problem.where) == ("not-json", "case.json")


@pytest.mark.parametrize("command", [["score", "X"], ["compare", "X", "X"], ["measure", "--points", "X"]])
def test_every_document_handed_in_is_refused_with_its_place(command: list[str], tmp_path: Path) -> None:
    path = tmp_path / "deep.json"
    path.write_text('{"a":\n' + DEEP)
    words = [str(path) if word == "X" else word for word in command]
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *words, "--json"], capture_output=True, text=True
    )
    problem = json.loads(found.stdout)["problems"][0]
    assert (found.returncode, problem["code"]) == (2, "not-json")
    assert "deep.json" in problem["where"]
    assert f"line 2 column {DEEPEST}" in problem["message"]
    assert problem["remedy"]


def test_an_event_nested_without_end_is_none() -> None:
    body = DEEP.encode()
    assert read_event(1, hash_of(body), body).kind == ""


def test_what_the_desk_remembers_is_nothing_where_it_is_nested_without_end(tmp_path: Path) -> None:
    (tmp_path / "desk.json").write_text(DEEP)
    assert recall(tmp_path / "desk.json") == Remembered()
