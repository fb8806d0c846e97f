"""The published schemas of a case and of its marks describe every event and every key that there is."""

import json
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer.casefile import read_books, read_events
from reviewer.casefile.chain import export_events
from reviewer.casefile.kinds import KINDS, OPTIONAL
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CREDITS, CastAngle, Mark
from reviewer.terms.measures import LENGTHS, TIMES, Measure

ROOT = Path(__file__).parents[2]
FROZEN = sorted((ROOT / "tests" / "frozen").glob("*.case"))


def schema(name: str) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((ROOT / f"annotations/schemas/{name}.schema.json").read_text())
    Draft202012Validator.check_schema(found)
    return found


CASE, MARKS = schema("case"), schema("marks")
EVENT = CASE["$defs"]["event"] | {"$defs": CASE["$defs"]}
PAYLOADS = {one["properties"]["kind"]["const"]: one["properties"]["payload"] for one in EVENT["oneOf"]}


def test_every_kind_of_event_is_described_with_all_its_keys() -> None:
    assert set(PAYLOADS) == set(KINDS)
    for kind, checks in KINDS.items():
        assert set(PAYLOADS[kind]["required"]) == set(checks)
        assert set(PAYLOADS[kind]["properties"]) == set(checks) | set(OPTIONAL.get(kind, ()))


@pytest.mark.parametrize("path", FROZEN, ids=lambda path: path.name)
def test_a_frozen_case_passes_event_by_event(path: Path) -> None:
    events = read_events(path)
    exported = {"format": "reviewer.case/1", "events": export_events(events), "books": read_books(path)}
    assert list(Draft202012Validator(CASE).iter_errors(exported)) == []
    for event in events:
        assert list(Draft202012Validator(EVENT).iter_errors(json.loads(event.body))) == []


@pytest.mark.parametrize(
    ("kind", "payload"),
    [
        ("interpretation-chosen", {"clause": "c", "reading": "kindly"}),
        ("interpretation-chosen", {"reading": "other"}),
        ("panel-entered", {"when": "meanwhile", "scores": {"A": "9.400"}}),
        ("panel-entered", {"when": "before", "scores": {}}),
        ("panel-entered", {"when": "before", "scores": {"A": 9.4}}),
        ("mark-invented", {}),
    ],
)
def test_what_is_no_event_does_not_pass(kind: str, payload: dict[str, Any]) -> None:
    event = {"format": "reviewer.event/1", "kind": kind, "author": "A", "parents": []}
    event |= {"at": "2026-03-14T09:00:00.000000Z", "payload": payload}
    assert list(Draft202012Validator(EVENT).iter_errors(event))
    sound = event | {"kind": "posted-entered", "payload": {"score": "8.900"}}
    assert list(Draft202012Validator(EVENT).iter_errors(sound)) == []


FULL = Mark(
    "m", "element", "cast", order=1, start=1, end=3, at=2, roles=("mount",), conditions=("spotted",),
    angle=CastAngle(
        "protractor", Degrees(-45_000), Degrees(500), "met", "r1",
        at_full_speed=CastAngle("eye", verdict="met"),
    ), element="e",
    amount=Points(100), arguable=False, seen="slowed", judge="A", recording="a" * 64, called="2.105",
    credit="given", clock=Measure.time("46.2 s"), length=Measure.length("10 in"),
)  # fmt: skip


def test_every_key_that_a_mark_may_have_is_described_and_passes() -> None:
    written = FULL.to_json()
    described = MARKS["$defs"]["mark"]["properties"]
    assert set(written) == set(described)
    assert set(written["angle"]) == set(MARKS["$defs"]["angle"]["properties"])
    assert set(described["credit"]["enum"]) == {*CREDITS, None}
    document = {"format": "reviewer.marks/1", "marks": [written], "recording_sha256": "a" * 64}
    assert list(Draft202012Validator(MARKS).iter_errors(document)) == []
    assert Mark.from_json(json.loads(json.dumps(written))) == FULL


@pytest.mark.parametrize("key", ["clock", "length"])
def test_each_unit_of_a_measure_passes_and_others_do_not(key: str) -> None:
    units = TIMES if key == "clock" else LENGTHS
    for unit, sound in (*((unit, True) for unit in units), ("points", False), ("", False)):
        mark = {"id": "m", "kind": "fact", "code": "c", key: f"9 {unit}"}
        document = {"format": "reviewer.marks/1", "marks": [mark]}
        assert (list(Draft202012Validator(MARKS).iter_errors(document)) == []) is sound
