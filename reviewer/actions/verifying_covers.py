"""Following every covered head again, and naming each stretch on which its covers come out otherwise."""

from collections.abc import Iterator
from itertools import groupby
from pathlib import Path

from reviewer import casefile, video
from reviewer.actions.headfollowing import followed
from reviewer.actions.reviewing import Review
from reviewer.reports import Difference
from reviewer.terms.covers import Cover, Followed, fingerprint_of
from reviewer.terms.problems import ReviewerError

TOLERANCE = 2000
"""Thousandths of a pixel by which a followed cover may differ: libraries differ in pictures' last digits."""


def check_covers(state: casefile.CaseState, review: Review, found: dict[str, Path]) -> None:
    """Follow each head again where its recording is in ``found``, from the covers it was followed from."""
    elsewhere = []
    for recording, heads in state.heads.items():
        kept = [trail for head in heads.letters if (trail := heads.trail(head)) is not None]
        current = [one for one in kept if one.placed == fingerprint_of(heads.of(one.head))]
        path = found.get(recording)
        if path is None:
            elsewhere += [one.head for one in current]
        elif current:
            review.step("covers", (one for trail in current for one in _otherwise(trail, heads, path)))
    if elsewhere:
        review.skip("covers", f"recording not here: {', '.join(elsewhere)}")


def _otherwise(kept: Followed, heads: casefile.Heads, path: Path) -> Iterator[Difference]:
    try:
        with video.open_recording(path) as shown:
            again = followed(heads.of(kept.head), shown, lambda _: True)
    except ReviewerError as fault:
        yield Difference("cover", kept.head, "covers", f"refused: {fault}")
        return
    if len(again.covers) != len(kept.covers):
        yield Difference("cover", kept.head, f"{len(kept.covers)} frames", f"{len(again.covers)} frames")
        return
    pairs = enumerate(zip(kept.covers, again.covers, strict=True))
    apart = [frame for frame, (old, new) in pairs if not _alike(old, new)]
    for _, group in groupby(enumerate(apart), key=lambda one: one[1] - one[0]):
        frames = [frame for _, frame in group]
        first, last = frames[0], frames[-1]
        where = f"{kept.head} frames {first} to {last}"
        yield Difference("cover", where, _said(kept.covers[first]), _said(again.covers[first]))


def _alike(old: Cover | None, new: Cover | None) -> bool:
    if old is None or new is None:
        return old is new
    return all(abs(one - other) <= TOLERANCE for one, other in zip(_sizes(old), _sizes(new), strict=True))


def _sizes(one: Cover) -> tuple[int, ...]:
    return tuple(size.thousandths for size in (one.centre.x, one.centre.y, one.across, one.down))


def _said(one: Cover | None) -> str:
    if one is None:
        return "out of sight"
    x, y, across, down = (size // 1000 for size in _sizes(one))
    return f"at {x}, {y}; {across} by {down}"
