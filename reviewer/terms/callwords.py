"""The words of a typed call: those every edition has in common, and those one edition adds."""

import re

from reviewer.terms.marks import EYE_VERDICTS
from reviewer.terms.messages import noted
from reviewer.terms.rulebook import RuleBook

VERDICT_WORDS = {
    ("within" if said == "within tolerance" else said.replace(" ", "-")): said for said in EYE_VERDICTS
}
"""A verdict by eye as it is typed."""
COMMANDS = {
    "starts": noted("the chosen element starts here"),
    "ends": noted("the chosen element ends here"),
    "withdraw": noted("take the chosen mark back"),
    "posted": noted("the score the panel posted"),
    "go": noted("show a frame"),
    "note": noted("keep words of your own, with the frame on screen"),
    "short": noted("let a short code stand for words: short ab arms-bent 0.1"),
    "forget": noted("take a short code out of use"),
}
"""What is done by a word, and what that is."""
SEEN = {"full-speed": noted("seen at full speed"), "slowed": noted("seen slowed down")}
SETTLED = {"settled": noted("beyond dispute"), "arguable": noted("open to dispute")}
NUMBER = re.compile(r"-?\d*\.?\d+")
MOMENT = re.compile(r"\d+:\d+:\d+[:;]\d+|\d*\.?\d+s")


def with_point(typed: str) -> str:
    """A number as it is kept: the comma of its decimals, which half the world types, is a point."""
    return re.sub(r",(?=[0-9])", ".", typed)


def plain_kind(word: str) -> str | None:
    """What a word is that no list holds: ``judge``, ``number`` or ``moment``; None for any other."""
    if word[0] == "@":
        return "judge"
    if NUMBER.fullmatch(word):
        return "number"
    return "moment" if MOMENT.fullmatch(word) else None


def words_of(book: RuleBook | None) -> frozenset[str]:
    """Every word a call may hold under an edition; without one, those that all have in common."""
    common = {*VERDICT_WORDS, *COMMANDS, *SEEN, *SETTLED}
    if book is None:
        return frozenset(common)
    lists = (book.elements, book.faults, book.facts, book.roles, book.conditions)
    return frozenset(common | {one.code for listed in lists for one in listed})
