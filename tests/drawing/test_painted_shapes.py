"""Shapes as the desk paints them, pixel by pixel."""

from PyQt6.QtGui import QColor, QImage, QPainter

from reviewer.desk.framing import Framing
from reviewer.desk.painting import paint
from reviewer.drawing import PALETTE
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Path, Spot


def painted(path: Path) -> QImage:
    """A grey picture of 100 by 100 pixels, shown as large as it is, with a path over it."""
    image = QImage(100, 100, QImage.Format.Format_RGB32)
    image.fill(QColor("gray"))
    painter = QPainter(image)
    paint(painter, Framing.whole((100, 100), (100, 100)), (path,))
    painter.end()
    return image


def square(style: str) -> Path:
    corners = ((20, 20), (80, 20), (80, 80), (20, 80), (20, 20))
    return Path(tuple(Spot(Pixels(x * 1000), Pixels(y * 1000)) for x, y in corners), style)


def test_a_path_is_drawn_through_its_spots_in_its_pen() -> None:
    image = painted(square("body-line"))
    assert image.pixelColor(50, 20) == image.pixelColor(20, 50) == QColor(PALETTE["body-line"].colour)
    assert image.pixelColor(50, 50) == QColor("gray")


def test_a_fill_is_a_tint_through_which_the_picture_shows() -> None:
    grey, pen, strength = QColor("gray"), QColor(PALETTE["doubt"].colour), float(PALETTE["doubt"].fill)
    inside = painted(square("doubt")).pixelColor(50, 50)
    assert abs(inside.red() - (grey.red() + strength * (pen.red() - grey.red()))) <= 1
    assert abs(inside.blue() - (grey.blue() + strength * (pen.blue() - grey.blue()))) <= 1
