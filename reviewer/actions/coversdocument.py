"""The covers of a recording told as a document, and on one frame as a picture."""

from pathlib import Path
from typing import Any

from reviewer import video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.covering import Covered, covers_on
from reviewer.actions.headfollowing import recording_here
from reviewer.actions.hiding import hidden
from reviewer.actions.outgoing import write_file
from reviewer.exchange.gate import withdrawn


def covers_document(audit: Audit, recording: str | None = None) -> dict[str, Any]:
    """``reviewer.covers/1``: heads, what was placed by hand, what is lost, and who looked through what."""
    covered = covers_on(audit, recording)
    cited = audit.cited(recording)
    return {
        "format": "reviewer.covers/1",
        "recording": audit.number_of(covered.recording),
        "recording_sha256": covered.recording,
        "frames": covered.frames,
        "time_base": cited.time_base,
        "heads": [_head(covered, head, cited.pts) for head in covered.heads.letters],
        "unfollowed": list(covered.unfollowed),
        "lost": [list(one) for one in covered.lost],
        "looked_through": [list(one) for one in covered.looked_through],
        "reviews": [
            {"first": one.first, "last": one.last, "by": one.by, "covers_sha256": one.sha256}
            for one in covered.heads.reviews
        ],
    }


def save_covered_still(audit: Audit, frame: int, out: Path, recording: str | None = None) -> dict[str, Any]:
    """Write one frame with its covers as PNG, to look at here before they are confirmed."""
    locked = withdrawn(audit.permission, audit.path.name)
    if locked is not None:
        raise AuditError(locked)
    covered = covers_on(audit, recording)
    covers = covered.on(frame)
    path = recording_here(audit, covered)
    with video.open_recording(path) as shown:
        picture = shown.evidence(frame)
    write_file(out, video.png(hidden(picture, covers)), (path, audit.path))
    return {
        "format": "reviewer.covered-still/1",
        "frame": frame,
        "pts": picture.time.pts,
        "covers": len(covers),
    }


def _head(covered: Covered, head: str, pts: tuple[int, ...]) -> dict[str, Any]:
    trail = covered.trails[head]
    placed = [one.to_json() | {"pts": pts[one.frame]} for one in covered.heads.of(head)]
    return {
        "head": head,
        "placed": placed,
        "followed": trail is not None,
        "lost": [list(one) for one in trail.lost] if trail else None,
    }
