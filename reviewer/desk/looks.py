"""How the desk looks: light or dark, and how large its words are.

The shades that carry meaning are of the palette of Okabe and Ito (2008), which colour-blind eyes tell apart;
none is ever the only sign: shape or words go with it. Widgets name a colour by its use, and a look says which
one that is. A test computes every contrast that matters (WCAG 2.2, 1.4.3 and 1.4.11).
"""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources import files
from pathlib import Path

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QColor, QFont, QFontDatabase, QFontMetrics, QPalette
from PyQt6.QtWidgets import QApplication

BLACK, SKY, BLUE = "#000000", "#56B4E9", "#0072B2"

PAPER, SHEET, RULE, EDGE, INK, QUIET = "paper", "sheet", "rule", "edge", "ink", "quiet"
AROUND, LANE, CHOSEN, PROBLEM, CHART = "around", "lane", "chosen", "problem", "chart"
ELEMENT, FAULT, READING, HERE, OFF = "element", "fault", "reading", "here", "off"

LIGHT: Mapping[str, str] = {
    PAPER: "#F3F1EA",
    SHEET: "#FFFEFA",
    RULE: "#D5D1C4",
    EDGE: "#858173",
    INK: "#1E2226",
    QUIET: "#565C62",
    AROUND: "#C9C7BF",
    LANE: "#ECE9DF",
    CHOSEN: "#D6E8F5",
    PROBLEM: "#FBE9DD",
    CHART: "#FFFEFA",
    ELEMENT: BLUE,
    FAULT: "#A84800",
    READING: "#007D5B",
    HERE: BLACK,
    OFF: "#6F7376",
}
DARK: Mapping[str, str] = {
    PAPER: "#1D2023",
    SHEET: "#26292D",
    RULE: "#43474C",
    EDGE: "#8C9095",
    INK: "#ECEAE4",
    QUIET: "#B4B6B5",
    AROUND: "#121416",
    LANE: "#2F3338",
    CHOSEN: "#17405C",
    PROBLEM: "#4A2A17",
    CHART: "#FFFEFA",
    ELEMENT: SKY,
    FAULT: "#FF9B57",
    READING: "#3CC79B",
    HERE: "#FFFFFF",
    OFF: "#909499",
}
"""Vermillion and green are a little darker on paper, all lighter in the dark, to be read as words."""
LOOKS: Mapping[str, Mapping[str, str]] = {"light": LIGHT, "dark": DARK}
FINAL_SIZE = 2.6
"""The final score's letters, over those of other words."""


@dataclass(slots=True)
class _Worn:
    """What the application wears; there is one application in a process."""

    look: Mapping[str, str]


_WORN = _Worn(LIGHT)


def dress(application: QApplication, look: str = "as the system", text_size: int = 100) -> None:
    """Give the application a look and its words a size, in percent."""
    _WORN.look = LOOKS[_as_the_system(application) if look not in LOOKS else look]
    font = QFontDatabase.systemFont(QFontDatabase.SystemFont.GeneralFont)
    font.setPointSizeF((font.pointSizeF() if font.pointSizeF() > 0 else 9.0) * text_size / 100)
    application.setStyle("Fusion")
    application.setPalette(_palette(_WORN.look))
    application.setFont(font)
    application.setStyleSheet(_style(_WORN.look, font.pointSizeF(), QFontMetrics(font).ascent()))


def is_dark() -> bool:
    """Whether the dark look is worn."""
    return _WORN.look is DARK


def hex_of(name: str) -> str:
    """A colour by its use, as the look has it now."""
    return _WORN.look[name]


def colour(name: str, *, see_through: int = 255) -> QColor:
    """The same to paint with, 0 (clear) to 255 (solid)."""
    made = QColor(_WORN.look[name])
    made.setAlpha(see_through)
    return made


def small(font: QFont) -> QFont:
    """The same letters a size down, for what is said beside the main thing."""
    lesser = QFont(font)
    lesser.setPointSizeF(max(7.5, font.pointSizeF() * 0.86))
    return lesser


def _as_the_system(application: QApplication) -> str:
    hints = application.styleHints()
    dark = hints is not None and hints.colorScheme() == Qt.ColorScheme.Dark
    return "dark" if dark else "light"


def _palette(look: Mapping[str, str]) -> QPalette:
    """What Fusion draws its own signs in, such as the ticks of boxes."""
    roles = QPalette.ColorRole
    shades = {
        (roles.Window, roles.Button, roles.AlternateBase): PAPER,
        (roles.Base, roles.ToolTipBase): SHEET,
        (roles.Text, roles.WindowText, roles.ButtonText, roles.ToolTipText, roles.HighlightedText): INK,
        (roles.Highlight,): CHOSEN,
        (roles.Link, roles.LinkVisited): ELEMENT,
        (roles.PlaceholderText,): QUIET,
    }
    found = QPalette()
    for some, name in shades.items():
        for role in some:
            found.setColor(role, QColor(look[name]))
    for role in (roles.Text, roles.WindowText, roles.ButtonText):
        found.setColor(QPalette.ColorGroup.Disabled, role, QColor(look[OFF]))
    return found


