"""Evidence whose fields were changed one by one, every hash made anew: `verify` names each."""

import json
from collections.abc import Callable, Mapping
from copy import deepcopy
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.terms.readings import Clicks
from tests.measuring.poses import Pose, camera, request

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"
Change = Callable[[dict[str, Any]], object]


def clicks(line: str, frame: int, seed: int) -> Clicks:
    """Clicks on a body that nobody filmed, on a frame of the clip."""
    pose = Pose(trunk=-30, thigh=-30, shank=-30)
    asked = request(camera(20.0), pose.joints(), np.random.default_rng(seed), 1.0, line=line)
    return Clicks.from_json(asked | {"frame": frame})


def begun(path: Path) -> Path:
    """A case with two readings, their pool on a cast, and a length."""
    with actions.start_case(path, author="A", athlete_code="G-1", consent="given", recording=CLIP) as audit:
        pts = audit.time(250).pts
        actions.place_mark(audit, kind="element", code="cast", start=pts)
        for seed in (1, 2):
            actions.take_reading(audit, clicks("shoulder-ankle", 256, seed))
        actions.pool_readings(audit, ["r1", "r2"], "m1")
        actions.take_length(audit, clicks("hip-over-rail", 256, 3))
    return path


def forged(path: Path, kind: str, change: Change) -> Path:
    """A case of the same events but for one, its chain sound."""
    other = path.with_name("forged.case")
    with actions.open_case(path, author=None) as audit:
        events = audit.case.events
        first = events[0].payload
        with actions.start_case(
            other, author="A", athlete_code=first["athlete_code"], consent="given", recording=CLIP
        ) as made:
            for event in events[3:]:
                payload = json.loads(json.dumps(_plain(event.payload)))
                if event.kind == kind:
                    change(payload)
                made.case.append(event.kind, payload)
    return other


def _plain(one: Any) -> Any:
    if isinstance(one, Mapping):
        return {key: _plain(value) for key, value in one.items()}
    return [_plain(value) for value in one] if isinstance(one, (list, tuple)) else one


def _set(*path: str | int, to: Any) -> Change:
    def change(payload: dict[str, Any]) -> None:
        inside: Any = payload
        for step in path[:-1]:
            inside = inside[step]
        inside[path[-1]] = deepcopy(to)

    return change


READING = ("reading", "reading")
LENGTH = ("length", "length")
POOL = ("pool", "pooled")


@pytest.mark.parametrize(
    ("kind", "change"),
    [
        ("reading-taken", _set(*READING, "value_deg", to="-29.000")),
        ("reading-taken", _set(*READING, "interval95_deg", 0, to="-87.300")),
        ("reading-taken", _set(*READING, "naive_deg", to="-3.000")),
        ("reading-taken", _set(*READING, "calibration", "check", to="as good as can be")),
        ("reading-taken", _set(*READING, "calibration", "rms_px", to="0.010")),
        ("reading-taken", _set(*READING, "calibration", "points", to=308)),
        ("reading-taken", _set(*READING, "budget", 0, "source", to="nothing")),
        ("reading-taken", _set("reading", "pts", to=7)),
        ("length-taken", _set(*LENGTH, "value_mm", to="10.000")),
        ("length-taken", _set(*LENGTH, "interval95_mm", 1, to="9999.000")),
        ("length-taken", _set(*LENGTH, "calibration", "check", to="as good as can be")),
        ("pool-confirmed", _set(*POOL, "reproducibility_deg", to="0.001")),
        ("pool-confirmed", _set(*POOL, "check", to="as good as can be")),
        ("pool-confirmed", _set("mark", "angle", "reading", to="r9")),
        ("pool-confirmed", _set("mark", "angle", "deg", to="-20.000")),
    ],
    ids=lambda one: one if isinstance(one, str) else "",
)
def test_each_field_that_was_changed_is_named(tmp_path: Path, kind: str, change: Change) -> None:
    sound = begun(tmp_path / "sound.case")
    assert actions.verify(sound, recording=CLIP)["same"]
    told = actions.verify(forged(sound, kind, change), recording=CLIP)
    assert not told["same"]


def test_what_was_measured_outside_a_mark_does_not_become_its_angle(tmp_path: Path) -> None:
    with actions.start_case(
        tmp_path / "a.case", author="A", athlete_code="G-1", consent="given", recording=CLIP
    ) as audit:
        start, end = (audit.time(frame).pts for frame in (317, 359))
        actions.place_mark(audit, kind="element", code="cast", start=start, end=end)
        with pytest.raises(AuditError, match="measured outside cast m1"):
            actions.take_and_confirm(audit, clicks("shoulder-ankle", 256, 1), "m1")
        actions.take_and_confirm(audit, clicks("shoulder-ankle", 340, 1), "m1")
