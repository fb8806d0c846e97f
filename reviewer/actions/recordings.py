"""What a recording holds, and one frame of it as a picture file."""

from pathlib import Path
from typing import Any

from reviewer import video
from reviewer.actions.outgoing import write_file
from reviewer.terms.pictures import RecordingFacts


def frames_document(path: Path, hashes: bool, stream: int = 0) -> dict[str, Any]:
    """``reviewer.frames/1``: every frame's tick and, on request, every picture's fingerprint."""
    with video.open_recording(path, stream=stream) as recording:
        digests = tuple(recording.hashes()) if hashes else None
        facts = recording.facts  # damage shows only while decoding
    document = _facts(facts, video.fingerprint(path))
    return document | ({"picture_sha256": list(digests)} if digests is not None else {})


def save_still(path: Path, frame: int, out: Path, stream: int = 0) -> dict[str, Any]:
    """Write one frame as PNG, as displayed: ``reviewer.still/1``."""
    with video.open_recording(path, stream=stream) as recording:
        picture = recording.evidence(frame)
        digest = recording.picture_hash(frame)
    write_file(out, video.png(picture), (path,))
    return {
        "format": "reviewer.still/1",
        "frame": picture.frame,
        "pts": picture.time.pts,
        "occurrence": picture.time.occurrence,
        "time_base": str(picture.time.time_base),
        "picture_sha256": digest,
        "size": list(picture.size),
        "matrix": picture.matrix,
        "suspect": picture.suspect,
        "treatment": list(picture.treatment),
        "stream": stream,
    }


def _facts(facts: RecordingFacts, digest: str) -> dict[str, Any]:
    return {
        "format": "reviewer.frames/1",
        "sha256": digest,
        "frames": len(facts.pts),
        "time_base": str(facts.time_base),
        "pts": list(facts.pts),
        "key_frames": list(facts.key_frames),
        "counted_by": facts.counted_by,
        "coded": list(facts.coded),
        "displayed": list(facts.displayed),
        "rotation": facts.rotation,
        "pixel_aspect": facts.pixel_aspect,
        "missing": list(facts.missing),
        "suspect": [list(stretch) for stretch in facts.suspect],
        "interlaced": facts.interlaced,
        "transfer": facts.transfer,
        "stream": facts.stream,
        "streams": facts.streams,
        "time_code": facts.time_code,
    }
