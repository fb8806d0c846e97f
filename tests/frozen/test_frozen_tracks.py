"""A case of kept tracks, as it was frozen: every later version opens it, and it says what it said."""

import json
from pathlib import Path

from jsonschema import Draft202012Validator

from reviewer.casefile import open_case
from reviewer.measuring import track_from_record

HERE = Path(__file__).parent
CASE = HERE / "tracks.v1.case"
SCHEMA = json.loads((HERE.parents[1] / "annotations/schemas/track.schema.json").read_text(encoding="utf-8"))


def test_its_tracks_are_read_and_the_undone_one_is_not_there() -> None:
    """Written by hand: r1 on another recording and without a top, r2 confirmed onto m1, r3 undone."""
    with open_case(CASE, None) as case:
        state = case.state
    first, second = (track_from_record(record) for record in state.tracks)
    assert [record.get("recording") for record in state.tracks] == ["2" * 64, None]
    assert (first.id, first.top, second.id) == ("r1", None, "r2")
    assert second.top is not None
    assert tuple(map(str, second.top)) == ("-43.050", "0.702")
    (mark,) = state.marks
    assert mark.angle is not None
    assert (mark.angle.reading, mark.angle.value, mark.angle.uncertainty) == ("r2", *second.top)


def test_its_tracks_pass_the_published_schema() -> None:
    with open_case(CASE, None) as case:
        for record in case.state.tracks:
            document = json.loads(json.dumps(record["track"], default=dict))
            assert list(Draft202012Validator(SCHEMA).iter_errors(document)) == []
