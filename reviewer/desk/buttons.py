"""Buttons as the desk makes them: Enter does nothing that the keyboard is not on."""

from collections.abc import Callable

from PyQt6.QtWidgets import QPushButton


def button(words: str, does: Callable[[], object] | None = None, tip: str = "") -> QPushButton:
    """A button that does one thing; without it, what it does is given to it elsewhere."""
    made = QPushButton(words)
    made.setToolTip(tip)
    made.setAutoDefault(False)
    if does is not None:
        made.clicked.connect(lambda: does())
    return made
