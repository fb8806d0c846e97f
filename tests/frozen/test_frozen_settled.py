"""A settlement with lines opened again, as it was frozen: every later version opens it as it was."""

from pathlib import Path

from reviewer.casefile import open_case

CASE = Path(__file__).parent / "settled.v1.case"


def test_it_says_what_it_said() -> None:
    """Written by hand: a fall taken, opened again and left out; a cast both agreed on, opened again."""
    with open_case(CASE, None) as case:
        assert case.state.settled == {"L2": "neither", "L1": None}
        assert case.state.marks == ()
        reasons = [event.payload["because"] for event in case.events if event.kind == "line-reopened"]
        assert [case.text(one) for one in reasons] == ["She stood.", "It was no cast."]
