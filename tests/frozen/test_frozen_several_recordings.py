"""A case of several recordings, as it was frozen: every later version opens it, and it says what it said."""

import json
from hashlib import sha256
from pathlib import Path

from reviewer import actions
from reviewer.casefile import check_chain, open_case, read_events

HERE = Path(__file__).parent
CASE = HERE / "several.v1.case"
RECORDED = json.loads((HERE / "recorded-several.v1.json").read_text(encoding="utf-8"))
TABLE, STAND, RAFTERS, AGAIN = (digit * 64 for digit in "1234")


def test_the_frozen_case_is_the_one_that_was_frozen() -> None:
    assert sha256(CASE.read_bytes()).hexdigest() == RECORDED["file"]
    events = read_events(CASE)
    assert check_chain(events) == ()
    assert [event.kind for event in events] == RECORDED["kinds"]
    assert events[-1].hash == RECORDED["last_hash"]


def test_the_frozen_case_gives_the_recorded_state() -> None:
    with open_case(CASE, None) as case:
        state = case.state
    said = {
        "recordings": [[one.sha256[:4], one.frames, one.time_base, one.attempt] for one in state.recordings],
        "attempt": state.attempt,
        "joins": [
            [one.a[:4], one.a_pts, one.b[:4], one.b_pts, one.offset_us, one.u_us] for one in state.joins
        ],
        "marks": [mark.to_json() for mark in state.marks],
        "places": {name[:4]: [one.attempt, one.line, str(one.shift)] for name, one in state.places.items()},
    }
    assert said == RECORDED["state"]


def test_the_frozen_marks_are_in_the_order_worked_out_by_hand() -> None:
    """On the table's clock: 40/25 s; 27027/30000 s + 1.002317 s; 0.15 s + 1.960350 s + 1.002317 s."""
    with open_case(CASE, None) as case:
        assert [mark.id for mark in case.state.marks] == ["mount", "cast", "circle", "again", "untimed"]


def test_the_frozen_offsets_derive_again_from_their_frames() -> None:
    found = actions.verify(CASE)
    assert "offsets" in found["checked"]
    assert found["differences"] == []
