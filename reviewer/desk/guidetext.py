"""The guide as it is read: its pictures as wide as there is room, and its link to the list of keys."""

import re
from pathlib import Path

from PyQt6.QtCore import Qt, QUrl
from PyQt6.QtGui import QImage, QResizeEvent, QTextDocument
from PyQt6.QtWidgets import QTextBrowser

PART = 2
"""Level of the headings of the guide's parts."""
_PICTURE = re.compile(r"!\[[^\]]*\]\(([^)]+)\)")


class GuideText(QTextBrowser):
    """Shows Markdown with pictures that lie in a folder, and fits them to the page."""

    def __init__(self, folder: Path) -> None:
        super().__init__()
        self._folder = folder
        self._pictures: dict[str, QImage] = {}
        self.setOpenLinks(False)  # Qt knows no headings as goals of links
        self.anchorClicked.connect(lambda _: self._lead_to_last_part())

    def show_guide(self, text: str) -> None:
        """Show this text."""
        names = _PICTURE.findall(text)
        self._pictures = {name: QImage(str(self._folder / name)) for name in names}
        self._fit()
        self.setMarkdown(text)
        self._fit()

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """Pictures follow the page's width."""
        super().resizeEvent(event)
        self._fit()

    def _fit(self) -> None:
        document, port = self.document(), self.viewport()
        if document is None or port is None:
            return
        ratio, room = self.devicePixelRatioF(), port.width() - 2 * document.documentMargin()
        for name, picture in self._pictures.items():
            wide = round(min(room, picture.width()) * ratio)
            fitted = picture.scaledToWidth(max(1, wide), Qt.TransformationMode.SmoothTransformation)
            fitted.setDevicePixelRatio(ratio)
            document.addResource(QTextDocument.ResourceType.ImageResource.value, QUrl(name), fitted)
        document.markContentsDirty(0, document.characterCount())

    def _lead_to_last_part(self) -> None:
        """The list of keys: what the guide's one link leads to."""
        document, bar = self.document(), self.verticalScrollBar()
        if document is None or bar is None:
            return
        block = document.lastBlock()
        while block.isValid() and block.blockFormat().headingLevel() != PART:
            block = block.previous()
        layout = document.documentLayout()
        if block.isValid() and layout is not None:
            bar.setValue(int(layout.blockBoundingRect(block).top()))
