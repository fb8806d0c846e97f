"""The clips of a coach's page: each thing that cost something, standing still where it is decided."""

from collections.abc import Iterable, Sequence
from contextlib import suppress
from fractions import Fraction
from pathlib import Path

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


def make_clips(
    audit: Audit, costs: Costs, folder: Path, today: str, going_on: GoingOn
) -> dict[str, ClipMade]:
    """A clip for each mark that cost something and can be seen, by the mark's id; not yet in place."""
    found: dict[str, ClipMade] = {}
    try:
        for number, mark in enumerate(_marks(audit, costs), start=1):
            wish = ClipWish(mark=mark, freeze_for=_STANDS, captioned=False)
            out = folder / CLIPS / f"{number}.mp4"
            out.parent.mkdir(parents=True, exist_ok=True)
            found[mark] = make_clip(audit, wish, out, use=COACH, today=today, replace=True, going_on=going_on)
    except BaseException:
        discard_clips(found.values())
        raise
    return found


def discard_clips(made: Iterable[ClipMade]) -> None:
    """Let nothing of them remain, nor of their folder where nothing else lies in it."""
    for one in made:
        one.discard()
        with suppress(OSError):
            one.out.parent.rmdir()


def _marks(audit: Audit, costs: Costs) -> Sequence[str]:
    """Marks with a frame on a recording that is here, in the order of the page."""
    every = (*costs.certain, *costs.possible, *costs.neutral)
    named = dict.fromkeys(name for cost in every for name in cost.marks)
    return [
        name for name in named if any(one.recording in audit.recording_paths for one in audit.shown((name,)))
    ]
