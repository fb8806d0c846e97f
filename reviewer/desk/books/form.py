"""The rule-book form: clauses left, the chosen one's fields in the middle, old against new at the right.

It is a window over the same actions as ``reviewer rules``: each change that is kept is made in the file's
own text and is on disk before it shows here.
"""

from collections.abc import Callable

from PyQt6.QtCore import QEvent, QObject, Qt
from PyQt6.QtGui import QKeyEvent, QKeySequence, QShortcut
from PyQt6.QtWidgets import QDialog, QWidget

from reviewer.actions.books import shipped_books
from reviewer.actions.ownbooks import HEAD, OwnBook
from reviewer.desk.bench import Bench
from reviewer.desk.books.parts import BookParts
from reviewer.desk.books.trying import Trying
from reviewer.desk.choosing import file_to_read
from reviewer.desk.placing import fitting
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook


class RuleBookForm(QDialog):
    """Shows one rule book at a time; an own one can be changed, a shipped one copied.

    Attributes:
        own: the book that is shown, or None before any could be read.
        parts: what lies on the form.
    """

    def __init__(self, parent: QWidget, bench: Bench) -> None:
        super().__init__(parent)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._bench, self._say = bench, bench.say
        self.own: OwnBook | None = None
        self._warned = False
        self.parts = BookParts(self, bench)
        self._trying = Trying(self, self.parts)
        self._connect()
        self._bind()
        parent.installEventFilter(self)
        self.resize(fitting(self, 1240, 720))
        self.open_book(self._first())
        shipped = self.own is None or self.own.shipped
        (self.parts.copying.id if shipped else self.parts.chapters.search).setFocus()

    def open_book(self, name: str, *, against: RuleBook | None = None) -> None:
        """Show an edition by its id, or a file; ``against`` is what it was copied from."""

        def opened() -> None:
            self.own = self._trying.own = OwnBook(name, self._bench.say.word)

        if self._keeps_draft() or not self._bench.attempt(opened):
            return
        if self.own is not None:
            self.parts.against.offer(self.own, against, self._bench.audit)
        self.parts.chapters.search.clear()
        self._read(HEAD)

    def keep(self) -> None:
        """Let the file say what is typed; where that is refused nothing is written and the form says why."""
        wanted, own, form = self.parts.clause.wanted(), self.own, self.parts.clause
        if own is None or wanted is None:
            self._bench.said.emit(self._say("Nothing is changed."), False)
            return
        missing = form.change.lead_to_missing() if wanted.clause != HEAD else ""
        if missing:
            form.change.tell(missing)
            self._bench.said.emit(missing, True)
            return
        if self._try(lambda: own.keep(wanted), self._say("Kept: {file}", file=own.path)):
            form.change.keep()
            self._read(wanted.clause)

    def undo(self) -> None:
        """Take back the last change that was kept, down to how the file was when it was opened."""
        self._swap(OwnBook.undo, self._say("Taken back."), self._say("The file is as it was when opened."))

    def redo(self) -> None:
        """Make it again."""
        self._swap(OwnBook.redo, self._say("Done again."), self._say("Nothing was taken back."))

    def reject(self) -> None:
        """Close; what is typed and not kept is named first and taken back at the second time."""
        if self.own is not None and self.parts.clause.drafting():
            if self._keeps_draft():
                return
            self._read(self.parts.chapters.current())
            self._bench.said.emit(self._say("What was typed is taken back."), False)
            return
        super().reject()

    def keyPressEvent(self, event: QKeyEvent | None) -> None:
        """Leave closing to the key of the table."""
        if event is not None and event.key() == Qt.Key.Key_Escape:
            event.ignore()
        else:
            super().keyPressEvent(event)

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """The window closes over something typed that is not kept only when it is asked twice."""
        closing = event is not None and event.type() == QEvent.Type.Close and watched is self.parent()
        if not closing or event is None or not self.isVisible() or not self._keeps_draft():
            return super().eventFilter(watched, event)
        event.ignore()
        self.raise_()
        self.activateWindow()
        return True

    def changeEvent(self, event: QEvent | None) -> None:
        """Take in what was written to the file while the form lay behind."""
        super().changeEvent(event)
        active = event is not None and event.type() == QEvent.Type.ActivationChange and self.isActiveWindow()
        if active and self.own is not None and not self.parts.clause.drafting():
            self._read_anew()

    def _read_anew(self) -> None:
        try:
            changed = self.own is not None and self.own.read_again()
        except ReviewerError as error:
            self._bench.say_problems(error)
            return
        if changed:
            self._read(self.parts.chapters.current())
            self._bench.said.emit(self._say("The file was changed elsewhere and is read anew."), False)

    def _read(self, clause: str) -> None:
        """Show the book as the file has it, a clause of it chosen."""
        own, parts = self.own, self.parts
        if own is None:
            return
        self.setWindowTitle(self._say("Rule book {id}", id=own.id))
        parts.edition.setEditText(own.path.stem if own.shipped else str(own.path))
        words = {one.id: " ".join(own.words_of(one.id)) for one in own.outlined}
        parts.chapters.show_clauses(own.outlined, words)
        parts.chapters.choose(clause)
        self._show_clause(parts.chapters.current())
        self._show_check(own)
        parts.case.show_book(own)
        parts.copying.setVisible(own.shipped)
        parts.copying.offer(str(own.path), own.id, self._why() if own.shipped else "")
        parts.back.setEnabled(own.steps > 0)
        for part in (parts.keep, parts.id, parts.repeat, parts.away):
            part.setEnabled(not own.shipped)
            part.setVisible(not own.shipped)
        parts.back.setVisible(not own.shipped)

    def _why(self) -> str:
        return self._say("This edition travels with the program and is never changed. A copy of it can be.")

    def _chosen(self, id: str) -> None:
        """Show another clause, unless something is typed that is not kept."""
        shown = self.parts.clause.clause
        if shown is not None and shown.id != id and self._keeps_draft():
            self.parts.chapters.tree.blockSignals(True)
            self.parts.chapters.choose(shown.id)
            self.parts.chapters.tree.blockSignals(False)
            return
        self._show_clause(id)

    def _show_clause(self, id: str) -> None:
        own = self.own
        clause = next((one for one in own.outlined if one.id == id), None) if own else None
        if own is not None:
            self.parts.clause.show_clause(clause, own.words_of(id), writable=not own.shipped)
            self.parts.id.setText("")
        self._trying.now()

    def _drafted(self) -> None:
        self._warned = False
        self._trying.soon()

    def _show_check(self, own: OwnBook) -> None:
        """Show what a check of the file finds, and sign the clauses it is about and those changed."""
        self.parts.problems.show_check(own)
        found = own.against(own.opened) if own.opened is not None else None
        changed = [one.after.id for one in found.changed] if found else []
        added = [one.id for one in found.added] if found else []
        wrong = [clause.id for one in own.problems if (clause := own.clause_at(one)) is not None]
        self.parts.chapters.mark(wrong, (*changed, *added))

    def _lead(self, problem: Problem) -> None:
        """Show the clause that a problem stands in, the keyboard on the field it names."""
        clause = self.own.clause_at(problem) if self.own is not None else None
        if clause is None:
            return
        self.parts.chapters.choose(clause.id)
        shown = self.parts.clause
        if shown.clause is not None and shown.clause.id == clause.id:
            shown.tell((problem,))
            shown.lead_to(problem)

    def _keeps_draft(self) -> bool:
        """Whether something typed is not kept, which is said; asked a second time, it may go."""
        if self._warned or not self.parts.clause.drafting():
            self._warned = False
            return False
        self._warned = True
        key = self._bench.key("book-keep")
        said = self._say("What is typed here is not kept yet. {key} keeps it; once more lets it go.", key=key)
        self._bench.said.emit(said, True)
        return True

    def _swap(self, step: Callable[[OwnBook], bool], done: str, none_left: str) -> None:
        own, stepped = self.own, []
        if own is None or self._keeps_draft():
            return
        if self._try(lambda: stepped.append(step(own)), ""):
            self._read(self.parts.chapters.current())
            self._bench.said.emit(done if stepped[-1] else none_left, False)

    def _repeat(self) -> None:
        own, clause, id = self.own, self.parts.clause.clause, self.parts.id.text().strip()
        if own is None or clause is None or self._keeps_draft():
            return
        if not id:
            self.parts.id.setFocus()
            self._bench.said.emit(self._say("Type the id of the new clause first."), True)
        elif self._try(lambda: own.repeat(clause.id, id), self._say("Added: {clause}", clause=id)):
            self._read(id)

    def _take_away(self) -> None:
        own, clause = self.own, self.parts.clause.clause
        if own is None or clause is None or clause.id == HEAD:
            return
        said = self._say("Taken out: {clause}. Undo brings it back.", clause=clause.id)
        if self._try(lambda: own.take_away(clause.id), said):
            self._read(HEAD)

    def _try(self, change: Callable[[], object], done: str) -> bool:
        """Do what may be refused; what is wrong is said beside the fields and at the foot."""
        try:
            change()
        except ReviewerError as error:
            self.parts.clause.tell(error.problems)
            self._bench.say_problems(error)
            return False
        self._bench.said.emit(done, False)
        return True

    def _first(self) -> str:
        """The case's edition where it is shipped or lies beside the case, else the first shipped one."""
        ids = [one.id for one in shipped_books()]
        self.parts.edition.addItems(ids)
        audit = self._bench.audit
        if audit is None:
            return ids[0]
        beside = audit.path.parent / f"{audit.book.id}.yaml"
        return audit.book.id if audit.book.id in ids else str(beside) if beside.is_file() else ids[0]

    def _copied(self, file: str) -> None:
        self.open_book(file, against=self.own.book if self.own else None)
        self.parts.chapters.search.setFocus()

    def _ask_file(self) -> None:
        kinds = self._say("Rule books (*.yaml *.yml);;All files (*)")
        path = file_to_read(self, self._say("Open a rule book"), kinds)
        if path is not None:
            self.open_book(str(path))

    def _connect(self) -> None:
        parts = self.parts
        line = parts.edition.lineEdit()
        if line is not None:
            line.returnPressed.connect(lambda: self.open_book(parts.edition.currentText().strip()))
        parts.edition.activated.connect(lambda at: self.open_book(parts.edition.itemText(at)))
        parts.file.clicked.connect(self._ask_file)
        parts.copy.clicked.connect(self._offer_copy)
        parts.copying.made.connect(self._copied)
        parts.chapters.chosen.connect(self._chosen)
        parts.compared.led.connect(parts.chapters.choose)
        parts.clause.drafted.connect(self._drafted)
        parts.clause.entered.connect(self.keep)
        parts.against.activated.connect(lambda _: self._trying.now())
        parts.problems.led.connect(self._lead)
        parts.keep.clicked.connect(self.keep)
        parts.back.clicked.connect(self.undo)
        parts.repeat.clicked.connect(self._repeat)
        parts.id.returnPressed.connect(self._repeat)
        parts.away.clicked.connect(self._take_away)
        self._bench.said.connect(parts.foot.tell)
        self._bench.dressed.connect(self._trying.now)

    def _offer_copy(self) -> None:
        self.parts.copying.setVisible(self.parts.copying.isHidden())
        self.parts.copying.id.setFocus()

    def _bind(self) -> None:
        does: dict[str, Callable[[], object]] = {
            "undo": self.undo,
            "redo": self.redo,
            "book-keep": self.keep,
            "book-search": self.parts.chapters.search.setFocus,
            "book-next": lambda: self.parts.chapters.step(1),
            "book-before": lambda: self.parts.chapters.step(-1),
            "book-problem": self.parts.problems.lead_to_next,
            "book-back": self.reject,
        }
        for name, doing in does.items():
            for key in self._bench.keyboard.use(name).keys:
                shortcut = QShortcut(QKeySequence(key), self)
                shortcut.activated.connect(doing)
