"""What version 1 wrote, every later version opens, and it says what it said."""

import json
import shutil
from collections.abc import Iterable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from reviewer import exchange
from reviewer.casefile import check_chain, open_case, read_events
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle, Mark

HERE = Path(__file__).parent
SCHEMA = json.loads((HERE.parents[1] / "annotations/schemas/marks.schema.json").read_text())
RECORDED = json.loads((HERE / "recorded.v1.json").read_text(encoding="utf-8"))


@pytest.fixture
def case_copy(tmp_path: Path) -> Path:
    return Path(shutil.copy(HERE / "case.v1.case", tmp_path / "case.case"))


@pytest.mark.parametrize("name", ["case.v1.case", "marks.v1.json"])
def test_the_frozen_files_are_those_that_were_frozen(name: str) -> None:
    assert sha256((HERE / name).read_bytes()).hexdigest() == RECORDED["files"][name]


def test_the_frozen_chain_is_whole_and_ends_in_the_recorded_hash() -> None:
    events = read_events(HERE / "case.v1.case")
    assert check_chain(events) == ()
    assert [event.kind for event in events] == RECORDED["kinds"]
    assert events[-1].hash == RECORDED["last_hash"]
    assert (events[0].author, events[0].at) == ("judge-1", "2026-03-14T09:00:00.000000Z")


def test_the_frozen_case_gives_the_recorded_state() -> None:
    with open_case(HERE / "case.v1.case", None) as case:
        state = case.state
        assert state.recording is not None
        assert state.rule_book is not None
        said = {
            "athlete_code": state.athlete_code,
            "consent": state.consent,
            "recording": [state.recording.sha256, state.recording.frames, state.recording.time_base],
            "ticks": [state.recording.pts[0], state.recording.pts[77], state.recording.pts[-1]],
            "rule_book": state.rule_book.id,
            "clauses": len(state.rule_book.clauses),
            "marks": _by_id(mark.to_json() for mark in state.marks),
            "readings": [[reading["id"], reading["pts"]] for reading in state.readings],
            "posted": state.posted,
            "notes": [[case.text(digest), at] for digest, at in state.notes],
            "name": case.name("G-07"),
            "place": str(case.place(state.recording.sha256)),
        }
        recorded = RECORDED["state"]
        assert said == {**recorded, "marks": _by_id(recorded["marks"])}
        assert case.book(state.rule_book.sha256) is not None


def _by_id(marks: Iterable[Any]) -> list[Any]:
    """What was marked; in which order a list is read where only some marks have times is no part of it."""
    return sorted(marks, key=lambda mark: str(mark["id"]))


def test_the_frozen_case_can_be_worked_on(case_copy: Path) -> None:
    with open_case(case_copy, "judge-2") as case:
        before = {mark.id for mark in case.state.marks}
        case.redo()
        assert {mark.id for mark in case.state.marks} == before | {"m10"}
        assert check_chain(case.events) == ()


def test_the_frozen_marks_are_read_as_they_were_meant() -> None:
    document = exchange.read_document(HERE / "marks.v1.json", SCHEMA, "marks")
    marks = {mark.id: mark for mark in exchange.marks_from_document(document)}
    assert list(marks) == ["m1", "m2", "m3", "m4", "m5", "m6", "m7"]
    assert marks["m2"].angle == CastAngle("eye", Degrees(-52_000))
    assert marks["m6"] == Mark(
        "m6", "element", "cast", order=4, start=900, end=1400, at=1200,
        angle=CastAngle("eye", verdict="within tolerance"),
    )  # fmt: skip
    assert marks["m7"] == Mark(
        "m7", "fault", "legs-bent", at=1300, element="m6", amount=Points(200), arguable=False,
        seen="slowed", judge="B",
    )  # fmt: skip
