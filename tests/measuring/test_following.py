"""Points followed from a click near the top of a cast. Truth: written when the clip was rendered."""

import json
from pathlib import Path
from typing import Any

import pytest

from reviewer.actions import follow_file
from reviewer.terms.problems import ReviewerError

CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"
TRUTH = json.loads((CLIPS / "square-on.truth.json").read_text(encoding="utf-8"))
CAST = next(one for one in TRUTH["elements"] if one["code"] == "cast")
JOINTS = ("hand", "shoulder", "hip", "knee", "ankle")


def clicks(frame: int, joints: tuple[str, ...] = JOINTS) -> dict[str, Any]:
    """Clicks on the near side's true joints of a frame and on the bars."""

    def spot(place: list[float]) -> list[str]:
        return [f"{size:.3f}" for size in place]

    return {
        "format": "reviewer.clicks/1",
        "picture": TRUTH["displayed"],
        "frame": frame,
        "line": "shoulder-ankle",
        "cast_to": "left",
        "body": {joint: [spot(TRUTH["joints"][joint]["near_px"][frame])] for joint in joints},
        "points": {name: spot(one["px"]) for name, one in TRUTH["apparatus"]["points"].items()},
        "click_sd_px": "1.5",
        "athlete_height_mm": 1400,
        "apparatus": {"spread_mm": 1600, "spread": "inner-diagonal"},
    }


def followed(tmp_path: Path, document: dict[str, Any], span_ms: int = 250) -> dict[str, Any]:
    path = tmp_path / "clicks.json"
    path.write_text(json.dumps(document), encoding="utf-8")
    return follow_file(CLIPS / "square-on.mp4", path, span_ms=span_ms)


def test_the_top_is_found_from_a_click_two_frames_off(tmp_path: Path) -> None:
    found = followed(tmp_path, clicks(CAST["top_frame"] - 2))
    assert found["format"] == "reviewer.track/1"
    assert found["top"]["frame"] == CAST["top_frame"]
    assert float(found["top"]["value_deg"]) == pytest.approx(CAST["top_deg"], abs=0.5)
    low, high = map(float, found["top"]["interval_s"])
    assert low <= float(found["top"]["time_s"]) <= high


def test_no_frame_offered_as_good_is_three_degrees_off(tmp_path: Path) -> None:
    found = followed(tmp_path, clicks(CAST["top_frame"]))
    good = [one for one in found["frames"] if one["state"] == "good"]
    assert len(good) >= 10
    for one in good:
        true = TRUTH["angles"]["shoulder-ankle_deg"][one["frame"]]
        assert float(one["angle_deg"]) == pytest.approx(true, abs=3)


def test_clicks_that_cannot_be_followed_are_refused(tmp_path: Path) -> None:
    for document in (clicks(CAST["top_frame"], ("shoulder",)), clicks(CAST["top_frame"]) | {"frame": 99_999}):
        with pytest.raises(ReviewerError) as refused:
            followed(tmp_path, document)
        assert all(str(one.message) and str(one.remedy) for one in refused.value.problems)
