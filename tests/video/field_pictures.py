"""An H.264 stream in which each field is a coded picture of its own, as camcorders write 1080i.

Written bit by bit after ITU-T H.264, since no encoder at hand codes fields apart.
"""

import numpy as np
from numbered_pictures import numbered
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]


class Bits:
    """Bits written from the highest, with the codes of 9.1."""

    def __init__(self) -> None:
        self._bits: list[str] = []

    def u(self, value: int, width: int) -> None:
        """A whole number of fixed width."""
        self._bits.append(f"{value:0{width}b}")

    def ue(self, value: int) -> None:
        """An Exp-Golomb code."""
        code = f"{value + 1:b}"
        self._bits.append("0" * (len(code) - 1) + code)

    def se(self, value: int) -> None:
        """A signed Exp-Golomb code."""
        self.ue(2 * value - 1 if value > 0 else -2 * value)

    def align(self) -> None:
        """Zeros to the next byte."""
        self._bits = ["".join(self._bits)]
        self._bits.append("0" * (-len(self._bits[0]) % 8))

    def samples(self, data: bytes) -> None:
        """Whole bytes."""
        self._bits.append("".join(f"{byte:08b}" for byte in data))

    def unit(self, kind: int, reference: int) -> bytes:
        """The finished NAL unit with its start code and emulation prevention (7.3.1, B.1)."""
        self.u(1, 1)
        self.align()
        text = "".join(self._bits)
        raw = int(text, 2).to_bytes(len(text) // 8)
        guarded, zeros = bytearray(), 0
        for byte in raw:
            if zeros >= 2 and byte <= 3:
                guarded.append(3)
                zeros = 0
            guarded.append(byte)
            zeros = zeros + 1 if byte == 0 else 0
        return b"\0\0\0\1" + bytes([reference << 5 | kind]) + bytes(guarded)


def parameter_sets(width: int, height: int) -> bytes:
    """Sequence (7.3.2.1) and picture (7.3.2.2) parameter sets: fields allowed, order given by counts."""
    sps = Bits()
    for byte in (77, 0, 40):
        sps.u(byte, 8)
    for value in (0, 4, 0, 4, 2):  # id; frame_num of 8 bits; order type 0 of 8 bits; two reference frames
        sps.ue(value)
    sps.u(0, 1)
    sps.ue(width // 16 - 1)
    sps.ue(height // 32 - 1)
    sps.u(0, 1)  # not only frames
    sps.u(0, 1)  # no mixing of fields and frames within a picture
    sps.u(1, 1)
    sps.u(0, 1)
    sps.u(1, 1)  # timing follows
    sps.u(0, 1 + 1 + 1 + 1)
    sps.u(1, 1)
    sps.u(1, 32)
    sps.u(50, 32)  # fields a second
    sps.u(1, 1)
    sps.u(0, 1 + 1 + 1 + 1)
    pps = Bits()
    pps.ue(0)
    pps.ue(0)
    pps.u(0, 2)
    for value in (0, 0, 0):
        pps.ue(value)
    pps.u(0, 1 + 2)
    for value in (0, 0, 0):
        pps.se(value)
    pps.u(0, 3)
    return sps.unit(7, 3) + pps.unit(8, 3)


def field(planes: tuple[Bytes, Bytes, Bytes], frame: int, bottom: int, group: int) -> bytes:
    """One field as one slice (7.3.3); the first of each group an IDR picture, the others predicted.

    A predicted field copies one row of macroblocks from the frame before; the others are plain samples, so
    that a picture decoded from the wrong neighbour is a wrong picture.
    """
    number = frame % group
    bits = Bits()
    bits.ue(0)
    bits.ue(5 if number else 7)
    bits.ue(0)
    bits.u(number, 8)
    bits.u(1, 1)
    bits.u(bottom, 1)
    if not number and not bottom:
        bits.ue(frame // group % 2)
    bits.u(2 * number + bottom, 8)
    bits.u(0, 2 if number or not bottom else 1)
    if number:
        bits.u(0, 1)
    bits.se(0)
    macroblocks(bits, planes, 1 + frame % 2 if number else None)
    return bits.unit(1 if number or bottom else 5, 3)


def macroblocks(bits: Bits, planes: tuple[Bytes, Bytes, Bytes], copied: int | None) -> None:
    """Every macroblock in plain samples (7.3.5), but for one row that is copied (P_Skip, 7.4.4)."""
    luma, *colours = planes
    across = luma.shape[1] // 16
    for row in range(luma.shape[0] // 16):
        if row == copied:
            continue
        for column in range(across):
            if copied is not None:
                bits.ue(across if row - 1 == copied and column == 0 else 0)
            bits.ue(25 if copied is None else 30)
            bits.align()
            bits.samples(luma[16 * row :, 16 * column :][:16, :16].tobytes())
            for colour in colours:
                bits.samples(colour[8 * row :, 8 * column :][:8, :8].tobytes())
    if copied == luma.shape[0] // 16 - 1:
        bits.ue(across)


def stream(count: int, width: int = 160, height: int = 96, group: int = 12) -> bytes:
    """Numbered frames of two fields each, 25 a second, in groups that stand alone."""
    written = bytearray()
    for n in range(count):
        if n % group == 0:
            written += parameter_sets(width, height)
        y, cb, cr = numbered(n, width, height)
        for bottom in (0, 1):
            written += field((y[bottom::2], cb[bottom::2], cr[bottom::2]), n, bottom, group)
    return bytes(written)
