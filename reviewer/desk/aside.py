"""The pages that lie beside the window: each is opened by one thing to do, and none is in the way."""

from collections.abc import Callable

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QDialog, QMainWindow

from reviewer.desk.bench import Bench
from reviewer.desk.commanding import Commanding
from reviewer.desk.consents import ConsentPage
from reviewer.desk.facts import FactsPage
from reviewer.desk.helping import help_page
from reviewer.desk.inquiries import InquiriesPage
from reviewer.desk.keyform import KeyForm
from reviewer.desk.notes import notes_page
from reviewer.desk.pages import about_page


class Aside(QObject):
    """Opens pages.

    Attributes:
        commanding: what is bound anew when keys are changed.
    """

    def __init__(self, window: QMainWindow, bench: Bench) -> None:
        super().__init__(window)
        self._window, self._bench = window, bench
        self.commanding: Commanding | None = None

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be opened, by the names of the key table."""
        window, bench = self._window, self._bench
        return {
            "inquiries": lambda: self._of_case(lambda: InquiriesPage(window, bench)),
            "consent": lambda: self._of_case(lambda: ConsentPage(window, bench)),
            "facts": lambda: self._of_case(lambda: FactsPage(window, bench)),
            "notes": lambda: _put(notes_page(window, bench)),
            "help": lambda: _put(help_page(window, bench)),
            "about": lambda: _put(about_page(window, bench.say)),
            "keys-page": self._keys,
            "rule-book": self._books,
        }

    def _of_case(self, made: Callable[[], QDialog]) -> None:
        """Open a page that is about the case on the desk."""
        if self._bench.audit is None:
            said = self._bench.say(
                "No case is open: start one with {start}, or open one with {open}.",
                start=self._bench.key("start"),
                open=self._bench.key("open"),
            )
            self._bench.said.emit(said, True)
        else:
            _put(made())

    def _books(self) -> None:
        # The form reads whole rule books: it is loaded by whoever opens it, not at the start.
        from reviewer.desk.books import show_form

        show_form(self._window, self._bench)

    def _keys(self) -> None:
        form, commanding = KeyForm(self._window, self._bench), self.commanding
        if commanding is not None:
            form.rebound.connect(lambda: commanding.bind(self._bench.keyboard))
        _put(form)


def _put(page: QDialog) -> None:
    """Show a page and give it the keyboard."""
    page.show()
    page.activateWindow()
