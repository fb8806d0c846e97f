"""The entry line: a call is typed here, with the words of the edition offered beneath."""

from PyQt6.QtCore import QEvent, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent, QKeySequence
from PyQt6.QtWidgets import QLineEdit, QListWidget, QListWidgetItem

from reviewer.desk.bench import ENGLISH_WORDS, Bench
from reviewer.desk.calls import Word
from reviewer.desk.keys import meant, pressed
from reviewer.terms.messages import noted
from reviewer.words import Saying

KIND = {
    "element": noted("element"),
    "fault": noted("fault"),
    "fact": noted("fact"),
    "role": noted("role"),
    "condition": noted("condition"),
    "command": noted("command"),
    "verdict": noted("by eye"),
    "settled": noted("dispute"),
    "seen": noted("how seen"),
    "short": noted("short code"),
    "amount": noted("amount"),
}


class OfferedWords(QListWidget):
    """The words that fit what is being typed; the first is what Enter takes.

    Signals:
        offers(bool): whether there is a word to choose.
        taken(): a word was clicked.
    """

    offers = pyqtSignal(bool)
    taken = pyqtSignal()

    def __init__(self, say: Saying = ENGLISH_WORDS) -> None:
        super().__init__()
        self._say = say
        self.words: tuple[Word, ...] = ()
        self.setAccessibleName(say("Words offered"))
        self.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self.itemClicked.connect(lambda _: self.taken.emit())

    def offer(self, words: tuple[Word, ...]) -> None:
        """Show these words."""
        self.words = words
        self.clear()
        for word in words:
            kind = self._say.word(KIND.get(word.kind, word.kind))
            means = f"{kind}: {word.means}" if word.means else kind
            self.addItem(QListWidgetItem(f"{word.text}   ·   {means}"))
        if words and words[0].kind != "amount":  # an amount is never taken by habit of the hand
            self.setCurrentRow(0)
        self.offers.emit(bool(words))

    def step(self, by: int) -> None:
        """Move to the next or previous word."""
        if self.words:
            self.setCurrentRow(max(0, min(len(self.words) - 1, self.currentRow() + by)))

    def current(self) -> Word | None:
        """The word Enter would take."""
        return self.words[self.currentRow()] if self.words and self.currentRow() >= 0 else None


class EntryLine(QLineEdit):
    """One line over the edition's lists.

    Signals:
        spoken(str): a whole call.
        stepped(int): arrow keys while nothing is typed step the picture.
        begun(bool): something is being typed, or nothing any more.
        bounded(str): ``start`` or ``end`` of the chosen element is at the frame on screen.
        left(): back to the picture.
    """

    spoken = pyqtSignal(str)
    stepped = pyqtSignal(int)
    begun = pyqtSignal(bool)
    bounded = pyqtSignal(str)
    left = pyqtSignal()

    def __init__(self, bench: Bench, offered: OfferedWords) -> None:
        super().__init__()
        self._bench = bench
        self._offered = offered
        invitation = noted("Type a call: cast met   ·   arms-bent 0.1   ·   posted 8.900   ({key} shows all)")
        self.setPlaceholderText(bench.say(invitation, key=bench.key("help")))
        self.setAccessibleName(bench.say("Call"))
        self._typing = False
        self.textEdited.connect(self._edited)
        offered.taken.connect(self._take)

    def event(self, event: QEvent | None) -> bool:
        """Leave to the window what it hears anywhere; a line that is being typed undoes itself."""
        if (
            isinstance(event, QKeyEvent)
            and event.type() == QEvent.Type.ShortcutOverride
            and self._is_of_window(event)
        ):
            event.ignore()
            return False
        return super().event(event)

    def _is_of_window(self, event: QKeyEvent) -> bool:
        undone = QKeySequence.StandardKey.Undo, QKeySequence.StandardKey.Redo
        if self.text() and any(event.matches(key) for key in undone):
            return False
        names = pressed(event)
        return any(
            sequence in names and use.heard(sequence) == "anywhere"
            for use in self._bench.keyboard.uses
            for sequence in use.keys
        )

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Choose among words, complete, say, step, leave."""
        if event is None or not self._answer(meant(self._bench.keyboard, event, "call")):
            super().keyPressEvent(event)

    def focusNextPrevChild(self, next: bool) -> bool:
        """Tab is no key like others: it completes a word where the table says so, and else moves on."""
        completes = "Tab" in self._bench.keyboard.use("complete").keys
        if next and completes and self._offered.current() is not None:
            self._complete(" ")
            return True
        return super().focusNextPrevChild(next)

    def clear_all(self) -> None:
        """Nothing typed, nothing offered."""
        self.clear()
        self._edited("")

    def _edited(self, text: str) -> None:
        if self._typing != bool(text.strip()):
            self._typing = bool(text.strip())
            self.begun.emit(self._typing)
        self._offered.offer(self._bench.offered(text))

    def _answer(self, does: str) -> bool:
        match does:
            case "say":
                self._complete("")
                self.spoken.emit(self.text())
            case "back-to-picture":
                self.clear_all()
                self.left.emit()
            case "word-before" | "word-after":
                self._offered.step(-1 if does == "word-before" else 1)
            case "starts-here" | "ends-here":
                self.bounded.emit("start" if does == "starts-here" else "end")
            case "step-back" | "step-on" if not self.text():
                self.stepped.emit(-1 if does == "step-back" else 1)
            case "complete" if self._offered.current() is not None:
                self._complete(" ")
            case _:
                return False
        return True

    def _take(self) -> None:
        """A word was clicked: it is said at once, but for a fault whose amount is still to be chosen."""
        self._complete(" ")
        self._edited(self.text())
        if not self._offered.words:
            self.spoken.emit(self.text())

    def _complete(self, after: str) -> None:
        word = self._offered.current()
        if word is None:
            return
        head, space, _ = self.text().rpartition(" ")
        self.setText(f"{head}{space}{word.text}{after}")
        self._offered.offer(())
