"""A label whose words change: what it is stays its name, and its words are heard beside that."""

from PyQt6.QtWidgets import QLabel


class SaidLabel(QLabel):
    """Qt lets a label's accessible name stand in for its words, so the words are its description too."""

    def __init__(self, words: str = "") -> None:
        super().__init__()
        self.setText(words)

    def setText(self, a0: str | None) -> None:
        """Show these words, and let them be heard."""
        super().setText(a0)
        self.setAccessibleDescription(a0)
