"""Menus and keys of the window, made from the one table of keys."""

from collections.abc import Callable, Mapping

from PyQt6.QtCore import Qt
from PyQt6.QtGui import QAction, QKeySequence, QShortcut
from PyQt6.QtWidgets import QMainWindow, QMenu, QWidget

from reviewer.desk.keys import AID, CASE, KEYS, LOOK, PROTRACTOR, SAY, Key

Doing = Callable[[], object]


def make_menus(window: QMainWindow, doings: Mapping[str, Doing]) -> None:
    """A menu a group; what may be done while typing has its key anywhere in the window."""
    bar = window.menuBar()
    menus = {group: bar.addMenu(group) for group in (CASE, LOOK, SAY, PROTRACTOR, AID)} if bar else {}
    for key in KEYS:
        _add(window, menus[key.group], key, doings[key.does])


def listen(
    picture: QWidget, doings: Mapping[str, Doing], own: Mapping[str, Doing], taken: Callable[[], bool]
) -> None:
    """Keys of the picture alone; those in ``own`` mean something else while ``taken`` says so."""
    table = {
        sequence: doings[key.does] for key in KEYS for sequence in key.keys if not anywhere(key, sequence)
    }
    for sequence in {**table, **own}:
        shortcut = QShortcut(QKeySequence(sequence), picture)
        shortcut.setContext(Qt.ShortcutContext.WidgetShortcut)
        usual, special = table.get(sequence), own.get(sequence)
        shortcut.activated.connect(
            lambda usual=usual, special=special: _run(special if special and taken() else usual)
        )


def anywhere(key: Key, sequence: str) -> bool:
    """Whether a key may be pressed while words are typed: it is no letter, sign or space."""
    return key.typed_too and ("Ctrl+" in sequence or sequence.startswith("F"))


def _add(window: QMainWindow, menu: QMenu | None, key: Key, doing: Doing) -> None:
    action = QAction(key.says, window)
    action.setShortcuts([QKeySequence(sequence) for sequence in key.keys if anywhere(key, sequence)])
    action.triggered.connect(lambda: doing())
    if menu is not None:
        menu.addAction(action)


def _run(doing: Doing | None) -> None:
    if doing is not None:
        doing()
