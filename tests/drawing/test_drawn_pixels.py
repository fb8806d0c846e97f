"""Shapes and words as pixels: in the pens of the palette, at their place, the same each time.

Source of the half pixel: W3C SVG 1.1 (a corner is 0, 0), and terms.shapes (a centre is).
"""

from io import BytesIO

import numpy as np
import pytest
from PIL import Image

from reviewer import drawing
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Label, Ring, Segment, Shape, Spot

SIZE = (1280, 720)


def at(x: int, y: int) -> Spot:
    return Spot(Pixels(1000 * x), Pixels(1000 * y))


def pixels(png: bytes) -> np.ndarray:
    """Rows × columns × (red, green, blue, opacity)."""
    return np.asarray(Image.open(BytesIO(png)).convert("RGBA")).astype(int)


def whole(shapes: tuple[Shape, ...], shown: tuple[int, int] = SIZE) -> np.ndarray:
    """What is drawn, laid where it belongs on a picture that shows nothing."""
    png, (left, top) = drawing.overlay(shapes, SIZE, shown)
    part = pixels(png)
    assert left % 2 == top % 2 == 0
    empty = np.zeros((shown[1], shown[0], 4), int)
    empty[top : top + part.shape[0], left : left + part.shape[1]] = part
    return empty


@pytest.mark.parametrize("x", [0, 3, 640, 1270, 1279])
@pytest.mark.parametrize("y", [0, 9, 360, 719])
def test_the_part_that_is_drawn_holds_all_of_it(x: int, y: int) -> None:
    """No ink stands at the edge of a part, but where that is the edge of the picture."""
    words: tuple[Shape, ...] = (Label(at(x, y), "−143.2° ± 11.2° (95 %)", "number"),)
    ring: tuple[Shape, ...] = (
        Ring(at(x, y), Pixels(9000), "left-out"),
        Segment(at(x, y), at(640, 360), "limit"),
    )
    for shapes in (words, ring):
        png, (left, top) = drawing.overlay(shapes, SIZE, SIZE)
        ink = pixels(png)[..., 3]
        edges = (left, ink[:, 0]), (top, ink[0]), (1280 - left - ink.shape[1], ink[:, -1])
        for away, edge in (*edges, (720 - top - ink.shape[0], ink[-1])):
            assert edge.max() == 0 or away == 0
        assert ink.max() == 255


def test_a_line_has_its_pen_and_lies_around_its_pixels() -> None:
    upright: tuple[Shape, ...] = (Segment(at(400, 100), at(400, 600), "limit"),)
    shown = whole(upright)
    assert shown.shape == (720, 1280, 4)
    row = shown[300]
    assert row[400].tolist() == [0, 0, 0, 255]  # the palette's limit is black
    np.testing.assert_allclose(row[390:400][::-1], row[401:411], atol=2)  # as much to each side
    assert row[:390, 3].max() == row[411:, 3].max() == 0


def test_what_is_drawn_grows_and_shrinks_with_its_picture() -> None:
    line: tuple[Shape, ...] = (Segment(at(400, 100), at(400, 600), "body-line"),)
    half = whole(line, (640, 360))
    assert half.shape == (360, 640, 4)
    assert half[150, 200, 3] > 200
    assert half[150, :190, 3].max() == 0


def test_words_need_no_letters_of_the_machine() -> None:
    said: tuple[Shape, ...] = (Label(at(200, 300), "−43.2° ± 1.2° (95 %)", "number"),)
    shown = whole(said)
    rows, columns = np.nonzero(shown[..., 3])
    assert 260 < rows.min() < rows.max() < 320
    assert 190 < columns.min() < 210 < 450 < columns.max() < 700


def test_the_same_is_drawn_as_the_same_bytes() -> None:
    shapes: tuple[Shape, ...] = (Segment(at(1, 2), at(300, 400), "level"), Label(at(9, 99), "45", "number"))
    assert drawing.overlay(shapes, SIZE, SIZE) == drawing.overlay(shapes, SIZE, SIZE)
    assert drawing.caption(["a", "b"], (640, 64), "en") == drawing.caption(["a", "b"], (640, 64), "en")


@pytest.mark.parametrize(
    "words",
    [
        '#panic("x")', "*bold* _it_ `raw` $x$ <b>&amp;</b>", "= heading", "#let a = 1", "\\", '"',
        "x" * 400, "\u202eturned\u202c \x00\x1b[31m", "😀 中文 ", "",
    ],
)  # fmt: skip
def test_words_are_words_whatever_they_look_like(words: str) -> None:
    shown = pixels(drawing.caption([words, "45.0°"], (640, 64), "en"))
    assert shown.shape == (64, 640, 4)
    assert shown[..., 3].min() == 255
    ink = np.nonzero(np.abs(shown[..., :3] - shown[0, 0, :3]).sum(axis=2) > 60)
    assert ink[0].size  # the second line at least
    assert 0 < ink[0].min() < ink[0].max() < 63
    assert 0 < ink[1].min() < ink[1].max() < 639


def test_markup_is_not_taken_for_markup() -> None:
    plain, marked = (pixels(drawing.caption([words], (640, 64), "en")) for words in ("bold", "*bold*"))
    assert np.abs(plain - marked).max() > 100


def test_long_words_are_set_smaller_until_they_fit() -> None:
    lines = ["Casts around the limit " * 9] * 4
    shown = pixels(drawing.caption(lines, (720, 128), "en"))
    ink = np.nonzero(np.abs(shown[..., :3] - shown[0, 0, :3]).sum(axis=2) > 60)
    assert 0 < ink[0].min() < ink[0].max() < 127


def test_a_card_has_its_title_in_larger_letters() -> None:
    shown = pixels(drawing.card("Casts", ["Casts"], (640, 360), "en"))
    rows = np.nonzero((np.abs(shown[..., :3] - shown[0, 0, :3]).sum(axis=2) > 60).any(axis=1))[0]
    breaks = np.nonzero(np.diff(rows) > 1)[0]
    first, second = rows[breaks[0]] - rows[0], rows[-1] - rows[breaks[0] + 1]
    assert first > 1.4 * second
