"""Words that change with every picture, without the parts around them being laid out anew each time."""

from PyQt6.QtCore import QEvent, QSize, Qt
from PyQt6.QtGui import QResizeEvent
from PyQt6.QtWidgets import QSizePolicy, QWidget

from reviewer.desk.saidlabel import SaidLabel


class RunningWords(QWidget):
    """A label in room of its own. It keeps the room that its longest words needed until others are foreseen.

    A label in a row has the whole row measured again for each new text, which takes longer than a picture at
    sixty a second may.

    Attributes:
        label: says the words.
    """

    def __init__(self, name: str, words: str = "") -> None:
        super().__init__()
        self.label = SaidLabel(words)
        self.label.setParent(self)
        self.label.setWordWrap(True)
        self.label.setAccessibleName(name)
        self._longest = words
        policy = QSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Preferred)
        policy.setHeightForWidth(True)
        self.setSizePolicy(policy)

    def foresee(self, words: str) -> None:
        """Keep room for words such as these."""
        self._longest = words
        self.updateGeometry()

    def say(self, words: str) -> None:
        """Show these words; more room is asked for only where they need it."""
        if words == self.label.text():
            return
        self.label.setText(words)
        if self._wide(words) > self._wide(self._longest):
            self.foresee(words)

    def sizeHint(self) -> QSize:
        """All words in one line."""
        return QSize(self._wide(self._longest), self.fontMetrics().height())

    def minimumSizeHint(self) -> QSize:
        """Room for the longest single word."""
        wide = max((self._wide(word) for word in self._longest.split()), default=0)
        return QSize(wide, self.fontMetrics().height())

    def heightForWidth(self, a0: int) -> int:
        """As many lines as the longest words need."""
        flags = self.label.alignment().value | Qt.TextFlag.TextWordWrap.value
        room = self.fontMetrics().boundingRect(0, 0, max(1, a0), 10_000, flags, self._longest)
        return max(room.height(), self.fontMetrics().height())

    def resizeEvent(self, event: QResizeEvent | None) -> None:
        """The label fills its room."""
        super().resizeEvent(event)
        self.label.setGeometry(self.rect())

    def changeEvent(self, a0: QEvent | None) -> None:
        """Larger letters need more room."""
        super().changeEvent(a0)
        if a0 is not None and a0.type() == QEvent.Type.FontChange:
            self.updateGeometry()

    def _wide(self, words: str) -> int:
        return self.fontMetrics().horizontalAdvance(f"{words} ")
