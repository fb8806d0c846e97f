"""The clips of a coach's page: each thing that cost something, standing still where it is decided."""

from collections.abc import Iterable
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

from reviewer import video
from reviewer.actions.audit import Audit
from reviewer.actions.clips import ClipMade, make_clip
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.finding import GoingOn
from reviewer.terms.consents import COACH
from reviewer.terms.costs import Costs

CLIPS = "clips"
"""The folder beside the page that they lie in."""
_STANDS = Fraction(3, 2)
"""Seconds for which the deciding frame stands still."""
_Seen = tuple[str, tuple[tuple[str, int], ...]]
"""Of a mark: its element, and the recordings and frames on which it is seen."""


def make_clips(
    audit: Audit, costs: Costs, folder: Path, today: str, going_on: GoingOn
) -> dict[str, ClipMade]:
    """A clip for each mark that cost something and can be seen, by the mark's id; not yet in place.

    Marks that are seen on one frame of one element, as where several judges took the same, share one.
    """
    found: dict[str, ClipMade] = {}
    made: dict[_Seen, ClipMade] = {}
    try:
        for mark, seen in _marks(audit, costs).items():
            if seen not in made:
                wish = ClipWish(mark=mark, freeze_for=_STANDS, captioned=False)
                out = folder / CLIPS / f"{len(made) + 1}.mp4"
                out.parent.mkdir(parents=True, exist_ok=True)
                made[seen] = make_clip(
                    audit, wish, out, use=COACH, today=today, replace=True, going_on=going_on
                )
            found[mark] = made[seen]
    except BaseException:
        discard_clips(made.values())
        raise
    return found


def remove_earlier(audit: Audit, folder: Path, kept: Iterable[ClipMade]) -> None:
    """Remove clips of an earlier page in this folder, as far as they are still what the case wrote then."""
    written = {event.payload["sha256"] for event in audit.case.events if event.kind == "clip-written"}
    staying = {one.out for one in kept}
    for place in sorted((folder / CLIPS).glob("*.mp4")):
        if place not in staying and place.stem.isdigit() and video.fingerprint(place) in written:
            place.unlink()
    with suppress(OSError):
        (folder / CLIPS).rmdir()


def discard_clips(made: Iterable[ClipMade]) -> None:
    """Let nothing of them remain, nor of their folder where nothing else lies in it."""
    for one in made:
        one.discard()
        with suppress(OSError):
            one.out.parent.rmdir()


def _marks(audit: Audit, costs: Costs) -> dict[str, _Seen]:
    """Marks with a frame on a recording that is here, in the order of the page, and where each is seen."""
    every = (*costs.certain, *costs.possible, *costs.neutral)
    named = dict.fromkeys(name for cost in every for name in cost.marks)
    elements = {mark.id: mark.element or mark.id for mark in audit.marks}
    found: dict[str, _Seen] = {}
    for name in named:
        frames = tuple((one.recording, one.frame) for one in audit.shown((name,)))
        if any(recording in audit.recording_paths for recording, _ in frames):
            found[name] = elements[name], frames
    return found
