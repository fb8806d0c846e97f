"""A case that two clips were made of, as it was frozen: every later version opens it as it was."""

from pathlib import Path

from reviewer.casefile import open_case

CASE = Path(__file__).parent / "clip.v1.case"


def test_it_says_what_left_it() -> None:
    """Written by hand: a clip for teaching of frames 2 to 7, one for the coach of another case's frames."""
    with open_case(CASE, None) as case:
        left = [event.payload for event in case.events if event.kind == "clip-written"]
    shown = [{"recording": "5" * 64, "first": 2, "last": 7}]
    assert left == [
        {"sha256": "a" * 64, "use": "teaching", "shown": shown},
        {"sha256": "b" * 64, "use": "coach", "shown": []},
    ]
