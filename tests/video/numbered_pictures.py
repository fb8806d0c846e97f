"""Moving pictures that carry their own number, so that what is seen can be checked without any hash.

A strip of twelve blocks lies along the top: white, black, then the number's ten bits from the highest.
Below it a pattern moves, so that a picture predicted from the wrong neighbour is a wrong picture.
"""

from pathlib import Path

import numpy as np
from numpy.typing import NDArray

Bytes = NDArray[np.uint8]
BLOCKS = 12
WHITE, BLACK = 235, 16  # nominal levels, ITU-R BT.601-7 and BT.709-6


def numbered(n: int, width: int, height: int) -> tuple[Bytes, Bytes, Bytes]:
    """Picture ``n`` as rows of Y, Cb, Cr, 4:2:0."""
    x, y = np.arange(width), np.arange(height)[:, None]
    wave = 60 * np.sin((x + 5 * n) / 9) + 40 * np.sin((y - 3 * n + x) / 7)
    luma = np.clip(126 + wave + (n * 37 + x * y) % 11, BLACK, WHITE).astype(np.uint8)
    left, top = n * 3 % max(1, width - 20), height // 2 + n % 17 - 8
    luma[max(0, top) : top + 16, left : left + 20] = 40 + n % 8 * 25
    for block, level in enumerate([1, 0, *(n >> bit & 1 for bit in range(9, -1, -1))]):
        span = slice(width * block // BLOCKS, width * (block + 1) // BLOCKS)
        luma[: strip(height), span] = WHITE if level else BLACK
    half = (height + 1) // 2, (width + 1) // 2
    cb = np.full(half, 100 + n % 50, np.uint8)
    cb[: strip(height) // 2 + 1] = 128
    return luma, cb, np.full(half, 128, np.uint8)


def strip(height: int) -> int:
    """Rows of the strip of blocks."""
    return max(1, height // 5)


def number_in(shown: NDArray[np.uint8]) -> int:
    """The number carried by a picture: rows × columns × (blue, green, red, …), upright as it was drawn."""
    grey = shown[..., :3].astype(np.float64).mean(axis=2)
    height, width = grey.shape
    rows = slice(strip(height) // 4, max(1, strip(height) * 3 // 4))
    levels = [
        grey[rows, width * (3 * block + 1) // (3 * BLOCKS) : width * (3 * block + 2) // (3 * BLOCKS)].mean()
        for block in range(BLOCKS)
    ]
    middle = (levels[0] + levels[1]) / 2
    assert levels[0] - levels[1] > 60, "no white and black block: the picture is not one of ours"
    return int("".join(str(int(level > middle)) for level in levels[2:]), 2)


def write_y4m(path: Path, count: int, size: tuple[int, int], scan: str = "p") -> None:
    """YUV4MPEG2 as FFmpeg reads it; ``scan`` t: odd and even rows are one field apart in time."""
    width, height = size
    with path.open("wb") as file:
        file.write(f"YUV4MPEG2 W{width} H{height} F30:1 I{scan} A1:1 C420mpeg2\n".encode())
        for n in range(count):
            planes = numbered(n, width, height)
            if scan == "t":
                planes[0][1::2] = np.roll(planes[0][1::2], 4, axis=1)
                planes[0][: strip(height)] = numbered(n, width, height)[0][: strip(height)]
            file.write(b"FRAME\n" + b"".join(plane.tobytes() for plane in planes))
