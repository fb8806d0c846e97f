"""Text made safe to set: what cannot be seen is shown by its number, what cannot be broken is."""

import re
from functools import cache
from importlib import resources

_UNSEEN = re.compile(
    "[\x00-\x08\x0b-\x1f\x7f-\x9f\u00ad\u061c\u180e\u200b-\u200f\u2028-\u202e\u2060-\u206f\ufeff\ufff0-\ufffb"
    "\ud800-\uf8ff\ufffe\uffff\U000e0000-\U0010ffff]"
)
_LONG = re.compile(r"[^\s\u200b]{25,}")
_PIECE = re.compile(r".{1,24}", re.DOTALL)
_BOUND = re.compile(r"(?<=[0-9°ms]) (?=[%±])|(?<=±) (?=[0-9])|(?<=[0-9]) (?=(?:mm|s) ±)|(?<=\w) (?=−[0-9])")
BREAK = "\u200b"
"""Zero width space: a line may break here."""


def visible(text: str) -> str:
    """Text with each control, direction mark and private character shown by its number, ``[U+202E]``."""
    return _UNSEEN.sub(_number, text)


def bound(text: str) -> str:
    """Text in which what belongs to a number stays on its line: ``95 %``, ``−43.2° ± 1.2°``."""
    return _BOUND.sub("\u00a0", text)


def printable(text: str) -> str:
    """`visible` text in which also each character that the printed report's letters lack is a number."""
    return "".join(one if one in _printed() or one in "\n\t" else _numbered(one) for one in visible(text))


def breakable(text: str) -> str:
    """Text whose words of more than 24 characters may be broken."""
    return _LONG.sub(lambda word: BREAK.join(_PIECE.findall(word[0])), text)


def _number(found: re.Match[str]) -> str:
    return _numbered(found[0])


def _numbered(one: str) -> str:
    return f"[U+{ord(one):04X}]"


@cache
def _printed() -> frozenset[str]:
    """The characters that every weight of the letters inside typst has."""
    listed = resources.files("reviewer.reports").joinpath("templates", "printable.txt").read_text("ascii")
    found: set[str] = set()
    for stretch in listed.split():
        first, _, last = stretch.partition("-")
        found.update(map(chr, range(int(first, 16), int(last or first, 16) + 1)))
    return frozenset(found)
