"""Recipes of small recordings, one for every format that a judge may be handed.

``make(name, folder)`` makes one; benchmarks read the table too. Every picture carries its number
(`numbered_pictures`), so the picture shown for frame n can be checked against n itself.
"""

import subprocess
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from field_pictures import stream
from iso_boxes import flipped, second_edit
from numbered_pictures import write_y4m

COUNT = 240
HALF = tuple(range(120))
SOURCES: dict[str, tuple[int, tuple[int, int], str]] = {
    "plain.y4m": (COUNT, (160, 90), "p"),
    "odd.y4m": (120, (161, 91), "p"),
    "fields.y4m": (120, (160, 96), "t"),
    "other.y4m": (150, (96, 64), "p"),
    "one.y4m": (1, (160, 90), "p"),
    "dot.y4m": (12, (1, 1), "p"),
}
"""Name to count of pictures, their size, and how they are scanned (p: at once, t: odd rows first)."""


@dataclass(frozen=True, slots=True)
class Recipe:
    """How one recording is made.

    Attributes:
        what: the format in words.
        arguments: of the ffmpeg command, before the name of the file it writes.
        numbers: those the pictures carry, in the order shown; None: rising one by one from any number.
        after: what is then done to the file's bytes.
        readable: whether the number can be read from the picture as displayed.
        unfounded: pictures in front of the first key frame that the ffmpeg command makes up from nothing.
    """

    what: str
    arguments: tuple[str, ...]
    numbers: tuple[int, ...] | None = tuple(range(COUNT))
    after: Callable[[bytes], bytes] | None = None
    readable: bool = True
    unfounded: int = 0


PLAIN = ("-i", "plain.y4m")
FIELDS = ("-i", "fields.y4m", "-flags", "+ilme+ildct", "-top", "1")
H264 = ("-c:v", "libx264", "-preset", "veryfast", "-sc_threshold", "0", "-qp", "22")
LONG = (*PLAIN, *H264, "-g", "150", "-bf", "3")
SHORT = (*H264, "-g", "40", "-bf", "2")
OPEN = ("-x264-params", "open-gop=1:keyint=24:min-keyint=24:bframes=3")
HEVC = ("-c:v", "libx265", "-preset", "ultrafast")
CLOSED_HEVC = "log-level=none:keyint=30:bframes=3:open-gop=0:scenecut=0"
OPEN_HEVC = "log-level=none:keyint=24:min-keyint=24:bframes=4:open-gop=1:scenecut=0"
DEEP = ("-pix_fmt", "yuv420p10le")
MPEG2 = ("-c:v", "mpeg2video", "-q:v", "4", "-g", "15", "-bf", "2")
MPEG4 = ("-c:v", "mpeg4", "-q:v", "4", "-g", "24", "-bf", "2")
FIELDS_APART = ("-fflags", "+genpts", "-r", "50", "-i", "fields.h264", "-c", "copy")
FEWER = ("-frames:v", "120")
VARIED = tuple(n for n in range(COUNT) if n % 5 == 0 or n % 3 == 0)
PAIRS = "setts=pts=floor(PTS/{0})*{0}"
"""Two pictures and more of one tick."""


def copied(name: str, *more: str) -> tuple[str, ...]:
    """The same coded pictures in another container."""
    return ("-i", name, "-map", "0", "-c", "copy", *more)


def rate(frames_a_second: str) -> tuple[str, ...]:
    """120 pictures at a rate."""
    return ("-r", frames_a_second, *PLAIN, *FEWER, "-fps_mode", "passthrough", *SHORT)


def turned(*orientation: str) -> tuple[str, ...]:
    """Turned by a message in the stream itself."""
    return (
        *copied("h264-long.mp4"),
        "-bsf:v",
        "h264_metadata=display_orientation=insert:" + ":".join(orientation),
    )


def hdr(curve: str) -> tuple[str, ...]:
    """Tags of high dynamic range, ITU-R BT.2100, by FFmpeg's name of the transfer curve."""
    return ("-color_primaries", "bt2020", "-color_trc", curve, "-colorspace", "bt2020nc")


