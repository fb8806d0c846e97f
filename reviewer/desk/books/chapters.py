"""The clauses of a rule book by chapter, with a line to search them by code, name or words."""

from collections.abc import Iterable, Sequence

from PyQt6.QtCore import QEvent, QObject, Qt, pyqtSignal
from PyQt6.QtGui import QKeyEvent
from PyQt6.QtWidgets import QHeaderView, QTreeWidget, QTreeWidgetItem, QVBoxLayout, QWidget

from reviewer.actions.ownbooks import HEAD, Outlined
from reviewer.desk.books.lines import Line
from reviewer.words import Saying

_ID = Qt.ItemDataRole.UserRole


CODE = 22
"""Letters of a code that are shown beside its name; all of them are in the tip."""


class Chapters(QWidget):
    """The list at the left. A clause with a problem has a sign before it, one that is changed another.

    Attributes:
        search: words that a clause must hold to be listed, in any order.
        tree: chapters and clauses.

    Signals:
        chosen(str): a clause is chosen by its id; the head by `HEAD`.
    """

    chosen = pyqtSignal(str)

    def __init__(self, say: Saying) -> None:
        super().__init__()
        self._say = say
        self._listed: list[tuple[QTreeWidgetItem, str]] = []
        self.search, self.tree = Line(), QTreeWidget()
        self._arrange()

    def show_clauses(self, clauses: Sequence[Outlined], words: dict[str, str]) -> None:
        """List these clauses; ``words`` says by id what each says in sentences, to be searched too."""
        kept = self.current()
        self.tree.blockSignals(True)
        self.tree.clear()
        self._listed = []
        chapters: dict[str, QTreeWidgetItem] = {}
        for clause in sorted(clauses, key=lambda one: _order(clauses, one)):
            entry = self._entry(clause, words.get(clause.id, ""))
            if clause.id == HEAD:
                self.tree.addTopLevelItem(entry)
                continue
            title = clause.chapter or self._say("Of no known kind")
            if title not in chapters:
                chapters[title] = QTreeWidgetItem([self._say.word(title)])
                chapters[title].setFlags(Qt.ItemFlag.ItemIsEnabled)
                self.tree.addTopLevelItem(chapters[title])
                chapters[title].setFirstColumnSpanned(True)
            chapters[title].addChild(entry)
        self.tree.expandAll()
        self._filter()
        self.choose(kept)
        self.tree.blockSignals(False)

    def mark(self, wrong: Iterable[str], changed: Iterable[str]) -> None:
        """Sign the clauses that have a problem, and those that say something else than before."""
        wrong, changed = set(wrong), set(changed)
        for entry, _ in self._listed:
            id = entry.data(0, _ID)
            sign = "✕ " if id in wrong else "± " if id in changed else ""
            entry.setText(0, sign + (id or self._say("Head of the book")))
            told = {"✕ ": self._say("has a problem"), "± ": self._say("changed")}.get(sign, "")
            entry.setData(0, Qt.ItemDataRole.AccessibleDescriptionRole, told)

    def current(self) -> str:
        """The id of the chosen clause."""
        entry = self.tree.currentItem()
        return str(entry.data(0, _ID) or HEAD) if entry is not None else HEAD

    def choose(self, id: str) -> None:
        """Choose a clause by its id; a search that does not find it ends."""
        for entry, _ in self._listed:
            if entry.data(0, _ID) == id:
                if entry.isHidden():
                    self.search.clear()
                self.tree.setCurrentItem(entry)
                self.tree.scrollToItem(entry)

    def step(self, by: int) -> None:
        """Choose the next listed clause, or with -1 the one before."""
        listed = [entry for entry, _ in self._listed if not entry.isHidden()]
        here = self.tree.currentItem()
        at = next((at for at, one in enumerate(listed) if one is here), -1)
        if listed and 0 <= at + by < len(listed):
            self.tree.setCurrentItem(listed[at + by])

    def eventFilter(self, watched: QObject | None, event: QEvent | None) -> bool:
        """Up, Down and Return in the search line go on in the list."""
        if isinstance(event, QKeyEvent) and event.type() == QEvent.Type.KeyPress and watched is self.search:
            if event.key() in (Qt.Key.Key_Down, Qt.Key.Key_Up):
                self.step(1 if event.key() == Qt.Key.Key_Down else -1)
                return True
            if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter):
                self.tree.setFocus()
                return True
        return super().eventFilter(watched, event)

    def _entry(self, clause: Outlined, words: str) -> QTreeWidgetItem:
        entry = QTreeWidgetItem([clause.id or self._say("Head of the book"), clause.title])
        entry.setData(0, _ID, clause.id)
        entry.setToolTip(0, f"{clause.id}: {clause.title}")
        entry.setToolTip(1, clause.title)
        self._listed.append((entry, " ".join((clause.id, clause.says, words)).casefold()))
        return entry

    def _filter(self) -> None:
        wanted = self.search.text().casefold().split()
        first = None
        for entry, words in self._listed:
            found = all(word in words for word in wanted)
            entry.setHidden(not found)
            first = first or (entry if found else None)
        for at in range(self.tree.topLevelItemCount()):
            chapter = self.tree.topLevelItem(at)
            if chapter is not None and chapter.childCount():
                inner = (chapter.child(place) for place in range(chapter.childCount()))
                chapter.setHidden(all(one is None or one.isHidden() for one in inner))
        here = self.tree.currentItem()
        if wanted and first is not None and (here is None or here.isHidden()):
            self.tree.setCurrentItem(first)

    def _arrange(self) -> None:
        say = self._say
        self.search.setPlaceholderText(say("Search clauses: code, name, words"))
        self.search.setAccessibleName(say("Search clauses"))
        self.search.setClearButtonEnabled(True)
        self.search.textChanged.connect(lambda _: self._filter())
        self.search.installEventFilter(self)
        self.tree.setAccessibleName(say("Clauses by chapter"))
        self.tree.setColumnCount(2)
        self.tree.setHeaderHidden(True)
        self.tree.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.tree.setIndentation(self.fontMetrics().horizontalAdvance("mm") // 2)
        header = self.tree.header()
        if header is not None:
            header.setSectionResizeMode(0, QHeaderView.ResizeMode.Interactive)
            header.resizeSection(0, self.fontMetrics().averageCharWidth() * CODE)
            header.setSectionResizeMode(1, QHeaderView.ResizeMode.Stretch)
        self.tree.currentItemChanged.connect(lambda now, _: self._chose(now))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addWidget(self.search)
        column.addWidget(self.tree, 1)

    def _chose(self, entry: QTreeWidgetItem | None) -> None:
        if entry is not None and entry.data(0, _ID) is not None:
            self.chosen.emit(entry.data(0, _ID))


def _order(clauses: Sequence[Outlined], one: Outlined) -> int:
    """The head first, then chapters in the order their first clause stands in the file."""
    if one.id == HEAD:
        return -1
    return next(at for at, other in enumerate(clauses) if other.chapter == one.chapter)
