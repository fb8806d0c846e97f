"""The line at the foot of the window: what came of the last thing that was done."""

from reviewer.desk.saidlabel import SaidLabel
from reviewer.words import Saying


class FootLine(SaidLabel):
    """Answers in one line, marked where it is of a problem."""

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self.setObjectName("foot")
        self.setWordWrap(True)
        self.setAccessibleName(say("Answer"))

    def tell(self, words: str, problem: bool) -> None:
        """Show these words in place of the last ones."""
        self.setText(words)
        self.setProperty("problem", problem)
        if (style := self.style()) is not None:
            style.unpolish(self)
            style.polish(self)
