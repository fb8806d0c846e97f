"""A meet on a page beside the window: its routines, their recordings and cases, and who audits them."""

from PyQt6.QtWidgets import QWidget
from PyQt6.sip import isdeleted

from reviewer.desk.bench import Bench
from reviewer.desk.meets.page import MeetPage

__all__ = ["MeetPage", "show_page"]


def show_page(parent: QWidget, bench: Bench) -> None:
    """Show the page, as it was where it was only put aside."""
    there = [one for one in parent.findChildren(MeetPage) if not isdeleted(one)]
    page = there[0] if there else MeetPage(parent, bench)
    page.show()
    page.raise_()
    page.activateWindow()
