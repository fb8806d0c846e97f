"""The pages that lie beside the window: each is opened by one thing to do, and none is in the way."""

from collections.abc import Callable

from PyQt6.QtCore import QObject
from PyQt6.QtWidgets import QDialog, QMainWindow
from PyQt6.sip import isdeleted

from reviewer.desk.bench import Bench
from reviewer.desk.commanding import Commanding
from reviewer.desk.consents import ConsentPage
from reviewer.desk.facts import FactsPage
from reviewer.desk.helping import help_page
from reviewer.desk.inquiries import InquiriesPage
from reviewer.desk.keyform import KeyForm
from reviewer.desk.notes import notes_page
from reviewer.desk.pages import about_page
from reviewer.desk.settling import SettlingPage


class Aside(QObject):
    """Opens pages.

    Attributes:
        commanding: what is bound anew when keys are changed.
    """

    def __init__(self, window: QMainWindow, bench: Bench) -> None:
        super().__init__(window)
        self._window, self._bench = window, bench
        self.commanding: Commanding | None = None
        self._open: dict[str, QDialog] = {}

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be opened, by the names of the key table."""
        window, bench = self._window, self._bench
        return {
            "inquiries": lambda: self._of_case("inquiries", lambda: InquiriesPage(window, bench)),
            "consent": lambda: self._of_case("consent", lambda: ConsentPage(window, bench)),
            "settlement": lambda: self._of_case("settlement", lambda: SettlingPage(window, bench)),
            "facts": lambda: self._of_case("facts", lambda: FactsPage(window, bench)),
            "notes": lambda: self._put("notes", lambda: notes_page(window, bench), anew=True),
            "help": lambda: self._put("help", lambda: help_page(window, bench)),
            "about": lambda: self._put("about", lambda: about_page(window, bench.say)),
            "keys-page": lambda: self._put("keys-page", self._keys),
            "rule-book": self._books,
            "coach": lambda: self._of_case("coach", self._coach),
            "clip": lambda: self._of_case("clip", self._clip),
            "practice": lambda: self._of_case("practice", self._practice),
            "judge-blind": lambda: self._of_case("judge-blind", self._blind),
            "find": self._find,
            "meet": self._meet,
        }

    def _of_case(self, does: str, made: Callable[[], QDialog]) -> None:
        """Open a page that is about the case on the desk."""
        if self._bench.audit is None:
            said = self._bench.say(
                "No case is open: start one with {start}, or open one with {open}.",
                start=self._bench.key("start"),
                open=self._bench.key("open"),
            )
            self._bench.said.emit(said, True)
        else:
            self._put(does, made)

    def _put(self, does: str, made: Callable[[], QDialog], *, anew: bool = False) -> None:
        """Give the keyboard to a page: the one that is open, or made ``anew`` in its place."""
        page = self._open.get(does)
        there = page is not None and not isdeleted(page) and page.isVisible()
        if page is not None and there and anew:
            page.close()
        if page is None or not there or anew:
            page = self._open[does] = made()
        page.show()
        page.raise_()
        page.activateWindow()

    def _books(self) -> None:
        # The form reads whole rule books: it is loaded by whoever opens it, not at the start.
        from reviewer.desk.books import show_form

        show_form(self._window, self._bench)

    def _find(self) -> None:
        # Looking through many cases is loaded by whoever does it, not at the start.
        from reviewer.desk.finding import show_page

        show_page(self._window, self._bench)

    def _meet(self) -> None:
        # So are the many routines of a meet.
        from reviewer.desk.meets import show_page

        show_page(self._window, self._bench)

    # What a case becomes for others is loaded by whoever makes it, not at the start.

    def _coach(self) -> QDialog:
        from reviewer.desk.teaching.coachpage import CoachPage

        return CoachPage(self._window, self._bench)

    def _clip(self) -> QDialog:
        from reviewer.desk.teaching.clippage import ClipPage

        return ClipPage(self._window, self._bench)

    def _practice(self) -> QDialog:
        from reviewer.desk.teaching.practicepage import PracticePage

        return PracticePage(self._window, self._bench)

    def _blind(self) -> QDialog:
        from reviewer.desk.teaching.blindly import BlindPage

        return BlindPage(self._window, self._bench)

    def _keys(self) -> KeyForm:
        form, commanding = KeyForm(self._window, self._bench), self.commanding
        if commanding is not None:
            form.rebound.connect(lambda: commanding.bind(self._bench.keyboard))
        return form
