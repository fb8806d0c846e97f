"""Parts placed side by side, and files dropped on them."""

from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QDropEvent
from PyQt6.QtWidgets import QSplitter, QWidget


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
