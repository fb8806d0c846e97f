"""Opening a file: only real containers, only from this computer's own disk."""

from dataclasses import dataclass
from pathlib import Path
from typing import Literal, Self

import av
from av.container import InputContainer
from av.video.stream import VideoStream

from reviewer.terms.messages import message
from reviewer.video.errors import VideoError, no_such_stream, refused, too_large, unreadable

DEMUXERS = "mov,mp4,matroska,webm,mpegts,avi,mpeg,flv,asf,ogg,mxf,dv,ivf,nut"
"""Names of the demuxers that read one self-contained file. Playlists, scripts and picture lists are not among
them: they point at other files or at the network."""

MOST_POINTS = 16384
"""Width and height that are still opened."""

Opened = tuple[InputContainer, VideoStream]


@dataclass(frozen=True, slots=True)
class Decoding:
    """How a decoder works.

    Attributes:
        threads: NONE decodes the same pictures each time, also where a file is damaged; AUTO is fast.
        strict: whether small errors too are reported, in place of a picture, rather than concealed.
        count: how many threads AUTO takes; 0: as many as there are cores.
    """

    threads: Literal["NONE", "AUTO"]
    strict: bool
    count: int = 0


@dataclass(frozen=True, slots=True)
class Origin:
    """The file a recording was opened from, as it was then.

    Attributes:
        path: of the file.
        stream: which of its moving pictures, from 0.
        size: bytes.
        written: when it was last written to, nanoseconds.
        inode: its number in the file system.
    """

    path: Path
    stream: int
    size: int
    written: int
    inode: int

    @classmethod
    def of(cls, path: Path, stream: int) -> Self:
        """A file as it is now; `VideoError` where there is none."""
        _must_be_a_file(path)
        return cls._as_it_is(path, stream)

    def is_another_now(self) -> bool:
        """Whether the file was written over or replaced. One that grew is the same; so is one that is gone,
        as long as it is held open."""
        now = self._now()
        rewritten = now.size == self.size and now.written != self.written
        return rewritten or now.size < self.size or now.inode != self.inode

    def is_untouched(self) -> bool:
        """Whether the file is as it was, as far as the system tells, or gone."""
        return self._now() == self

    def _now(self) -> "Origin":
        try:
            return Origin._as_it_is(self.path, self.stream)
        except OSError:
            return self

    @classmethod
    def _as_it_is(cls, path: Path, stream: int) -> Self:
        now = path.stat()
        return cls(path, stream, now.st_size, now.st_mtime_ns, now.st_ino)


SWIFT, SURE = Decoding("AUTO", strict=False), Decoding("NONE", strict=False)
"""For the pictures of sound groups, and of damaged ones."""
SEARCHING, STRICT = Decoding("AUTO", strict=True), Decoding("NONE", strict=True)
"""For finding groups with errors, and the errors of a group."""

_SCRIPTS = (b"#EXTM3U", b"ffconcat", b"<?xml", b"<MPD", b"[playlist]", b"file ")


def open_container(path: Path, decoding: Decoding, number: int = 0) -> Opened:
    """The opened file and one of its streams of moving pictures; `VideoError` says what is wrong otherwise.

    ``number``: which of them, from 0.
    """
    _must_be_a_file(path)
    options = {"protocol_whitelist": "file", "format_whitelist": DEMUXERS}
    try:
        container = av.open(f"file:{path.absolute()}", "r", options=options)
    except (av.error.FFmpegError, ValueError) as fault:
        raise _not_opened(path, fault) from None
    try:
        stream = _chosen(path, container, number)
    except VideoError:
        container.close()
        raise
    stream.thread_type = decoding.threads
    if decoding.count:
        stream.codec_context.thread_count = decoding.count
    if decoding.strict:
        stream.codec_context.options = {"err_detect": "explode"}
    return container, stream


def moving_pictures(container: InputContainer) -> list[VideoStream]:
    """The streams that are not a cover picture."""
    return [stream for stream in container.streams.video if not _is_cover(stream)]


def _chosen(path: Path, container: InputContainer, number: int) -> VideoStream:
    found = moving_pictures(container)
    if not found:
        raise refused(
            "no-video-stream",
            path,
            message("The file holds no moving pictures."),
            message("Choose another file."),
        )
    if not 0 <= number < len(found):
        raise no_such_stream(path, number, len(found))
    stream = found[number]
    if max(stream.width, stream.height) > MOST_POINTS:
        raise too_large(path, stream.width, stream.height)
    return stream


def _is_cover(stream: VideoStream) -> bool:
    return bool(stream.disposition & av.stream.Disposition.attached_pic)


def _must_be_a_file(path: Path) -> None:
    if path.is_dir():
        raise refused(
            "recording-is-a-folder",
            path,
            message("This is a folder."),
            message("Choose a recording inside it."),
        )
    if not path.is_file():
        raise refused(
            "recording-missing",
            path,
            message("There is no such file."),
            message("Check its name, or find where it went."),
        )
    if _start(path) == b"":
        raise refused(
            "recording-empty", path, message("The file is empty."), message("Copy it again from the camera.")
        )


def _start(path: Path) -> bytes:
    try:
        with path.open("rb") as file:
            return file.read(512)
    except OSError:
        raise unreadable(path) from None


def _not_opened(path: Path, fault: Exception) -> VideoError:
    start = _start(path)
    if start.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(_SCRIPTS):
        return refused(
            "recording-is-a-playlist",
            path,
            message("This is a list that points at other files, not a recording."),
            message("Open the recording itself."),
        )
    if start[4:8] in (b"ftyp", b"mdat", b"wide", b"free") and not _has_box(path, b"moov"):
        return refused(
            "recording-cut-off",
            path,
            message("The file ends before its index (the moov box): the camera did not finish writing it."),
            message("Copy it again from the camera; if it is cut off there too, it must be repaired first."),
        )
    return refused(
        "not-a-recording",
        path,
        message("This is not a video that can be read here."),
        message("Choose an MP4, MOV, MKV, WebM, MPEG-TS or AVI file; other kinds must be converted first."),
    )


def _has_box(path: Path, wanted: bytes) -> bool:
    """Whether a top-level box stands whole in an ISO base media file (ISO/IEC 14496-12, 4.2)."""
    end = path.stat().st_size
    with path.open("rb") as file:
        place = 0
        while place + 8 <= end:
            file.seek(place)
            head = file.read(16)
            size = int.from_bytes(head[:4])
            size = int.from_bytes(head[8:16]) if size == 1 else size or end - place
            if head[4:8] == wanted:
                return place + size <= end
            place += max(size, 8)
    return False
