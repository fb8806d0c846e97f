"""A case of covered heads, as it was frozen: every later version opens it, and it says what it said."""

from pathlib import Path

from reviewer.casefile import open_case
from reviewer.terms.consents import Consent
from reviewer.terms.covers import Cover, Placed
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot

CASE = Path(__file__).parent / "covers.v1.case"


def test_its_covers_and_who_looked_through_them_are_read() -> None:
    """Written by hand: head a on frame 2 and out of sight from 8, head b taken away again."""
    with open_case(CASE, None) as case:
        (heads,), permission = case.state.heads.values(), case.state.permission
    spot = Spot(Pixels.parse("612.1"), Pixels.parse("371"))
    by_hand = Cover(spot, Pixels.parse("30"), Pixels.parse("33.5"))
    assert heads.letters == ("a",)
    assert heads.of("a") == (Placed("a", 2, by_hand), Placed("a", 8, None))
    trail = heads.trail("a")
    assert trail is not None
    assert (trail.covers[7], trail.covers[8], trail.lost) == (
        Cover.of_whole(617, 371, 36, 41),
        None,
        ((4, 5),),
    )
    (review,) = heads.reviews
    assert (review.first, review.last, review.by) == (0, 7, "A")
    assert permission == Consent("given", ("teaching",), None, "parent")
