"""Changes to the boxes of an ISO base media file (ISO/IEC 14496-12) that the ffmpeg command cannot make."""

import struct

MIRROR = struct.pack(">9i", -0x10000, 0, 0, 0, 0x10000, 0, 160 << 16, 0, 0x40000000)


def flipped(data: bytes) -> bytes:
    """The track's matrix mirrors left to right (8.3.2: 44 bytes before a version 0 header ends)."""
    place = data.index(b"tkhd") + 4 + 40
    return data[:place] + MIRROR + data[place + len(MIRROR) :]


def second_edit(data: bytes, stretches: tuple[tuple[int, int], ...]) -> bytes:
    """The track plays only these stretches: (first, length) in milliseconds (8.6.6, edit list box).

    For files that end with their index: no offset of a picture moves. The movie's clock counts milliseconds.
    """
    media_clock = int.from_bytes(data[data.index(b"mdhd") + 16 :][:4])
    delay = struct.unpack(">i", data[data.index(b"elst") + 16 :][:4])[0]
    entries = b"".join(
        struct.pack(">IiI", length, delay + first * media_clock // 1000, 0x10000)
        for first, length in stretches
    )
    box = struct.pack(">I4sII", 16 + len(entries), b"elst", 0, len(stretches)) + entries
    start = data.index(b"elst") - 4
    grown = len(box) - int.from_bytes(data[start : start + 4])
    changed = bytearray(data[:start] + box + data[start + int.from_bytes(data[start : start + 4]) :])
    for name in (b"moov", b"trak", b"edts"):
        place = data.index(name) - 4
        struct.pack_into(">I", changed, place, int.from_bytes(data[place : place + 4]) + grown)
    return bytes(changed)
