"""SHA-256 (FIPS 180-4) of a file, and of a stored picture as the framehash muxer of FFmpeg prints it."""

from collections.abc import Callable
from fractions import Fraction
from hashlib import sha256
from pathlib import Path

from av.codec.context import CodecContext
from av.video.codeccontext import VideoCodecContext
from av.video.frame import VideoFrame

from reviewer.terms.messages import message
from reviewer.video.errors import refused, unreadable

_CHUNK = 1 << 20


def fingerprint(path: Path, progress: Callable[[int, int], None] | None = None) -> str:
    """SHA-256 of the file's bytes in hex; ``progress`` is told bytes done and bytes in all. `VideoError`."""
    if not path.is_file():
        raise refused(
            "recording-missing",
            path,
            message("There is no such file."),
            message("Check the name and the place."),
        )
    digest, done, size = sha256(), 0, path.stat().st_size
    try:
        with path.open("rb") as file:
            while chunk := file.read(_CHUNK):
                digest.update(chunk)
                done += len(chunk)
                if progress:
                    progress(done, size)
    except OSError:
        raise unreadable(path) from None
    return digest.hexdigest()


def native_hash(frame: VideoFrame) -> str:
    """SHA-256 of the stored picture: its planes in its own pixel format, row padding removed, not turned."""
    packer = CodecContext.create("rawvideo", "w")
    assert isinstance(packer, VideoCodecContext)
    packer.width, packer.height, packer.pix_fmt = frame.width, frame.height, frame.format.name
    packer.time_base = frame.time_base or Fraction(1)
    digest = sha256()
    for packet in packer.encode(frame):
        digest.update(packet)
    return digest.hexdigest()
