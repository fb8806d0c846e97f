"""Parts placed side by side, and files dropped on them."""

from pathlib import Path

from PyQt6.QtCore import QSize, Qt
from PyQt6.QtGui import QDropEvent, QFontDatabase
from PyQt6.QtWidgets import QAbstractButton, QApplication, QScrollArea, QSplitter, QWidget


def dropped(event: QDropEvent) -> Path | None:
    """The one file that is being dropped."""
    data = event.mimeData()
    files = [url.toLocalFile() for url in data.urls() if url.isLocalFile()] if data is not None else []
    return Path(files[0]) if len(files) == 1 else None


def split(way: Qt.Orientation, parts: tuple[tuple[QWidget, int], ...]) -> QSplitter:
    """Parts beside each other, none of which can be pushed out of sight; the number shares out new room."""
    splitter = QSplitter(way)
    for at, (part, share) in enumerate(parts):
        splitter.addWidget(part)
        splitter.setStretchFactor(at, share)
        splitter.setCollapsible(at, False)
    return splitter


def fitting(page: QWidget, wide: int, high: int) -> QSize:
    """A size in pixels at words of 100 %, grown with the words as far as the screen has room."""
    usual = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont).pointSizeF()
    grown = max(1.0, page.font().pointSizeF() / usual) if usual > 0 else 1.0
    screen = page.screen()
    wished = QSize(round(wide * grown), round(high * grown))
    return wished if screen is None else wished.boundedTo(screen.availableGeometry().size() * 0.97)


def put_anew(room: QScrollArea, page: QWidget) -> None:
    """Put a page in the place of the one that is there; the same control keeps the keyboard.

    What is replaced may be at work with the very key that led here, so it goes only once that has ended.
    """
    heard, before = QApplication.focusWidget(), room.widget()
    within = heard is not None and before is not None and before.isAncestorOf(heard)
    held = _known_as(heard) if within and heard is not None else None
    room.takeWidget()
    if before is not None:
        before.hide()
        before.deleteLater()
    room.setWidget(page)
    if held is not None:
        again = (one for one in page.findChildren(QWidget) if one.isEnabled() and _known_as(one) == held)
        (next(again, None) or room).setFocus()


def _known_as(widget: QWidget) -> tuple[type[QWidget], str]:
    """What tells a control from the others on its page: its kind and its name or words."""
    words = widget.text() if isinstance(widget, QAbstractButton) else ""
    return type(widget), widget.accessibleName() or words
