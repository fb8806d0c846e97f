"""Passages found among many cases, on a page beside the window."""

from PyQt6.QtWidgets import QWidget
from PyQt6.sip import isdeleted

from reviewer.desk.bench import Bench
from reviewer.desk.finding.page import FindPage

__all__ = ["FindPage", "show_page"]


def show_page(parent: QWidget, bench: Bench) -> None:
    """Show the page, with what was found on it last where it was only put aside."""
    there = [one for one in parent.findChildren(FindPage) if not isdeleted(one)]
    page = there[0] if there else FindPage(parent, bench)
    page.show()
    page.raise_()
    page.activateWindow()