def _sign(look: Mapping[str, str], name: str) -> str:
    """The file of a sign that is drawn in this look's ink."""
    worn = "dark" if look is DARK else "light"
    return Path(str(files("reviewer.desk").joinpath("signs", f"{name}-{worn}.svg"))).as_posix()


def _style(look: Mapping[str, str], size: float, sign: int) -> str:
    """``size`` of words in points, ``sign`` of a box to be ticked in pixels."""
    paper, sheet, rule, edge, ink = (look[name] for name in (PAPER, SHEET, RULE, EDGE, INK))
    chosen, element, fault = look[CHOSEN], look[ELEMENT], look[FAULT]
    small = max(10, sign * 2 // 3)
    return f"""
QWidget {{ background: {paper}; color: {ink}; }}
QMenuBar, QMenu {{ background: {paper}; }}
QMenu {{ border: 1px solid {edge}; padding: 2px; }}
QMenuBar::item:selected, QMenu::item:selected {{ background: {chosen}; color: {ink}; }}
QMenu::item:disabled {{ color: {look[OFF]}; }}
QMenu::separator {{ height: 1px; background: {rule}; margin: 4px 10px; }}
QLineEdit, QComboBox, QTableView, QListWidget, QTreeWidget, QTextBrowser, QPlainTextEdit, QSpinBox {{
    background: {sheet}; border: 1px solid {edge}; border-radius: 3px; padding: 3px;
    selection-background-color: {chosen}; selection-color: {ink}; }}
QLineEdit:focus, QTableView:focus, QListWidget:focus, QTreeWidget:focus, QTextBrowser:focus,
QPlainTextEdit:focus {{
    border: 2px solid {element}; padding: 2px; }}
QComboBox:focus, QPushButton:focus, QCheckBox:focus, QRadioButton:focus {{ border: 2px solid {element}; }}
QComboBox QAbstractItemView {{ background: {sheet}; selection-background-color: {chosen};
    selection-color: {ink}; }}
QComboBox::drop-down {{ border: none; width: {small}px; }}
QComboBox::down-arrow {{ image: url("{_sign(look, "down")}"); width: {small}px; height: {small}px; }}
QScrollBar {{ background: {paper}; border: none; margin: 0px; }}
QScrollBar:vertical {{ width: {small + 4}px; }}
QScrollBar:horizontal {{ height: {small + 4}px; }}
QScrollBar::handle {{ background: {edge}; border-radius: 3px; margin: 3px; }}
QScrollBar::handle:vertical {{ min-height: {3 * sign}px; }}
QScrollBar::handle:horizontal {{ min-width: {3 * sign}px; }}
QScrollBar::add-line, QScrollBar::sub-line {{ width: 0px; height: 0px; }}
QScrollBar::add-page, QScrollBar::sub-page {{ background: transparent; }}
QDialogButtonBox {{ dialogbuttonbox-buttons-have-icons: 0; }}
QPushButton {{ background: {sheet}; border: 1px solid {edge}; border-radius: 3px; padding: 3px 9px; }}
QPushButton:hover, QPushButton:checked {{ background: {chosen}; }}
QPushButton:disabled, QCheckBox:disabled, QComboBox:disabled, QLineEdit:disabled {{ color: {look[OFF]}; }}
QCheckBox, QRadioButton {{ padding: 1px; border: 2px solid transparent; }}
QCheckBox::indicator, QRadioButton::indicator {{ width: {sign}px; height: {sign}px; }}
QCheckBox::indicator {{ border: 1px solid {edge}; border-radius: 2px; background: {sheet}; }}
QCheckBox::indicator:checked {{ image: url("{_sign(look, "tick")}"); }}
QHeaderView::section {{ background: {paper}; color: {look[QUIET]}; border: none;
    border-bottom: 1px solid {rule}; padding: 2px 4px; }}
QTableView {{ alternate-background-color: {paper}; gridline-color: {rule}; }}
QTableView::item {{ padding: 2px 4px; }}
QTableView#routine::item:focus {{ border: 2px solid {element}; }}
QScrollArea {{ border: 2px solid transparent; }}
QScrollArea:focus {{ border: 2px solid {element}; }}
QSplitter::handle {{ background: {rule}; }}
QToolTip {{ background: {sheet}; color: {ink}; border: 1px solid {edge}; }}
QLabel#final {{ font-size: {size * FINAL_SIZE:.1f}pt; font-weight: 600; }}
QLabel#quiet, QLabel.quiet {{ color: {look[QUIET]}; }}
QLabel#foot {{ padding: 3px 8px; border-top: 1px solid {rule}; }}
QLabel#foot[problem="true"] {{ background: {look[PROBLEM]}; border-top: 2px solid {fault}; }}
QLabel#heading {{ font-weight: 600; }}
QLabel#wrong {{ color: {fault}; }}
"""
