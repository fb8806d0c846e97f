"""The desk's own light look: paper, ink, and the eight colours that colour-blind eyes tell apart.

The colours are those of Okabe and Ito (2008); none is ever the only sign: shape or words go with it.
"""

from PyQt6.QtGui import QColor, QFont

BLACK, ORANGE, SKY, GREEN = "#000000", "#E69F00", "#56B4E9", "#009E73"
YELLOW, BLUE, VERMILLION, PURPLE = "#F0E442", "#0072B2", "#D55E00", "#CC79A7"

PAPER, SHEET, RULE, INK, QUIET = "#F3F1EA", "#FFFEFA", "#D5D1C4", "#1E2226", "#565C62"
AROUND = "#C9C7BF"
CHOSEN = "#D6E8F5"
ELEMENT, FAULT, READING, HERE = BLUE, VERMILLION, GREEN, BLACK

STYLE = f"""
QWidget {{ background: {PAPER}; color: {INK}; }}
QMenuBar, QMenu {{ background: {PAPER}; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {CHOSEN}; color: {INK}; }}
QMenu::separator {{ height: 1px; background: {RULE}; margin: 4px 10px; }}
QLineEdit, QComboBox, QTableWidget, QListWidget, QTextBrowser {{
    background: {SHEET}; border: 1px solid {RULE}; border-radius: 3px; padding: 3px;
    selection-background-color: {CHOSEN}; selection-color: {INK}; }}
QLineEdit:focus, QTableWidget:focus, QListWidget:focus {{ border: 2px solid {BLUE}; padding: 2px; }}
QComboBox:focus, QPushButton:focus, QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {BLUE}; }}
QPushButton {{ background: {SHEET}; border: 1px solid #A9A597; border-radius: 3px; padding: 3px 9px; }}
QPushButton:hover, QPushButton:checked {{ background: {CHOSEN}; }}
QPushButton:disabled, QCheckBox:disabled {{ color: #8A8D90; }}
QCheckBox, QRadioButton {{ padding: 1px; border: 2px solid transparent; }}
QTableWidget::item {{ padding: 2px 4px; }}
QSplitter::handle {{ background: {RULE}; }}
QToolTip {{ background: {SHEET}; color: {INK}; border: 1px solid {RULE}; }}
QLabel#final {{ font-size: 26pt; font-weight: 600; }}
QLabel#quiet, QLabel.quiet {{ color: {QUIET}; }}
QLabel#foot {{ padding: 3px 8px; border-top: 1px solid {RULE}; }}
QLabel#foot[problem="true"] {{ background: #FBE9DD; border-top: 2px solid {VERMILLION}; }}
QLabel#heading {{ font-weight: 600; }}
"""


def colour(name: str, *, see_through: int = 255) -> QColor:
    """A colour from its hex name, 0 (clear) to 255 (solid)."""
    made = QColor(name)
    made.setAlpha(see_through)
    return made


def small(font: QFont) -> QFont:
    """The same letters a size down, for what is said beside the main thing."""
    lesser = QFont(font)
    lesser.setPointSizeF(max(7.5, font.pointSizeF() - 1.5))
    return lesser
