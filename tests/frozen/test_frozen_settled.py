"""A settlement with lines opened again, as it was frozen: every later version opens it as it was."""

from hashlib import sha256
from pathlib import Path

from reviewer.casefile import check_chain, open_case, read_events

CASE = Path(__file__).parent / "settled.v1.case"
FILE = "74c89a7ba0ac275620c71a099e2de75216665d0dbe7f683a184f2056cdf483df"
LAST = "6a34728032f8db83cd07410e4cc6ea451ffa87f133b7e734d51dc5b72c65b4a1"


def test_the_frozen_case_is_the_one_that_was_frozen() -> None:
    assert sha256(CASE.read_bytes()).hexdigest() == FILE
    events = read_events(CASE)
    assert check_chain(events) == ()
    assert events[-1].hash == LAST


def test_it_says_what_it_said() -> None:
    """Written by hand: a fall taken, opened again and left out; a cast both agreed on, opened again."""
    with open_case(CASE, None) as case:
        assert case.state.settled == {"L2": "neither", "L1": None}
        assert case.state.marks == ()
        reasons = [event.payload["because"] for event in case.events if event.kind == "line-reopened"]
        assert [case.text(one) for one in reasons] == ["She stood.", "It was no cast."]
