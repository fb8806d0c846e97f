"""A marks document may have several recordings; one that has none means what it always meant."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import exchange
from reviewer.terms.marks import Mark
from reviewer.terms.problems import DocumentError

ROOT = Path(__file__).parents[2]
SCHEMA: dict[str, Any] = json.loads((ROOT / "annotations/schemas/marks.schema.json").read_text())
TABLE, STAND = "1a" * 32, "2b" * 32
LISTED = [
    {"sha256": TABLE, "time_base": "1/25", "attempt": 1, "line": 1, "shift_s": "0/1"},
    {"sha256": STAND, "time_base": "1/30000", "attempt": 1, "line": 1, "shift_s": "-37/600"},
]


def said(*marks: dict[str, Any], **also: Any) -> dict[str, Any]:
    return {
        "format": "reviewer.marks/1",
        "recording_sha256": TABLE,
        "attempt": 1,
        "recordings": LISTED,
        "marks": list(marks),
        **also,
    }


def read(document: dict[str, Any]) -> tuple[Mark, ...]:
    return exchange.marks_from_document(exchange.check_document(document, SCHEMA, "marks.json"), "marks.json")


def refused(document: dict[str, Any]) -> dict[str, str]:
    with pytest.raises(DocumentError) as caught:
        read(document)
    return {problem.where: problem.code for problem in caught.value.problems}


def test_the_schema_is_sound() -> None:
    Draft202012Validator.check_schema(SCHEMA)  # the meta-schema of JSON Schema 2020-12


def test_a_mark_keeps_the_recording_it_was_made_on() -> None:
    mark = {"id": "m1", "kind": "element", "code": "cast", "start": 7, "recording": STAND}
    (found,) = read(said(mark))
    assert found == Mark("m1", "element", "cast", start=7, recording=STAND)
    assert found.to_json() == mark


def test_a_mark_of_the_first_recording_is_written_as_it_always_was() -> None:
    mark = {"id": "m1", "kind": "element", "code": "cast", "start": 7}
    assert Mark.from_json(mark).to_json() == mark


def test_what_does_not_agree_is_named_at_its_place() -> None:
    mark = {"id": "m1", "kind": "fact", "code": "springboard-left", "recording": "9f" * 32}
    assert refused(said(mark)) == {"marks.json: marks[0].recording": "unlisted-recording"}
    assert refused(said(recordings=[*LISTED, LISTED[0]])) == {
        "marks.json: recordings[2].sha256": "same-recording"
    }
    assert refused(said(recording_sha256="9f" * 32)) == {"marks.json: recording_sha256": "unlisted-recording"}


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("shift_s", "0.5"),
        ("shift_s", "1/0"),
        ("shift_s", "1" * 41 + "/1"),
        ("line", 0),
        ("attempt", 100),
        ("attempt", True),
        ("time_base", "1/0"),
        ("sha256", "short"),
    ],
)
def test_a_recording_that_cannot_be_is_named_at_its_place(key: str, value: object) -> None:
    document = said(recordings=[LISTED[0], {**LISTED[1], key: value}])
    assert refused(document) == {f"marks.json: recordings[1].{key}": "not-as-described"}


def test_several_recordings_say_which_attempt_counts() -> None:
    document = said()
    del document["attempt"]
    assert refused(document) == {"marks.json": "not-as-described"}
