"""Two values that differ are told in words, so that a reader sees in what they do."""

import pytest

from reviewer.reports import told_apart
from reviewer.reports.telling import MOST, in_words, shortened


@pytest.mark.parametrize(
    ("value", "said"),
    [
        (None, "nothing"),
        (True, "yes"),
        (7, "7"),
        ([], "(empty)"),
        (["m1", None], "m1, nothing"),
        ({"judge": "A", "frames": [1, 2]}, "judge: A; frames: 1, 2"),
    ],
)
def test_a_value_is_said_as_a_person_would(value: object, said: str) -> None:
    assert in_words(value) == said


def test_values_that_read_alike_are_told_with_their_kinds() -> None:
    assert told_apart("7", 7) == ("7 (as text)", "7 (as a number)")
    assert told_apart(None, "nothing") == ("nothing (as it is)", "nothing (as text)")


@pytest.mark.parametrize("place", [0, 150, 5000, 9999])
def test_long_values_are_cut_where_they_part(place: int) -> None:
    old, new = "x" * 10_000, "x" * place + "9" + "x" * (9999 - place)
    first, second = shortened(old, new)
    assert first != second
    assert "9" in second.split(" (cut")[0]
    assert first.endswith("(cut: 10000 signs in all)")
    assert max(len(first), len(second)) < MOST + 40


def test_short_values_stay_as_they_are() -> None:
    assert shortened("a" * MOST, "b") == ("a" * MOST, "b")
