"""The line at the foot of the window: what came of the last thing that was done."""

from reviewer.desk.saidlabel import SaidLabel
from reviewer.words import Saying

PASSED = 2
"""Frames that must pass: the first may be the one that the words themselves lead to."""


class FootLine(SaidLabel):
    """Answers in one line, marked where it is of a problem."""

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._frames = 0
        self.setObjectName("foot")
        self.setWordWrap(True)
        self.setAccessibleName(say("Answer"))

    def pass_on(self) -> None:
        """Another frame is on the screen: what was said two frames ago is no longer of it."""
        self._frames += 1
        if self._frames == PASSED and self.text():
            self.tell("", False)

    def tell(self, words: str, problem: bool) -> None:
        """Show these words in place of the last ones."""
        self._frames = 0
        self.setText(words)
        self.setProperty("problem", problem)
        if (style := self.style()) is not None:
            style.unpolish(self)
            style.polish(self)
