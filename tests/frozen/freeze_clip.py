"""How the frozen case of two clips was made, once; never again.

python -m tests.frozen.freeze_clip
"""

from datetime import UTC, datetime, timedelta
from itertools import count
from pathlib import Path

from reviewer.casefile import create_case

HERE = Path(__file__).parent
RECORDING = "5" * 64


def main() -> None:
    """Write the case beside this script; a file that is there is refused."""
    start, seconds = datetime(2026, 11, 26, 9, 0, tzinfo=UTC), count()
    with create_case(
        HERE / "clip.v1.case", "A", "G-11", "given", lambda: start + timedelta(seconds=next(seconds))
    ) as case:
        runs = {"first_pts": 0, "last_pts": 9_000, "pts_runs": [[0, 1000, 10]]}
        case.append("recording-cited", {"sha256": RECORDING, "frames": 10, "time_base": "1/30000"} | runs)
        case.append("consent-changed", {"consent": "given", "for": ["teaching", "coach"]})
        shown = [{"recording": RECORDING, "first": 2, "last": 7}]
        case.append("clip-written", {"sha256": "a" * 64, "use": "teaching", "shown": shown})
        case.append("clip-written", {"sha256": "b" * 64, "use": "coach", "shown": []})


if __name__ == "__main__":
    main()
