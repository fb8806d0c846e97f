"""Marks documents are read whole or refused whole, every fault with its place."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reviewer import exchange
from reviewer.exchange import documents
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.problems import DocumentError

ROOT = Path(__file__).parents[2]
SCHEMA: dict[str, Any] = json.loads((ROOT / "annotations/schemas/marks.schema.json").read_text())

CONTRACT = """
{"format":"reviewer.marks/1","rule_book":"demo-bars-2","recording_sha256":null,"time_base":"1/1000",
 "marks":[{"id":"m1","kind":"element","code":"pullover","roles":["mount"],"order":1},
          {"id":"m2","kind":"element","code":"cast","order":2,"angle":{"deg":"-52","u_deg":null,"by":"eye"}},
          {"id":"m3","kind":"element","code":"sole-circle-dismount","roles":["dismount"],"with":["spotted"],"order":3},
          {"id":"m4","kind":"fault","code":"arms-bent","element":"m2","amount":"0.100","seen":"full-speed","judge":"A"},
          {"id":"m5","kind":"fact","code":"springboard-left"}]}
"""  # the pinned example of reviewer.marks/1


def given_text(folder: Path, text: str | bytes) -> dict[str, Any]:
    path = folder / "marks.json"
    path.write_bytes(text if isinstance(text, bytes) else text.encode())
    return exchange.read_document(path, SCHEMA, "marks")


def refused(folder: Path, text: str | bytes) -> dict[str, str]:
    """Place to code of every problem."""
    with pytest.raises(DocumentError) as caught:
        given_text(folder, text)
    assert all(str(problem.message) and str(problem.remedy) for problem in caught.value.problems)
    return {problem.where: problem.code for problem in caught.value.problems}


def marked(*marks: dict[str, Any], **also: Any) -> str:
    return json.dumps({"format": "reviewer.marks/1", "rule_book": "b", "marks": marks, **also})


def test_the_pinned_example_is_read_as_it_says(tmp_path: Path) -> None:
    marks = exchange.marks_from_document(given_text(tmp_path, CONTRACT))
    assert marks[1].angle == CastAngle("eye", Degrees(-52_000))
    assert marks[2].conditions == ("spotted",)
    assert marks[3] == Mark(
        "m4", "fault", "arms-bent", element="m2", amount=Points(100), seen="full-speed", judge="A"
    )
    assert marks[4] == Mark("m5", "fact", "springboard-left")


def test_unknown_keys_are_ignored(tmp_path: Path) -> None:
    document = given_text(tmp_path, marked({"id": "m", "kind": "fact", "code": "c", "mood": 0.5}, mood=[1.5]))
    assert exchange.marks_from_document(document) == (Mark("m", "fact", "c"),)


def test_every_fault_is_named_at_once_with_its_place(tmp_path: Path) -> None:
    text = marked(
        {"id": "m1", "kind": "fault", "code": "feet", "amount": 0.1},
        {"id": "m2", "kind": "fault", "code": "feet"},
        {"id": "m3", "kind": "wish", "code": "feet", "at": "noon"},
        {"id": "", "kind": "element", "code": "cast", "angle": {"by": "eye"}},
        {"id": "m5", "kind": "element", "code": "cast", "angle": {"by": "eye", "deg": "-45.0001"}},
        {"id": "m6", "kind": "element", "code": "cast", "roles": [""], "start": 1.5},
        time_base="1001/0",
        recording_sha256="short",
        posted="8.9 points",
    )
    assert set(refused(tmp_path, text)) >= {
        "marks.json: marks[0].amount",
        "marks.json: marks[1]",
        "marks.json: marks[2].kind",
        "marks.json: marks[2].at",
        "marks.json: marks[3].id",
        "marks.json: marks[3].angle",
        "marks.json: marks[4].angle",
        "marks.json: marks[5].roles[0]",
        "marks.json: marks[5].start",
        "marks.json: time_base",
        "marks.json: recording_sha256",
        "marks.json: posted",
    }


@pytest.mark.parametrize(
    "text",
    [
        "",
        "marks: none",
        '{"format":',
        b"\xff\xfe\xff",
        b"\x89PNG\r\n\x1a\n",
        "[" * 200_000,
        "9" * 10_000,
        '{"format":"reviewer.marks/1","marks":[],"marks":[]}',
        '{"format":"reviewer.marks/1","marks":[],"n":NaN}',
    ],
)
def test_what_is_not_json_is_refused(tmp_path: Path, text: str | bytes) -> None:
    assert refused(tmp_path, text) == {"marks.json": "not-json"}


@pytest.mark.parametrize("text", ["[]", "null", '"marks"', "3"])
def test_json_of_another_shape_is_refused(tmp_path: Path, text: str) -> None:
    assert refused(tmp_path, text) == {"marks.json": "not-as-described"}


@pytest.mark.parametrize("other", ["reviewer.marks/2", "reviewer.clicks/1", 1])
def test_another_format_is_refused_at_its_place(tmp_path: Path, other: object) -> None:
    text = json.dumps({"format": other, "marks": []})
    assert refused(tmp_path, text) == {"marks.json: format": "not-as-described"}


def test_files_that_cannot_be_read_are_refused(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def code(path: Path) -> str:
        with pytest.raises(DocumentError) as caught:
            exchange.read_document(path, SCHEMA, "marks")
        return caught.value.problems[0].code

    assert code(tmp_path / "none.json") == "no-file"
    assert code(tmp_path) == "a-folder"
    (tmp_path / "long.json").write_bytes(b" " * 101)
    monkeypatch.setattr(documents, "LARGEST", 100)
    assert code(tmp_path / "long.json") == "too-large"


def test_a_document_of_more_than_64_mebibytes_is_refused_unread(tmp_path: Path) -> None:
    path = tmp_path / "large.json"
    with path.open("wb") as file:
        file.truncate(64 * 1024 * 1024 + 1)
    with pytest.raises(DocumentError, match="too large"):
        exchange.read_document(path, SCHEMA, "marks")


def test_a_whole_number_may_be_written_with_a_point(tmp_path: Path) -> None:
    # JSON Schema 2020-12, validation 6.1.1: a number with a zero fraction is an integer
    text = '{"format":"reviewer.marks/1","marks":[{"id":"m","kind":"fact","code":"c","at":2.0}]}'
    (mark,) = exchange.marks_from_document(given_text(tmp_path, text))
    assert isinstance(mark.at, int)
    assert mark.at == 2


def test_marks_that_contradict_each_other_are_named_with_their_places(tmp_path: Path) -> None:
    document = given_text(
        tmp_path,
        marked(
            {"id": "m1", "kind": "element", "code": "cast", "start": 9, "end": 3},
            {"id": "m1", "kind": "fact", "code": "exercise-ended"},
            {"id": "m3", "kind": "fault", "code": "feet", "amount": "0.05", "element": "m9"},
            {"id": "m4", "kind": "fault", "code": "feet", "amount": "0.05", "element": "m3"},
        ),
    )
    with pytest.raises(DocumentError) as caught:
        exchange.marks_from_document(document, "marks.json")
    assert [(problem.code, problem.where) for problem in caught.value.problems] == [
        ("same-id", "marks.json: marks[0].id"),
        ("ends-before-start", "marks.json: marks[0].end"),
        ("same-id", "marks.json: marks[1].id"),
        ("unknown-element-mark", "marks.json: marks[2].element"),
        ("unknown-element-mark", "marks.json: marks[3].element"),
    ]


def test_a_quantity_with_a_line_break_behind_it_is_refused_in_words(tmp_path: Path) -> None:
    with pytest.raises(DocumentError):
        exchange.marks_from_document(
            given_text(tmp_path, marked({"id": "m", "kind": "fault", "code": "feet", "amount": "0.1\n"}))
        )


NAMES = some.text("abcäß-0123 ", min_size=1, max_size=8)
TICKS = some.none() | some.integers(-(2**63), 2**63 - 1)
ANGLES = some.builds(
    CastAngle,
    by=some.sampled_from(["eye", "protractor"]),
    value=some.builds(Degrees, some.integers(-180_000, 180_000)),
    uncertainty=some.none() | some.builds(Degrees, some.integers(0, 9000)),
    verdict=some.sampled_from([None, "met", "not seen"]),
    reading=some.none() | NAMES,
)
MARKS = some.builds(
    Mark,
    id=NAMES,
    kind=some.just("element"),
    code=NAMES,
    order=TICKS,
    at=TICKS,
    start=TICKS,
    roles=some.sampled_from([(), ("mount",), ("mount", "dismount")]),
    conditions=some.lists(NAMES, max_size=2).map(tuple),
    angle=some.none() | ANGLES,
    amount=some.none() | some.builds(Points, some.integers(-999_999, 999_999)),
    arguable=some.booleans(),
    seen=some.sampled_from([None, "full-speed", "slowed"]),
    judge=some.none() | some.sampled_from(["A", "b", "E3", "SJ", "4", "judge-2"]),
)


@given(some.lists(MARKS, max_size=4, unique_by=lambda mark: mark.id))
def test_marks_written_out_come_in_the_same(marks: list[Mark]) -> None:
    document = json.loads(json.dumps(exchange.marks_document(marks, "demo-bars-2", "a" * 64, "1001/30000")))
    checked = exchange.check_document(document, SCHEMA, "marks.json")
    assert exchange.marks_from_document(checked) == tuple(marks)