def from_place(numerator: int, denominator: int) -> Callable[[bytes], bytes]:
    """The front of the file is lost, at a byte like any other."""
    return lambda data: data[len(data) * numerator // denominator + 7 :]


RECIPES: dict[str, Recipe] = {
    "h264-long.mp4": Recipe("H.264, long group, B-frames", LONG),
    "h264-long.mkv": Recipe("H.264 in Matroska", copied("h264-long.mp4")),
    "h264-long.ts": Recipe("H.264 in MPEG-TS", copied("h264-long.mp4")),
    "h264-long.mov": Recipe("H.264 in MOV", copied("h264-long.mp4")),
    "h264-open.mp4": Recipe("H.264, open groups", (*PLAIN, *H264, *OPEN)),
    "h264-open.mkv": Recipe("H.264, open groups, in Matroska", copied("h264-open.mp4")),
    "h264-open.ts": Recipe("H.264, open groups, in MPEG-TS", copied("h264-open.mp4")),
    "h264-open.flv": Recipe("H.264, open groups, in FLV", copied("h264-open.mp4")),
    "h264-refresh.mp4": Recipe(
        "H.264 without key frames after the first: refreshed column by column",
        (*PLAIN, *H264, "-x264-params", "intra-refresh=1:keyint=30:bframes=0"),
    ),
    "h264-refresh.ts": Recipe("the same in MPEG-TS", copied("h264-refresh.mp4")),
    "h264-no-b-front.mp4": Recipe(
        "H.264 without B-frames, index in front",
        (*PLAIN, *H264, "-bf", "0", "-g", "60", "-movflags", "+faststart")
    ),
    "h264-fragments.mp4": Recipe(
        "fragmented MP4", copied("h264-open.mp4", "-movflags", "+frag_keyframe+empty_moov+default_base_moof")
    ),
    "h264-every-frame-a-fragment.mp4": Recipe(
        "MP4 with a fragment for each frame",
        copied("h264-long.mp4", "-movflags", "+frag_every_frame+empty_moov")
    ),
    "h264-intra-422.mov": Recipe(
        "H.264 4:2:2 10 bit, every frame on its own",
        (*PLAIN, *FEWER, *H264, "-pix_fmt", "yuv422p10le", "-g", "1"),
        numbers=HALF,
    ),
    "h264-odd-size.mkv": Recipe(
        "H.264 of odd width and height",
        ("-i", "odd.y4m", "-pix_fmt", "yuv444p", *SHORT), numbers=HALF,
    ),
    "hevc-closed.mp4": Recipe("HEVC 8 bit", (*PLAIN, *HEVC, "-x265-params", CLOSED_HEVC)),
    "hevc-open.mp4": Recipe("HEVC 8 bit, open groups", (*PLAIN, *HEVC, "-x265-params", OPEN_HEVC)),
    "hevc-open.ts": Recipe("HEVC, open groups, in MPEG-TS", copied("hevc-open.mp4")),
    "hevc-open.mkv": Recipe("HEVC, open groups, in Matroska", copied("hevc-open.mp4")),
    "hevc-ten-bit.mp4": Recipe("HEVC 10 bit", (*PLAIN, *DEEP, *HEVC, "-x265-params", CLOSED_HEVC)),
    "hevc-ten-bit-open.mov": Recipe(
        "HEVC 10 bit, open groups, as phones write it",
        (*PLAIN, *DEEP, *HEVC, "-x265-params", OPEN_HEVC, "-tag:v", "hvc1"),
    ),
    "vp8-hidden.webm": Recipe(
        "VP8 with frames that are never shown",
        (*PLAIN, "-c:v", "libvpx", "-auto-alt-ref", "1", "-lag-in-frames", "16", "-g", "60",
         "-b:v", "400k", "-deadline", "realtime", "-cpu-used", "4"),
    ),
    "vp9.webm": Recipe(
        "VP9 with hidden frames",
        (*PLAIN, "-c:v", "libvpx-vp9", "-auto-alt-ref", "1", "-lag-in-frames", "16", "-g", "60",
         "-b:v", "400k", "-deadline", "good", "-cpu-used", "5"),
    ),
    "vp9.mp4": Recipe("VP9 in MP4", copied("vp9.webm")),
    "vp9-odd-size.mkv": Recipe(
        "VP9 of odd size",
        ("-i", "odd.y4m", "-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8", "-g", "30"),
        numbers=HALF,
    ),
    "av1.webm": Recipe(
        "AV1", (*PLAIN, "-c:v", "libsvtav1", "-preset", "12", "-g", "60", "-svtav1-params", "lp=2"),
    ),
    "av1.mp4": Recipe("AV1 in MP4", copied("av1.webm")),
    "av1-ten-bit.mkv": Recipe(
        "AV1 10 bit",
        (*PLAIN, *FEWER, *DEEP, "-c:v", "libaom-av1", "-cpu-used", "8", "-usage", "realtime", "-g", "40"),
        numbers=HALF,
    ),
    "mjpeg.avi": Recipe("MJPEG in AVI", (*PLAIN, "-c:v", "mjpeg", "-q:v", "4")),
    "mjpeg.mov": Recipe("MJPEG in MOV", copied("mjpeg.avi")),
    "mpeg2.ts": Recipe("MPEG-2, open groups, in MPEG-TS", (*PLAIN, *MPEG2)),
    "mpeg2-closed.ts": Recipe(
        "MPEG-2, closed groups", (*PLAIN, *MPEG2, "-flags", "+cgop", "-sc_threshold", "1000000000")
    ),
    "mpeg2.mpg": Recipe(
        "MPEG-2 in a program stream, where many packets have no time", copied("mpeg2.ts", "-f", "vob")
    ),
    "mpeg2.mxf": Recipe("MPEG-2 in MXF", ("-r", "25", *PLAIN, *MPEG2)),
    "mpeg1.mpg": Recipe("MPEG-1", (*PLAIN, "-c:v", "mpeg1video", "-q:v", "4", "-g", "15", "-bf", "2")),
    "prores.mov": Recipe("ProRes", (*PLAIN, "-c:v", "prores_ks", "-profile:v", "0")),
    "dv.avi": Recipe(
        "DV",
        ("-r", "25", *PLAIN, "-frames:v", "40",
         "-vf", "scale=720:576:flags=neighbor", "-c:v", "dvvideo", "-pix_fmt", "yuv420p"),
        numbers=tuple(range(40)),
    ),
    "theora.ogv": Recipe("Theora in Ogg", (*PLAIN, "-c:v", "libtheora", "-q:v", "7", "-g", "30")),
    "wmv2.asf": Recipe("WMV in ASF", (*PLAIN, "-c:v", "wmv2", "-q:v", "4", "-g", "30")),
    "h264-cut.mp4": Recipe(
        "MP4 whose edit list begins in the middle of a group",
        ("-ss", "1.1", *copied("h264-long.mp4")), numbers=tuple(range(33, COUNT)),
    ),
    "h264-open-cut.mov": Recipe(
        "MOV cut in an open group", ("-ss", "3.3", *copied("h264-open.mp4")), numbers=tuple(range(99, COUNT)),
    ),
    "hevc-open-cut.mp4": Recipe(
        "HEVC cut in an open group",
        ("-ss", "3.3", *copied("hevc-open.mp4")), numbers=tuple(range(99, COUNT)),
    ),
    "h264-both-ends-cut.mp4": Recipe(
        "MP4 cut at both ends", ("-ss", "1.1", "-t", "4", *copied("h264-long.mp4")), numbers=None,
    ),
    "h264-two-cuts.mp4": Recipe(
        "MP4 whose edit list leaves a stretch out",
        copied("h264-open.mp4"), numbers=(*range(30, 90), *range(150, 210)),
        after=lambda data: second_edit(data, ((1000, 2000), (5000, 2000))),
    ),
    "h264-delay.mp4": Recipe(
        "MP4 whose pictures begin late", ("-itsoffset", "1.5", *copied("h264-long.mp4"))
    ),
    "h264-delay.mov": Recipe(
        "MOV with sound from the start and pictures later",
        ("-itsoffset", "0.75", *copied("h264-open.mp4")[:2], "-f", "lavfi", "-i", "sine=d=9",
         "-map", "0:v", "-map", "1:a", "-c:v", "copy", "-c:a", "aac"),
    ),
    "h264-late.mkv": Recipe(
        "Matroska that begins at ten seconds", copied("h264-long.mp4", "-output_ts_offset", "10")
    ),
    "h264-late.ts": Recipe(
        "MPEG-TS that begins just before its clock runs over (33 bits of 90 kHz)",
        copied("h264-open.mp4", "-output_ts_offset", "95440"),
    ),
    "h264-untimed.avi": Recipe("H.264 in AVI: no times", copied("h264-long.mp4")),
    "h264-open-untimed.avi": Recipe("H.264 with open groups in AVI", copied("h264-open.mp4")),
    "h264-no-b.avi": Recipe("H.264 without B-frames in AVI", copied("h264-no-b-front.mp4")),
    "hevc-untimed.avi": Recipe("HEVC in AVI", copied("hevc-open.mp4")),
    "mpeg2-untimed.avi": Recipe("MPEG-2 in AVI", (*PLAIN, *MPEG2)),
    "mpeg4.avi": Recipe("MPEG-4 part 2 with B-frames in AVI", (*PLAIN, *MPEG4)),
    "mpeg4.mp4": Recipe("MPEG-4 part 2 with B-frames in MP4", (*PLAIN, *MPEG4)),
    "mpeg4-packed.avi": Recipe(
        "MPEG-4 part 2, B-frames packed into their predecessors' chunks",
        (*PLAIN, "-c:v", "libxvid", "-q:v", "4", "-bf", "2", "-g", "24"), numbers=tuple(range(COUNT - 1)),
    ),
    "varying.mkv": Recipe(
        "variable rate in Matroska",
        (*PLAIN, "-vf", "select='not(mod(n,5))+not(mod(n,3))'", "-fps_mode", "vfr", *SHORT), numbers=VARIED,
    ),
    "varying.mp4": Recipe("variable rate in MP4", copied("varying.mkv"), numbers=VARIED),
    **{
        f"rate-{label}.{kind}": Recipe(f"{label} frames a second", rate(value), numbers=HALF)
        for label, value, kind in [
            ("24", "24", "mp4"), ("23.976", "24000/1001", "mp4"), ("25", "25", "ts"),
            ("29.97", "30000/1001", "mp4"),
            ("50", "50", "ts"), ("59.94", "60000/1001", "mkv"), ("120", "120", "mp4"), ("240", "240", "mp4"),
            ("240", "240", "mkv"), ("240", "240", "ts"),
        ]
    },
    "turned-90.mp4": Recipe("turned by the container", copied("h264-long.mp4", "-metadata:s:v", "rotate=90")),
    "turned-180.mov": Recipe(
        "turned half round by the container", copied("h264-open.mp4", "-metadata:s:v", "rotate=180")
    ),
    "turned-270.mp4": Recipe("turned the other way", copied("h264-long.mp4", "-metadata:s:v", "rotate=270")),
    "mirrored.mp4": Recipe("mirrored by the container", copied("h264-long.mp4"), after=flipped),
    "turned-in-stream.ts": Recipe("turned by the stream", turned("rotate=90")),
    "mirrored-in-stream.mkv": Recipe("mirrored by the stream", turned("rotate=0", "flip=horizontal")),
    "turned-and-mirrored-in-stream.mp4": Recipe(
        "turned and mirrored by the stream", turned("rotate=270", "flip=vertical")
    ),
    "wide-pixels.mp4": Recipe(
        "pixels wider than high", (*PLAIN, *FEWER, "-vf", "setsar=4/3", *SHORT), numbers=HALF
    ),
    "narrow-pixels.ts": Recipe(
        "pixels higher than wide", (*PLAIN, *FEWER, "-vf", "setsar=8/9", *MPEG2), numbers=HALF
    ),
    "interlaced-h264.ts": Recipe(
        "H.264, interlaced, frame by frame or field by field as each block needs",
        (*FIELDS, *H264, "-g", "30", "-bf", "2"), numbers=HALF,
    ),
    "interlaced-h264.mts": Recipe(
        "the same from a camcorder", copied("interlaced-h264.ts", "-f", "mpegts", "-mpegts_m2ts_mode", "1"),
        numbers=HALF,
    ),
    "interlaced-mpeg2.ts": Recipe("MPEG-2, interlaced", (*FIELDS, *MPEG2), numbers=HALF),
    "interlaced-mpeg2.mpg": Recipe(
        "MPEG-2, interlaced, program stream", copied("interlaced-mpeg2.ts", "-f", "vob"),
        numbers=HALF,
    ),
    "fields-apart.ts": Recipe("H.264 with a coded picture for each field", FIELDS_APART, numbers=HALF),
    "fields-apart.mts": Recipe(
        "the same from a camcorder", (*FIELDS_APART, "-f", "mpegts", "-mpegts_m2ts_mode", "1"), numbers=HALF
    ),
    "fields-apart.mkv": Recipe("the same in Matroska", FIELDS_APART, numbers=HALF),
    "fields-apart.mp4": Recipe("the same in MP4", FIELDS_APART, numbers=HALF),
    "fields-apart.avi": Recipe("the same in AVI", FIELDS_APART, numbers=HALF),
    "hlg.mov": Recipe(
        "10 bit, hybrid log-gamma",
        (*PLAIN, *FEWER, *DEEP, *hdr("arib-std-b67"), *HEVC, "-x265-params", CLOSED_HEVC, "-tag:v", "hvc1"),
        numbers=HALF,
    ),
    "pq.mkv": Recipe(
        "10 bit, perceptual quantizer",
        (*PLAIN, *FEWER, *DEEP, *hdr("smpte2084"),
         "-c:v", "libvpx-vp9", "-deadline", "realtime", "-cpu-used", "8",
         "-g", "30"),
        numbers=HALF,
    ),
    "twice-mjpeg.mkv": Recipe(
        "two pictures of one tick, MJPEG", copied("mjpeg.avi", "-bsf:v", "setts=ts=floor(N/2)*66")
    ),
    "twice-h264.mkv": Recipe(
        "two pictures of one tick, H.264 with B-frames", copied("h264-open.mkv", "-bsf:v", PAIRS.format(67)),
    ),
    "twice-h264.ts": Recipe("the same in MPEG-TS", copied("h264-open.ts", "-bsf:v", PAIRS.format(6000))),
    "twice-h264.mp4": Recipe("the same in MP4", copied("h264-open.mp4", "-bsf:v", PAIRS.format(1024))),
    "twice-hevc.nut": Recipe("the same, HEVC, in NUT", copied("hevc-open.mp4", "-bsf:v", PAIRS.format(4096))),
    "many-at-once.mkv": Recipe(
        "more pictures a second than the container's clock can tell apart",
        ("-r", "2400", *PLAIN, *H264, "-g", "40", "-bf", "2"),
    ),
    "streams.mp4": Recipe(
        "two moving pictures, the second smaller",
        (*PLAIN, "-i", "other.y4m", "-map", "0:v", "-map", "1:v", *SHORT),
    ),
    "streams.mkv": Recipe("the same in Matroska", copied("streams.mp4")),
    "streams.ts": Recipe("the same in MPEG-TS", copied("streams.mp4")),
    "h264-stream.ts": Recipe("H.264, open groups, encoded into MPEG-TS", (*PLAIN, *H264, *OPEN)),
    "h264-camcorder.mts": Recipe(
        "MPEG-TS in packets of 192 bytes", copied("h264-stream.ts", "-f", "mpegts", "-mpegts_m2ts_mode", "1")
    ),
    "front-lost.ts": Recipe(
        "MPEG-TS cut at any byte of a group", copied("h264-stream.ts"), numbers=None, after=from_place(3, 10)
    ),
    "front-lost-long.ts": Recipe(
        "MPEG-TS cut in a long group", LONG, numbers=None, after=from_place(1, 10)
    ),
    "front-lost-hevc.ts": Recipe(
        "HEVC in MPEG-TS cut", copied("hevc-open.mp4"), numbers=None, after=from_place(3, 10), unfounded=20
    ),
    "front-lost-mpeg2.ts": Recipe("MPEG-2 cut", copied("mpeg2.ts"), numbers=None, after=from_place(3, 10)),
    "front-lost.mts": Recipe(
        "a camcorder's file cut", copied("h264-camcorder.mts", "-f", "mpegts", "-mpegts_m2ts_mode", "1"),
        numbers=None, after=from_place(2, 10),
    ),
    "one-frame.mp4": Recipe("one frame", ("-i", "one.y4m", *H264), numbers=(0,)),
    "one-frame.ts": Recipe("one frame in MPEG-TS", ("-i", "one.y4m", *H264), numbers=(0,)),
    "one-frame.mkv": Recipe(
        "one frame, HEVC", ("-i", "one.y4m", *HEVC, "-x265-params", CLOSED_HEVC), numbers=(0,)
    ),
    "dot.mkv": Recipe(
        "pictures of one pixel", ("-i", "dot.y4m", "-pix_fmt", "yuv444p", "-c:v", "ffv1"),
        numbers=None, readable=False,
    ),
    "dot.webm": Recipe(
        "VP9 pictures of one pixel", ("-i", "dot.y4m", "-c:v", "libvpx-vp9"), numbers=None, readable=False
    ),
}  # fmt: skip

UNTESTED: dict[str, str] = {
    "mpeg2-field-pictures.ts": "MPEG-2 with a coded picture for each field: no encoder here writes it",
}
"""Formats that no encoder on this machine writes."""


def make(name: str, folder: Path) -> Path:
    """The recording by its name in `RECIPES`, made in ``folder`` with what it is made from.

    ``subprocess.CalledProcessError`` where this machine's ffmpeg cannot write it.
    """
    path = folder / name
    if path.exists():
        return path
    if name == "fields.h264":
        path.write_bytes(stream(len(HALF)))
        return path
    if name in SOURCES:
        write_y4m(path, *SOURCES[name])
        return path
    recipe = RECIPES[name]
    for source in {*RECIPES, *SOURCES, "fields.h264"} & set(recipe.arguments):
        make(source, folder)
    written = folder / f"unfinished-{name}"
    command = ["ffmpeg", "-v", "error", "-nostdin", "-y", *recipe.arguments, written.name]
    subprocess.run(command, cwd=folder, check=True, capture_output=True)
    if recipe.after:
        written.write_bytes(recipe.after(written.read_bytes()))
    written.rename(path)
    return path
