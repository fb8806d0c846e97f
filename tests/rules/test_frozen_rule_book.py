"""A rule book of version 1 must open in every later version, and say what it said."""

from pathlib import Path

from reviewer import rules
from reviewer.terms.provisions import Required

FROZEN = Path(__file__).resolve().parents[1] / "frozen" / "demo-bars-2.v1.yaml"


def test_the_frozen_rule_book_still_opens() -> None:
    book = rules.load(FROZEN)
    assert book.id == "demo-bars-2"
    assert (str(book.start.points), str(book.cast.at_least), str(book.cast.tolerance.below)) == (
        "10.000",
        "-45.000",
        "10.000",
    )
    assert [str(amount) for amount in book.fault("medium-step").amounts] == ["0.150"]
    assert len(book.all(Required)) == 4
