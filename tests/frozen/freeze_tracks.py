"""How the frozen case of kept tracks was made, once; never again: later versions must open it.

python -m tests.frozen.freeze_tracks
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path
from typing import Any

from reviewer.casefile import create_case

HERE = Path(__file__).parent
STAND = "2" * 64
ANGLES = ("-44.812", "-43.105", "-43.400")
CLICKS = {
    "format": "reviewer.clicks/1",
    "picture": [1280, 720],
    "frame": 61,
    "line": "shoulder-ankle",
    "side": "near",
    "body": {"shoulder": [["680.5", "247.2"]], "ankle": [["612.1", "371.0"]]},
    "points": {},
    "click_sd_px": "1.5",
}


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 3, 16, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "tracks.v1.case", "A", "G-09", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        case.append("mark-placed", {"mark": {"id": "m1", "kind": "element", "code": "cast", "order": 1}})
        case.append("track-taken", {"track": kept("r1", top=False) | {"recording": STAND}})
        angle = {"by": "protractor", "deg": "-43.050", "u_deg": "0.702", "reading": "r2"}
        mark = {"id": "m1", "kind": "element", "code": "cast", "order": 1, "angle": angle}
        case.append("track-confirmed", {"track": kept("r2"), "mark": mark})
        case.append("track-taken", {"track": kept("r3")})
        case.undo()


def kept(name: str, *, top: bool = True) -> dict[str, Any]:
    """A track of three good frames and a lost one, written by hand."""
    frames = [
        {"frame": frame, "pts": 1001 * frame, "state": "good", "angle_deg": angle, "u_deg": "0.700",
         "points": {"ankle": ["612.100", "371.000"], "shoulder": ["680.500", "247.200"]}}
        for frame, angle in enumerate(ANGLES, start=60)
    ]  # fmt: skip
    lost = {"frame": 63, "pts": 63063, "state": "lost", "angle_deg": None, "u_deg": None, "points": {}}
    found = {
        "frame": 61, "pts": 61061, "time_s": "2.042000", "interval_s": ["2.036000", "2.048000"],
        "value_deg": "-43.050", "u_deg": "0.702",
    }  # fmt: skip
    document = {
        "format": "reviewer.track/1",
        "frames": [*frames, lost],
        "top": found if top else None,
        "why_no_top": None if top else "the angle does not turn back where it is highest",
        "lost": [{"frames": [63, 63], "why": "camera"}],
        "through": "shoulder-ankle",
        "calibration": {"check": "picture angle; yaw not corrected"},
        "camera": {"said": "still; lost on frames 63 to 63", "turned_deg": "0.000", "lost": [[63, 63]]},
        "problems": [],
        "time_base": "1/30000",
        "line": "shoulder-ankle",
        "span_ms": 60,
    }
    return {"id": name, "clicks": [CLICKS], "span_ms": 60, "track": document}


if __name__ == "__main__":
    main()
