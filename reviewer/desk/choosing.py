"""Asking for a file: by the computer's own dialog, else by Qt's in the desk's look."""

from __future__ import annotations

from pathlib import Path

from PyQt6.QtCore import QFileInfo, QPointF, QRectF, Qt
from PyQt6.QtGui import QAbstractFileIconProvider, QIcon, QPainter, QPen, QPixmap, QPolygonF
from PyQt6.QtWidgets import QFileDialog, QToolButton, QWidget

from reviewer.desk.looks import INK, colour

_SIGNS = {"backButton": "◂", "forwardButton": "▸", "toParentButton": "▴"}
"""What stands on the buttons of Qt's dialog, by the names it gives them."""
_AWAY = ("newFolderButton", "listModeButton", "detailModeButton")
"""What nobody needs to find a file."""
_SIDE = 32
"""Of a sign, in pixels; it is shown smaller."""


def file_to_read(parent: QWidget, title: str, kinds: str, folder: str = "") -> Path | None:
    """A file that is there; None where the user thinks better of it."""
    return _asked(QFileDialog(parent, title, folder, kinds), QFileDialog.FileMode.ExistingFile)


def folder_to_read(parent: QWidget, title: str, folder: str = "") -> Path | None:
    """A folder that is there; None where the user thinks better of it."""
    return _asked(QFileDialog(parent, title, folder), QFileDialog.FileMode.Directory)


def file_to_write(parent: QWidget, title: str, kinds: str, name: str) -> Path | None:
    """A file to be written, called so where nothing else is typed."""
    dialog = QFileDialog(parent, title, "", kinds)
    dialog.setAcceptMode(QFileDialog.AcceptMode.AcceptSave)
    dialog.selectFile(name)
    return _asked(dialog, QFileDialog.FileMode.AnyFile)


def _asked(dialog: QFileDialog, mode: QFileDialog.FileMode) -> Path | None:
    signs = Signs()
    dialog.setFileMode(mode)
    dialog.setOption(QFileDialog.Option.HideNameFilterDetails)
    dialog.setIconProvider(signs)
    for button in dialog.findChildren(QToolButton):
        if button.objectName() in _SIGNS:
            button.setIcon(QIcon())
            button.setText(_SIGNS[button.objectName()])
        button.setVisible(button.objectName() not in _AWAY)
    chosen = dialog.selectedFiles() if dialog.exec() else []
    dialog.deleteLater()
    return Path(chosen[0]) if chosen else None


class Signs(QAbstractFileIconProvider):
    """A folder with its flap and a sheet with its corner turned, in the ink of the look."""

    def icon(self, kind: QFileInfo | QAbstractFileIconProvider.IconType) -> QIcon:
        """Of a file, or of a kind of place."""
        sheet = kind.isFile() if isinstance(kind, QFileInfo) else kind == self.IconType.File
        pixmap = QPixmap(_SIDE, _SIDE)
        pixmap.fill(Qt.GlobalColor.transparent)
        painter = QPainter(pixmap)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setPen(QPen(colour(INK), 2))
        if sheet:
            corners = ((8, 4), (19, 4), (25, 10), (25, 28), (8, 28))
            painter.drawPolygon(QPolygonF([QPointF(*corner) for corner in corners]))
        else:
            painter.drawRect(QRectF(4, 10, 24, 17))
            painter.drawLine(QPointF(4, 6), QPointF(14, 6))
        painter.end()
        return QIcon(pixmap)
