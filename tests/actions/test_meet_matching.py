"""Recordings are matched with routines by whole words of their names, and nothing is guessed."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer.actions.meetmatching import PATTERN, fits_of, matched
from reviewer.terms.meets import Start
from reviewer.terms.problems import DocumentError

NUMBERS = st.integers(1, 400).map(str)


def found(starts: list[str], recordings: list[str], pattern: str = PATTERN) -> dict[str, str]:
    given = matched([Start(name, line) for line, name in enumerate(starts, 2)], recordings, pattern)
    return {one.name: one.recordings[0] for one in given if one.recordings}


@pytest.mark.parametrize(
    ("starts", "recording", "start"),
    [
        (["12"], "12.mp4", "12"),
        (["12"], "day-2/bars_12_left.MP4", "12"),
        (["7"], "007.mp4", "7"),
        (["7", "007"], "007.mp4", "007"),
        (["B-7"], "b-007.mov", "B-7"),
        (["B-7", "7"], "B-7.mp4", "B-7"),
        (["g12a"], "final G12A.mkv", "g12a"),
        (["1"], "12.mp4", None),
        (["12"], "112.mp4", None),
        (["12"], "12b.mp4", None),
        (["4"], "clip.mp4", None),
        (["1", "2"], "1-2.mp4", None),
        (["7", "07"], "007.mp4", None),
    ],
)
def test_a_name_stands_as_a_whole_word(starts: list[str], recording: str, start: str | None) -> None:
    assert found(starts, [recording]) == ({} if start is None else {start: recording})


@pytest.mark.parametrize(
    ("pattern", "recording", "fits"),
    [
        ("*/{start}.*", "session-1/12.mp4", ["12"]),
        ("SESSION-*_{start}.mp4", "session-1_12.mp4", ["12"]),
        ("bars{start}.mp4", "bars12.mp4", ["12"]),
        ("{start}.mp4", "day/12.mp4", []),
        ("*{start}.mp4", "12.mov", []),
        ("*[{start}]*", "a[12].mp4", ["12"]),
    ],
)
def test_a_pattern_says_where_the_name_stands(pattern: str, recording: str, fits: list[str]) -> None:
    assert fits_of(["12", "1"], [recording], pattern).of_recording.get(recording, []) == fits


@pytest.mark.parametrize("pattern", ["", "*", "*.mp4", "{start}{start}", "{START}"])
def test_a_pattern_names_one_place(pattern: str) -> None:
    with pytest.raises(DocumentError, match="once"):
        fits_of(["1"], ["1.mp4"], pattern)


def test_several_recordings_of_one_start_are_not_guessed_among() -> None:
    fits = fits_of(["9"], ["9 left.mp4", "9 right.mp4"], PATTERN)
    assert fits.only("9") is None
    assert fits.of_start == {"9": ["9 left.mp4", "9 right.mp4"]}


def test_what_was_matched_by_hand_stays_and_is_of_nobody_else() -> None:
    by_hand = Start("5", 2, recordings=("6.mp4",), by_hand=True)
    none = Start("8", 3, by_hand=True)
    given = matched([by_hand, none, Start("6", 4)], ["5.mp4", "6.mp4", "8.mp4"], PATTERN)
    assert [one.recordings for one in given] == [("6.mp4",), (), ()]


@given(st.sets(NUMBERS), st.lists(NUMBERS, unique=True), st.sampled_from(["", "0", "00"]))
def test_a_start_never_gets_a_file_whose_name_holds_only_other_numbers(
    starts: set[str], numbers: list[str], zeros: str
) -> None:
    recordings = [f"cam_{zeros}{number}.mp4" for number in numbers]
    for start, recording in found(sorted(starts), recordings).items():
        assert int(start) in map(int, re.findall(r"_(\d+)", recording))


@given(st.sets(NUMBERS), st.lists(NUMBERS, min_size=1, max_size=4))
def test_a_recording_is_given_to_a_start_only_if_it_fits_no_other(starts: set[str], words: list[str]) -> None:
    recording = f"{' '.join(words)}.mp4"
    fitting = starts & set(words)
    assert found(sorted(starts), [recording]) == (
        dict.fromkeys(fitting, recording) if len(fitting) == 1 else {}
    )


@given(st.permutations([*map(str, range(1, 13)), "B-7", "b8"]), st.permutations(range(1, 13)))
def test_the_order_of_table_and_folder_does_not_matter(starts: list[str], files: list[int]) -> None:
    recordings = [f"{number:03d}.mp4" for number in files] + ["x B-7.mp4", "B8.mp4", "b8 again.mp4"]
    assert found(starts, recordings) == found(sorted(starts), sorted(recordings))
    assert "b8" not in found(starts, recordings)
