"""Every format a judge may be handed, frame for frame, whichever way a frame is reached.

Sources of what is expected: FFmpeg's framehash for the stored pictures, ffprobe for their times, FFmpeg's own
turning for what is upright, and the number drawn into each picture for which picture it is.
"""

import random
import subprocess
from collections.abc import Callable, Iterable
from pathlib import Path

import numpy as np
import pytest
from clip_recipes import COUNT, RECIPES, UNTESTED
from numbered_pictures import number_in
from numpy.typing import NDArray
from outside_ffmpeg import framehash, probed_pts

from reviewer.terms.pictures import Picture
from reviewer.video import VideoError, open_recording

Clip = Callable[[str], Path]
ACCESSES, PER_OPENING, SEEN = 500, 100, 80
TWICE = [name for name in RECIPES if name.startswith(("twice-", "many-at-once"))]
Pixels = NDArray[np.uint8]
BY_STREAM: dict[str, Callable[[Pixels], Pixels]] = {
    "turned-in-stream.ts": lambda stored: np.rot90(stored, 1),
    "mirrored-in-stream.mkv": lambda stored: stored[:, ::-1],
    "turned-and-mirrored-in-stream.mp4": lambda stored: np.rot90(stored[::-1], 3),
}
"""What the display orientation message asks for: mirror, then turn anticlockwise (ITU-T H.264, D.2.27).
FFmpeg's command of this version turns by the container alone, so it cannot be asked."""
BY_CONTAINER = ["turned-90.mp4", "turned-180.mov", "turned-270.mp4", "mirrored.mp4"]


def rows(names: Iterable[str]) -> pytest.MarkDecorator:
    """The formats one check is made on."""
    return pytest.mark.parametrize("name", names)


def expected(path: Path) -> tuple[str, ...]:
    found = framehash(path)[RECIPES[path.name].unfounded :]
    assert found
    return found


def shown(picture: Picture) -> Pixels:
    width, height = picture.size
    return np.frombuffer(picture.bgra, np.uint8).reshape(height, width, 4)


@rows(RECIPES)
def test_the_pictures_in_order_are_those_ffmpeg_gives(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        assert tuple(recording.hashes()) == expected(clip(name))
        assert (recording.facts.suspect, recording.facts.missing) == ((), ()), "nothing is damaged"


@rows(RECIPES)
def test_any_frame_asked_for_at_random_is_exact(clip: Clip, name: str) -> None:
    """500 accesses, the recording opened afresh after each 100: nothing kept from before can help."""
    wanted = expected(clip(name))
    order = random.Random(name).choices(range(len(wanted)), k=ACCESSES)
    wrong = []
    for first in range(0, ACCESSES, PER_OPENING):
        with open_recording(clip(name)) as recording:
            asked = order[first : first + PER_OPENING]
            wrong += [n for n in asked if recording.picture_hash(n) != wanted[n]]
    assert not wrong


@rows(RECIPES)
def test_every_time_the_file_gives_is_kept(clip: Clip, name: str) -> None:
    probed = probed_pts(clip(name))[RECIPES[name].unfounded :]
    with open_recording(clip(name)) as recording:
        pts = recording.facts.pts
    assert len(pts) == len(probed)
    assert [(n, own) for n, own in enumerate(pts) if probed[n] not in (own, None)] == []
    assert list(pts) == sorted(pts)


@rows(
    [name for name, recipe in RECIPES.items() if recipe.readable and name not in [*BY_CONTAINER, *BY_STREAM]],
)
def test_the_picture_shown_for_a_frame_carries_its_number(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        count = len(recording.facts.pts)
        order = random.Random(name).sample(range(count), k=min(count, SEEN))
        seen = {n: number_in(shown(recording.picture(n))) for n in order}
    wanted = RECIPES[name].numbers or range(seen[order[0]] - order[0], COUNT)
    assert [(n, number) for n, number in seen.items() if number != wanted[n]] == []
    assert RECIPES[name].numbers is None or count == len(wanted)


@rows([*BY_CONTAINER, *BY_STREAM])
def test_a_turned_or_mirrored_recording_is_shown_upright(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        pictures = [recording.picture(n) for n in (0, 77, 201)]
        displayed = recording.facts.displayed
    for picture in pictures:
        if name in BY_STREAM:
            upright = BY_STREAM[name](by_ffmpeg(clip("h264-long.mp4"), picture.frame, (160, 90)))
        else:
            upright = by_ffmpeg(clip(name), picture.frame, displayed)
        theirs, ours = upright.astype(np.int16), shown(picture)[..., :3].astype(np.int16)
        assert ours.shape == theirs.shape
        assert np.abs(ours - theirs).mean() < 8, "FFmpeg's own command spreads colour more coarsely"
        for other in (theirs[::-1], theirs[:, ::-1], theirs[::-1, ::-1]):
            assert np.abs(ours - other).mean() > 20


def by_ffmpeg(path: Path, frame: int, size: tuple[int, int]) -> Pixels:
    """The picture as FFmpeg's own command shows it, turned by the container's matrix."""
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-vf", f"select=eq(n\\,{frame})", "-frames:v", "1"]
    command += ["-fps_mode", "passthrough", "-f", "rawvideo", "-pix_fmt", "bgr24", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    return np.frombuffer(raw, np.uint8).reshape(size[1], size[0], 3)


@rows(TWICE)
def test_frames_of_one_tick_are_told_apart_by_their_occurrence(clip: Clip, name: str) -> None:
    probed = probed_pts(clip(name))
    assert len(set(probed)) < len(probed), "the recipe must make ticks that are shared"
    with open_recording(clip(name)) as recording:
        facts = recording.facts
        times = [facts.time(n) for n in range(len(facts.pts))]
    assert len(set(times)) == len(times)
    assert [facts.frame_of(time) for time in times] == list(range(len(times)))
    assert max(time.occurrence for time in times) == max(probed.count(pts) for pts in set(probed)) - 1


@rows(["streams.mp4", "streams.mkv", "streams.ts"])
def test_of_several_moving_pictures_the_first_is_read_and_all_are_counted(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        assert recording.facts.coded == (160, 90)
        assert (recording.facts.stream, recording.facts.streams) == (0, 2)


@rows(
    [name for name, recipe in RECIPES.items() if len(recipe.numbers or range(99)) > 60 and recipe.readable],
)
def test_playing_shows_what_stepping_shows(clip: Clip, name: str) -> None:
    with open_recording(clip(name)) as recording:
        stop = min(47, len(recording.facts.pts))
        played = list(recording.pictures(21, stop))
        assert played == [recording.picture(n) for n in range(21, stop)]


def test_a_frame_outside_a_recording_of_one_frame_is_refused(clip: Clip) -> None:
    with open_recording(clip("one-frame.ts")) as recording, pytest.raises(VideoError, match="0 to 0"):
        recording.picture(1)


@pytest.mark.parametrize("name", UNTESTED)
def test_a_format_that_cannot_be_made_here(name: str) -> None:
    pytest.skip(f"untested: {name}: {UNTESTED[name]}")
