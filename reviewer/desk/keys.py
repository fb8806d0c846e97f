"""The keys of the desk in words: tips, the help sheet, and what a pressed key is called.

The keys themselves stand in the data file of `reviewer.settings`, or in the user's own.
"""

import re
from collections.abc import Mapping

from PyQt6.QtCore import QKeyCombination, Qt
from PyQt6.QtGui import QKeyEvent, QKeySequence

from reviewer.actions import Keyboard
from reviewer.terms.messages import noted
from reviewer.words import Saying

CASE, LOOK, SAY, PROTRACTOR, AID = (
    noted("Case"),
    noted("Look"),
    noted("Say"),
    noted("Protractor"),
    noted("Help"),
)
MENUS = (CASE, LOOK, SAY, PROTRACTOR, AID)

EXAMPLES = (
    ("cast", noted("an element that starts at the frame on screen")),
    ("cast met", noted("the same, with a verdict by eye: met, within, not-met, cannot-tell, not-seen")),
    ("cast -52", noted("the same, with an angle by eye: degrees, negative below horizontal")),
    ("pullover mount", noted("an element with its role: mount, dismount")),
    ("cast spotted", noted("an element with a condition of its credit")),
    ("arms-bent 0.1", noted("a fault and its amount; it belongs to the element at this frame")),
    ("fall", noted("a fault of one amount needs no number")),
    ("medium-step 0.1 settled", noted("an amount beyond dispute; arguable takes that back")),
    ("springboard-left", noted("a fact without a time")),
    ("dismount, met, 0.2 …", noted("words without a name of their own change the chosen mark")),
    ("starts · ends · withdraw", noted("set the chosen element's boundaries here; withdraw the chosen mark")),
    ("arms-bent", noted("once it was typed in this case: with the amount it had last")),
    ("arms-bent 0.1 full-speed", noted("seen at full speed; slowed: only slow motion shows it")),
    ("short ab arms-bent 0.1", noted("ab means that from now on; forget ab takes it back")),
    ("note grip looked loose", noted("words of your own about this frame, kept with the case")),
    ("posted 8.900", noted("the score the panel posted")),
    ("go 123 · go 4.1s · go 00:00:04:03", noted("show a frame by number, seconds or time code")),
)
"""What may be typed into the entry line, with its meaning: the grammar, by example."""


def tip(keyboard: Keyboard, say: Saying, does: str) -> str:
    """What an action does and its first key, for a tool tip."""
    use = keyboard.use(does)
    words = say.word(use.says).rstrip("…")
    return f"{words} ({shown(use.keys[0])})" if use.keys else words


def shown(key: str) -> str:
    """A key as keyboards have it in the language that Qt speaks."""
    return QKeySequence(key).toString(QKeySequence.SequenceFormat.NativeText)


def pressed(event: QKeyEvent) -> tuple[str, ...]:
    """The names a pressed key goes by: as held, and for a sign that took Shift to reach, without it."""
    held = event.modifiers() & ~(Qt.KeyboardModifier.KeypadModifier | Qt.KeyboardModifier.GroupSwitchModifier)
    key = Qt.Key.Key_Return if event.key() == Qt.Key.Key_Enter else Qt.Key(event.key())
    names = [_name(held, key)]
    if held & Qt.KeyboardModifier.ShiftModifier and not _name(Qt.KeyboardModifier.NoModifier, key).isalnum():
        names.append(_name(held & ~Qt.KeyboardModifier.ShiftModifier, key))
    return tuple(names)


def meant(keyboard: Keyboard, event: QKeyEvent, where: str) -> str:
    """What a pressed key does at one place of the table; empty where it does nothing of its own there."""
    names = pressed(event)
    here = (use for use in keyboard.uses if use.where == where and not set(names).isdisjoint(use.keys))
    return next((use.does for use in here), "")


def sheet(keyboard: Keyboard, say: Saying) -> str:
    """What to type and press, as Markdown: the grammar by example, then every key under its heading."""
    parts = [_part(say("What to type"), [(typed, say.word(means)) for typed, means in EXAMPLES])]
    parts += [_part(say.word(heading), rows) for heading, rows in _headed(keyboard, say).items()]
    return "\n\n".join(parts)


def _headed(keyboard: Keyboard, say: Saying) -> Mapping[str, list[tuple[str, str]]]:
    found: dict[str, list[tuple[str, str]]] = {}
    for use in keyboard.uses:
        if use.keys:
            row = (say(" or ").join(map(shown, use.keys)), say.word(use.says).rstrip("…"))
            found.setdefault(use.under, []).append(row)
    return found


def _part(heading: str, rows: list[tuple[str, str]]) -> str:
    table = [f"| **{_safe(key)}** | {_safe(says)} |" for key, says in rows]
    return "\n".join([f"### {heading}", "", "| | |", "|:--|:--|", *table])


def _safe(words: str) -> str:
    """Words as Markdown takes them: signs that it would read are led by a stroke."""
    return re.sub(r"([\\`*_\[\]|<>#])", r"\\\1", words)


def _name(held: Qt.KeyboardModifier, key: Qt.Key) -> str:
    return QKeySequence(QKeyCombination(held, key)).toString(QKeySequence.SequenceFormat.PortableText)
