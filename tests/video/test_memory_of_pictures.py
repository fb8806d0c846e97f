"""Decoded pictures are kept within the bytes that were given, and read ahead in the direction of travel."""

from collections.abc import Callable
from pathlib import Path

from hypothesis import given
from hypothesis import strategies as st

from reviewer.video import open_recording
from reviewer.video.keeping import Kept, Shares

Clip = Callable[[str], Path]
PICTURE = 160 * 90 * 3 // 2


@given(
    st.lists(st.tuples(st.integers(0, 9), st.integers(1, 40)), max_size=40),
    st.integers(1, 100),
    st.integers(0, 9),
)
def test_never_more_is_kept_than_allowed_but_for_the_newest_and_the_wanted(
    kept: list[tuple[int, int]], most: int, wanted: int
) -> None:
    memory: Kept[int] = Kept(most)
    memory.wanted = wanted
    for frame, size in kept:
        memory.keep(frame, size, size)
        held = {number: memory.peek(number) for number in range(10) if number in memory}
        spared = sum(size for number, size in held.items() if size and number in (frame, wanted))
        assert sum(size or 0 for size in held.values()) <= max(most, spared)
        assert memory.get(frame) == size


@given(st.integers(1 << 20, 1 << 34), st.integers(1, 1 << 29))
def test_what_is_shared_out_is_no_more_than_there_is(memory: int, picture: int) -> None:
    shares = Shares.of(memory, picture)
    assert shares.stored + shares.shown <= memory
    assert shares.stored > 0
    assert shares.shown > 0


def test_reading_ahead_makes_the_next_pictures_ready_either_way(clip: Clip) -> None:
    with open_recording(clip("h264-long.mp4")) as recording:
        recording.picture(120)
        for _ in recording.prepare(120, -1):
            pass
        assert all(recording.at_hand(n) is not None for n in (119, 118, 117, 121, 122, 123))
        assert all(recording.is_decoded(n) for n in range(100, 150))


def test_reading_ahead_can_be_broken_off_at_any_step(clip: Clip) -> None:
    with open_recording(clip("h264-long.mp4")) as recording:
        for frame in (200, 10, 149, 150, 151, 0, 239):
            for _, _ in zip(range(7), recording.prepare(frame, -1), strict=False):
                pass
        with open_recording(clip("h264-long.mp4")) as fresh:
            assert [recording.picture_hash(n) for n in range(140, 160)] == [
                fresh.picture_hash(n) for n in range(140, 160)
            ]


def test_a_small_memory_gives_the_same_pictures(clip: Clip) -> None:
    order = [0, 239, 100, 99, 98, 150, 149, 148, 147, 20]
    path = clip("h264-long.mp4")
    with open_recording(path, memory=4 * PICTURE) as little, open_recording(path) as much:
        assert [little.picture(n) for n in order] == [much.picture(n) for n in order]
