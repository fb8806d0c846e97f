"""Casts followed from simulated clicks of 1.5 px to their top, held against the truth of the drawn films.

*Beyond the click* takes away what the clicks alone do to the angle: the error on the clicked frame. Beside it
stands what the picture's angle alone would have said at the top. `effects` has a film each of what drawn
films usually lack.
"""

from collections.abc import Callable, Iterator, Sequence
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from reviewer import measuring
from reviewer.measuring.following import Track
from reviewer.terms.pictures import Picture
from reviewer.terms.readings import Clicks
from reviewer.video import Recording, open_recording
from tests.benchmarks import effects
from tests.benchmarks.cast_films import FILMS, sample_shots
from tests.benchmarks.casts_drawn import Shot
from tests.benchmarks.casts_followed import FAR, WITHIN, Run, clicks_on, runs_of
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import OURS, Figure, each_in_ms, interleaved, percentile, ratios, timed

Array = NDArray[np.float32]

ABOUT = ("near-the-top", "whole-casts", "effects", "cost")
FRAME_ERRORS = {30: 0.0, 60: 1.0, 120: 2.0}
FLOW, WITH_CORNERS = "bare optical flow on the same joints", "on the joints and the camera's corners"
CORNERS = 40
"""As many as the camera is followed by."""


def figures(setting: Setting, about: str) -> Iterator[Figure]:
    """The figures of one table."""
    if about == "effects":
        yield from effects.figures(setting)
        return
    films = FILMS[:2] if setting.quick else FILMS
    shots = [*(film.shot(setting.folder) for film in films), *([] if setting.quick else sample_shots())]
    tables: dict[str, Callable[[Setting, Sequence[Shot]], Iterator[Figure]]] = {
        "near-the-top": _near_the_top,
        "whole-casts": _whole_casts,
        "cost": _cost,
    }
    yield from tables[about](setting, shots)


def _near_the_top(setting: Setting, shots: Sequence[Shot]) -> Iterator[Figure]:
    runs = [run for shot in shots for run in runs_of(shot, WITHIN, 250, setting.rounds(12) // 4)]
    offered = 100 * sum(run.beyond is not None for run in runs) / len(runs)
    each = {
        f"{shot.path.stem}, %": 100.0
        * float(np.mean([run.beyond is not None for run in runs if run.shot is shot]))
        for shot in shots
    }
    yield Figure("clicked within 150 ms: offers the top's angle", offered, "%", len(runs), min(each.values()),
                 max(each.values()), 95.0, None, each)  # fmt: skip
    beyond = [abs(run.beyond) for run in runs if run.beyond is not None]
    naive = {"picture's angle alone": float(np.median([abs(run.naive) for run in runs]))}
    for share, most, words in ((0.5, 0.10, "median"), (0.9, 0.35, "9 in 10")):
        yield Figure(f"angle at the top beyond the click, {words}", percentile(beyond, share), "deg",
                     len(beyond), min(beyond), max(beyond), None, most, naive)  # fmt: skip
    for rate, most in FRAME_ERRORS.items():
        off = [float(n) for run in runs if round(run.shot.rate) == rate and (n := run.frames_off) is not None]
        if off:
            what = f"frames off the top at {rate} a second, 9 in 10"
            yield Figure(what, percentile(off, 0.9), "", len(off), min(off), max(off), None, most)
    kept = [run.covered for run in runs if run.covered is not None]
    yield Figure("top's stated 95 % holds the truth", 100 * float(np.mean(kept)), "%", len(kept), 0, 100)
    yield _wrong(runs, "clicked within 150 ms")


def _whole_casts(setting: Setting, shots: Sequence[Shot]) -> Iterator[Figure]:
    runs = [run for shot in shots for run in runs_of(shot, FAR, 500, setting.rounds(12) // 4)]
    yield _wrong(runs, "whole casts")


def _wrong(runs: Sequence[Run], words: str) -> Figure:
    """Runs that offer an angle as good which is 3 degrees wrong, the click's own error included; what was
    clicked itself is the protractor's matter."""
    worst = [
        max((abs(size) for n, size in run.errors.items() if n != run.clicked), default=0) for run in runs
    ]
    offered = 100 * float(np.mean([len(run.errors) / len(run.track.frames) for run in runs]))
    beside = {"frames offered, %": offered, "greatest error, deg": float(max(worst))}
    wrong = sum(size > 3 for size in worst)
    return Figure(f"{words}: runs with an angle > 3 degrees wrong", wrong, "", len(runs), 0, wrong, None, 0.0,
                  beside)  # fmt: skip


def _cost(setting: Setting, shots: Sequence[Shot]) -> Iterator[Figure]:
    """Pictures at hand; ours less what is done once for the clicked frame."""
    for shot in shots:
        with open_recording(shot.path) as recording:
            yield _cost_of(shot, recording, setting.rounds(12))


def _cost_of(shot: Shot, recording: Recording, rounds: int) -> Figure:
    """Against flow on the followed joints alone, which would not notice that the camera turns.

    Beside it, flow on the joints and as many corners of the hall as tell how the camera turns.
    """
    document = clicks_on(shot, shot.top, np.random.default_rng(0))
    clicks = Clicks.from_json(document)
    reach = round(0.15 * shot.rate)
    pictures = {n: recording.picture(n) for n in range(shot.top - reach - 1, shot.top + reach + 2)}
    joints = np.array([document["body"][name][0] for name in ("shoulder", "ankle")], np.float32)

    def follow(span_ms: int) -> Track:
        return measuring.follow([clicks], recording.facts, pictures.get, span_ms)

    frames = len(follow(150).frames) - 1
    shown = [pictures[number] for number in sorted(pictures)[: frames + 1]]
    still = cv2.goodFeaturesToTrack(_grey(shown[0]), CORNERS, 0.02, 20).reshape(-1, 2)
    seconds = interleaved(
        {
            OURS: lambda _: timed(lambda: follow(150)) - timed(lambda: follow(0)),
            FLOW: lambda _: timed(lambda: _flow(shown, joints)),
            WITH_CORNERS: lambda _: timed(lambda: _flow(shown, np.vstack([joints, still]))),
        },
        rounds,
    )
    found = ratios(seconds, OURS, FLOW)
    return Figure(f"cost per frame followed, {shot.path.stem}", float(np.median(found)), "x", len(found),
                  min(found), max(found), None, 2.0, each_in_ms(seconds, frames))  # fmt: skip


def _flow(shown: Sequence[Picture], spots: Array) -> None:
    """Bare optical flow from picture to picture, grey as each comes."""
    before = None
    for picture in shown:
        grey = _grey(picture)
        if before is not None:
            cv2.calcOpticalFlowPyrLK(before, grey, spots.reshape(-1, 1, 2), None)
        before = grey


def _grey(picture: Picture) -> Any:
    wide, tall = picture.size
    return cv2.cvtColor(np.frombuffer(picture.bgra, np.uint8).reshape(tall, wide, 4), cv2.COLOR_BGRA2GRAY)
