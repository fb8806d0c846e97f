"""What a detector offers to cover on one frame; a person places it, or does not."""

from typing import Any

from reviewer import masking, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.covering import covers_on
from reviewer.actions.headfollowing import looked_at
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def offered_covers(audit: Audit, frame: int, recording: str | None = None) -> dict[str, Any]:
    """``reviewer.offered-covers/1``: covers over what looks like upright faces on a frame; nothing is kept.

    An AuditError where this machine's OpenCV has no detector, or the recording is not here.
    """
    if not masking.can_offer():
        said = message("The OpenCV that is installed has no detector of faces.")
        remedy = message("Place covers by hand, or install a version of opencv-python below 5.")
        raise AuditError(Problem("no-detector", audit.path.name, said, remedy))
    with video.open_recording(looked_at(audit, covers_on(audit, recording))) as shown:
        picture = shown.evidence(frame)
    return {
        "format": "reviewer.offered-covers/1",
        "frame": frame,
        "pts": picture.time.pts,
        "covers": [one.to_json() for one in masking.offered(picture)],
    }
