"""Small pictures along the strip, fetched and made fit off the window's thread."""

from collections.abc import Callable, Iterable
from typing import cast

from PyQt6.QtCore import QObject, QSize, Qt, pyqtSignal
from PyQt6.QtGui import QImage

from reviewer.desk.errand import Errand, GoingOn
from reviewer.terms.pictures import Picture

MOST = 600
"""Pictures held at once."""


class SmallPictures(QObject):
    """Holds those wanted lately; what is not there yet is asked for again when told to.

    Attributes:
        images: by frame; those of a size wanted before stay until there are better ones.

    Signals:
        came(): there are more.
    """

    came = pyqtSignal()

    def __init__(self, source: Callable[[int], Picture | None]) -> None:
        super().__init__()
        self.images: dict[int, QImage] = {}
        self._source = source
        self._wanted: tuple[int, ...] = ()
        self._missing: frozenset[int] = frozenset()
        self._fitting: frozenset[int] = frozenset()
        self._size = QSize()
        self._errand: Errand | None = None

    def clear(self) -> None:
        """Forget all: another recording is on the screen."""
        self.leave()
        self.images, self._wanted, self._missing, self._fitting = {}, (), frozenset(), frozenset()

    def leave(self) -> None:
        """Fetch no more."""
        if self._errand is not None:
            self._errand.stop()
        self._errand = None

    def want(self, frames: Iterable[int], size: QSize) -> None:
        """These are in view, in pixels of the screen at most this large."""
        if size != self._size:
            self.leave()
            self._size, self._missing, self._fitting = size, frozenset(), frozenset()
        self._wanted = tuple(frames)
        self._fetch()

    def look_again(self) -> None:
        """More small pictures have been made."""
        self._missing = frozenset()
        self._fetch()

    def _fetch(self) -> None:
        wanted = [one for one in self._wanted if one not in self._fitting | self._missing]
        if not wanted or self._errand is not None or self._size.isEmpty():
            return
        source, size = self._source, self._size

        def fetched(going_on: GoingOn) -> dict[int, QImage | None]:
            return {frame: fit(source(frame), size) for frame in wanted if going_on()}

        self._errand = Errand(fetched)
        self._errand.done.connect(self._came)
        self._errand.start(Errand.Priority.LowPriority)

    def _came(self, found: dict[int, QImage | None]) -> None:
        if self.sender() is not self._errand or self._errand is None:
            return  # of another recording or size
        self._errand.wait()
        self._errand = None
        self._missing |= {frame for frame, image in found.items() if image is None}
        if len(self.images) > MOST:
            self.images = {one: self.images[one] for one in self._wanted if one in self.images}
            self._fitting &= frozenset(self.images)
        more = {frame: image for frame, image in found.items() if image is not None}
        self.images |= more
        self._fitting |= frozenset(more)
        if more:
            self.came.emit()
        self._fetch()


def fit(picture: Picture | None, size: QSize) -> QImage | None:
    """A picture made as large as fits into this size; of none, none."""
    if picture is None:
        return None
    width, height = picture.size
    image = QImage(cast(bytes, picture.bgra), width, height, 4 * width, QImage.Format.Format_RGB32)
    ratio, smooth = Qt.AspectRatioMode.KeepAspectRatio, Qt.TransformationMode.SmoothTransformation
    return image.scaled(size, ratio, smooth).copy()
