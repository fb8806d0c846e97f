"""Pictures with the heads in them hidden, as they leave a case."""

from collections.abc import Callable, Sequence
from dataclasses import replace

from reviewer import video
from reviewer.actions.audit import Audit
from reviewer.actions.covering import covers_on
from reviewer.terms.covers import Cover
from reviewer.terms.messages import noted
from reviewer.terms.pictures import Picture

Hide = Callable[[str, Picture], Picture]
"""From a recording's SHA-256 and a picture of it to what is shown of it."""


COVERED = noted("heads are covered")
"""What was done to a picture in which heads are hidden."""


def as_it_is(_: str, picture: Picture) -> Picture:
    """What the case's own people see."""
    return picture


def hidden(picture: Picture, covers: Sequence[Cover]) -> Picture:
    """A picture whose covers are filled plain."""
    if not covers:
        return picture
    bgra = video.covered(picture, covers).reshape(-1).data
    return replace(picture, bgra=bgra, treatment=(*picture.treatment, COVERED))


def hiding(audit: Audit) -> Hide:
    """Hides the heads that the case covers; an AuditError where nobody looked through that frame."""
    known = {one.sha256: covers_on(audit, one.sha256) for one in audit.state.recordings}

    def hide(recording: str, picture: Picture) -> Picture:
        covered = known[recording]
        covered.refuse_unreviewed(picture.frame, picture.frame)
        return hidden(picture, covered.on(picture.frame))

    return hide
