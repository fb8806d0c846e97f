"""The rule-book form of the desk."""

from PyQt6.QtWidgets import QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.books.form import RuleBookForm

__all__ = ["RuleBookForm", "show_form"]


def show_form(parent: QWidget, bench: Bench) -> None:
    """Show the form, the one that is open where there is one."""
    there = [one for one in parent.findChildren(RuleBookForm) if one.isVisible()]
    form = there[0] if there else RuleBookForm(parent, bench)
    form.show()
    form.activateWindow()
