"""The rule-book form of the desk."""

from collections.abc import Callable, Mapping

from PyQt6.QtWidgets import QWidget

from reviewer.desk.bench import Bench
from reviewer.desk.books.form import RuleBookForm

__all__ = ["RuleBookForm", "doings"]


def doings(parent: QWidget, bench: Bench) -> Mapping[str, Callable[[], object]]:
    """What can be done here, by the names of the key table."""

    def show() -> None:
        there = [one for one in parent.findChildren(RuleBookForm) if one.isVisible()]
        form = there[0] if there else RuleBookForm(parent, bench)
        form.show()
        form.activateWindow()

    return {"rule-book": show}
