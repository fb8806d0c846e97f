"""Menus and keys of the window, made from the table of keys and made anew when the user changes it."""

from collections.abc import Callable, Iterable, Mapping, Sequence, Set

from PyQt6.QtCore import QObject, Qt
from PyQt6.QtGui import QAction, QKeySequence, QShortcut
from PyQt6.QtWidgets import QMainWindow, QMenu, QWidget

from reviewer.actions import Keyboard, KeyUse
from reviewer.desk.keys import MENUS, shown
from reviewer.words import Saying

Doing = Callable[[], object]


class Commanding(QObject):
    """What can be done, by menu and by key.

    A key of the protractor, or of covers, means its own thing while they lie there, whatever the picture
    makes of it. A part that may have the keyboard in the picture's stead hears the picture's keys too.
    """

    def __init__(
        self,
        window: QMainWindow,
        picture: QWidget,
        doings: Mapping[str, Doing],
        lying: Mapping[str, Callable[[], bool]],
        say: Saying,
        parts: Iterable[tuple[str, QWidget]],
    ) -> None:
        super().__init__(window)
        self._parts = tuple(parts)
        self._window, self._picture, self._doings, self._lying = window, picture, doings, lying
        self._say = say
        self._actions: dict[str, QAction] = {}
        self._shortcuts: list[QShortcut] = []

    def put_in_menus(self, keyboard: Keyboard) -> Mapping[str, QMenu]:
        """A menu a heading, with all that the picture or the whole window answers to."""
        bar = self._window.menuBar()
        words = lettered([self._say.word(heading) for heading in MENUS])
        menus = {heading: QMenu(title, self._window) for heading, title in zip(MENUS, words, strict=True)}
        if bar is not None:
            for menu in menus.values():
                bar.addMenu(menu)
        for use in keyboard.uses:
            if use.where not in ("anywhere", "picture"):
                continue
            action = QAction(self._say.word(use.says), self._window)
            action.triggered.connect(lambda _=False, does=use.does: self._doings[does]())
            self._actions[use.does] = action
            menus[use.under].addAction(action)
        return menus

    def bind(self, keyboard: Keyboard) -> None:
        """Let these keys do what they do from now on."""
        for shortcut in self._shortcuts:
            shortcut.setEnabled(False)
            shortcut.deleteLater()
        titles = self._titles(keyboard)
        for use in keyboard.uses:
            if (action := self._actions.get(use.does)) is not None:
                anywhere = _heard(use, "anywhere")
                action.setShortcuts([QKeySequence(one) for one in anywhere])
                key = f"\t{shown(use.keys[0])}" if use.keys and not anywhere else ""
                action.setText(f"{titles[use.does]}{key}")
        usual = _table(keyboard, "picture")
        special = {where: _table(keyboard, where) for where in self._lying}
        heard = dict.fromkeys(sequence for table in (usual, *special.values()) for sequence in table)
        self._shortcuts = [
            self._shortcut(
                self._picture, one, usual.get(one), {w: table.get(one) for w, table in special.items()}
            )
            for one in heard
        ]
        for where, part in self._parts:
            own = usual | _table(keyboard, where)
            self._shortcuts += [self._shortcut(part, sequence, own[sequence], {}) for sequence in own]

    def _titles(self, keyboard: Keyboard) -> dict[str, str]:
        """What each thing to do is called in its menu, with the letter that chooses it there."""
        titles: dict[str, str] = {}
        for menu in MENUS:
            uses = [one for one in keyboard.uses if one.under == menu and one.does in self._actions]
            words = lettered([self._say.word(one.says) for one in uses])
            titles |= dict(zip([one.does for one in uses], words, strict=True))
        return titles

    def _shortcut(
        self, heard_by: QWidget, sequence: str, usual: str | None, special: Mapping[str, str | None]
    ) -> QShortcut:
        shortcut = QShortcut(QKeySequence(sequence), heard_by)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        shortcut.activated.connect(lambda: self._run(self._meant(usual, special)))
        return shortcut

    def _meant(self, usual: str | None, special: Mapping[str, str | None]) -> str | None:
        """What a key does for what lies on the picture, else what it always does there."""
        lying = (does for where, does in special.items() if does is not None and self._lying[where]())
        return next(lying, usual)

    def _run(self, does: str | None) -> None:
        if does is not None:
            self._doings[does]()


def lettered(words: Sequence[str]) -> list[str]:
    """The words with ``&`` before a letter that none before has: initials first, then whatever is left."""
    taken: set[str] = set()
    titles = []
    for one in words:
        initials = [at for at in range(len(one)) if at == 0 or one[at - 1] == " "]
        free = (at for at in (*initials, *range(len(one))) if _is_free(one[at].lower(), taken))
        at = next(free, None)
        titles.append(one if at is None else f"{one[:at]}&{one[at:]}")
        taken |= {one[at].lower()} if at is not None else set()
    return titles


def _is_free(letter: str, taken: Set[str]) -> bool:
    return letter.isascii() and letter.isalpha() and letter not in taken


def _table(keyboard: Keyboard, where: str) -> dict[str, str]:
    """Sequences heard at a place and what they do; the keypad's Enter is Return."""
    found = {sequence: use.does for use in keyboard.uses for sequence in _heard(use, where)}
    return found | ({"Enter": found["Return"]} if "Return" in found else {})


def _heard(use: KeyUse, where: str) -> list[str]:
    return [sequence for sequence in use.keys if use.heard(sequence) == where]
