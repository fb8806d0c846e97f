"""Words over a picture: where they stand when a body, other words or the edge are in the way."""

import pytest
from PyQt6.QtCore import QPointF, QRectF
from PyQt6.QtGui import QFont, QFontMetricsF
from PyQt6.QtWidgets import QApplication

from reviewer.desk.captions import Caption, captions
from reviewer.desk.framing import Framing, spot_at
from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Label, Ring, Segment, Shape

ROOM = QRectF(0, 0, 600, 430)
WHOLE = Framing(1, 0, 0)
HANGING = ((300.0, 100.0), (300.0, 180.0), (300.0, 260.0))
"""Hand, hip and ankle of a body that hangs."""


@pytest.fixture
def letters(application: QApplication) -> QFontMetricsF:
    return QFontMetricsF(QFont("DejaVu Sans", 12))


def body(*joints: tuple[float, float]) -> tuple[Shape, ...]:
    spots = [spot_at(*joint) for joint in joints]
    return (*(Ring(spot, Pixels(7000), "joint") for spot in spots), Segment(spots[0], spots[-1], "body-line"))


def words_at(x: float, y: float, words: str = "−51.5° ± 1.8°") -> Label:
    return Label(spot_at(x, y), words, "number")


def room_of(caption: Caption, letters: QFontMetricsF) -> QRectF:
    top = caption.start.y() - letters.ascent()
    return QRectF(caption.start.x(), top, letters.horizontalAdvance(caption.words), letters.height())


def test_words_beside_the_body_stand_at_their_point_without_a_line_to_it(letters: QFontMetricsF) -> None:
    (found,) = captions((*body(*HANGING), words_at(450, 200)), WHOLE, letters, ROOM)
    assert found.leader is None
    assert (found.start - QPointF(450.5, 200.5)).manhattanLength() < 0.01


@pytest.mark.parametrize("at", [(300, 180), (250, 120), (310, 255)])
def test_words_that_would_cover_the_body_move_off_it(letters: QFontMetricsF, at: tuple[float, float]) -> None:
    (found,) = captions((*body(*HANGING), words_at(*at)), WHOLE, letters, ROOM)
    covered = room_of(found, letters)
    assert not any(covered.adjusted(-30, -30, 30, 30).contains(QPointF(*joint)) for joint in HANGING)
    assert not covered.intersects(QRectF(290, 100, 20, 160))
    assert ROOM.contains(covered)


def test_words_that_moved_away_have_a_line_from_their_point(letters: QFontMetricsF) -> None:
    (found,) = captions((*body(*HANGING), words_at(290, 180)), WHOLE, letters, ROOM)
    assert found.leader is not None
    start, end = found.leader
    assert (start - QPointF(290.5, 180.5)).manhattanLength() < 0.01
    assert room_of(found, letters).adjusted(-1, -1, 1, 1).contains(end)


def test_words_do_not_lie_on_other_words_nor_on_what_covers_them_later(letters: QFontMetricsF) -> None:
    close_up = QRectF(10, 240, 180, 180)
    shapes = (words_at(20, 300, "limit −45.0°"), words_at(20, 305, "tolerated −55.0°"), words_at(22, 300))
    found = [room_of(one, letters) for one in captions(shapes, WHOLE, letters, ROOM, (close_up,))]
    for at, one in enumerate(found):
        assert not any(one.intersects(other) for other in (*found[:at], close_up))


def test_words_at_the_edge_are_not_cut(letters: QFontMetricsF) -> None:
    (found,) = captions((words_at(590, 3),), WHOLE, letters, ROOM)
    assert ROOM.contains(room_of(found, letters))


def test_where_there_is_no_free_place_words_stay_as_near_as_they_can(letters: QFontMetricsF) -> None:
    small = QRectF(0, 0, 120, 40)
    (found,) = captions((*body((10, 5), (110, 35)), words_at(60, 20, "−43°")), WHOLE, letters, small)
    assert small.contains(room_of(found, letters))
