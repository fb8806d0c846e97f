"""The look and the size of words changed at the desk, kept in the user's settings and worn at once."""

from collections.abc import Callable

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QApplication, QMainWindow

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.looks import dress, is_dark

SIZES = (75, 90, 100, 110, 125, 150, 175, 200, 250, 300)
"""Sizes of words, in percent."""


class Dressing(QObject):
    """Changes how the desk looks."""

    def __init__(self, window: QMainWindow, bench: Bench, look: str, text_size: int) -> None:
        super().__init__(window)
        self._window, self._bench = window, bench
        self._look, self._size = look, text_size

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {
            "larger-words": lambda: self._resize(1),
            "smaller-words": lambda: self._resize(-1),
            "other-look": self._turn,
        }

    def _resize(self, step: int) -> None:
        past = [size for size in SIZES if (size > self._size if step > 0 else size < self._size)]
        if past:
            self._size = past[0] if step > 0 else past[-1]
            said = self._bench.say("Words are at {size} %.", size=self._size)
            self._wear("text-size", f"{self._size} %", said)

    def _turn(self) -> None:
        self._look = "light" if is_dark() else "dark"
        self._wear("look", self._look, self._bench.say("The desk is changed."))

    def _wear(self, key: str, value: str, said: str) -> None:
        application = QApplication.instance()
        if isinstance(application, QApplication):
            dress(application, self._look, self._size)
        self._bench.dressed.emit()
        self._bench.attempt(lambda: keep_wish(key, value), said)


def keep_wish(key: str, value: str) -> None:
    """Keep what the user wants among the settings."""
    actions.change_setting(key, value)
