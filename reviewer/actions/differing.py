"""What two merged cases say differently, in a judge's words."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.actions.audit import Audit
from reviewer.casefile import Conflict, words_of
from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import degrees_told, tenths
from reviewer.terms.messages import Message, listed, message, noted, spoken
from reviewer.terms.rulebook import RuleBook
from reviewer.words.spoken import PLAIN

_LEFT_OUT = ("id", "kind", "recording")
NOTHING = "nothing"
_LACKING = {
    "with": noted("no condition"),
    "roles": noted("no role"),
    "angle": noted("no angle"),
    "amount": noted("no amount"),
    "seen": noted("not said at which speed it is seen"),
}


def name_of(one: Conflict, audit: Audit) -> str:
    """What the edition calls the mark that a conflict is about; empty for any other matter."""
    names = names_of(audit.book)
    marks = audit.marks if one.what == "mark" else ()
    return next((names.get(mark.code, mark.code) for mark in marks if mark.id == one.where), "")


def in_words(one: Conflict, book: RuleBook) -> tuple[Message, Message]:
    """What each case says of a matter: of a mark, that in which the two differ."""
    first, second = one.values
    if not isinstance(first, Mapping) or not isinstance(second, Mapping) or one.what != "mark":
        return _of_else(one, book)
    keys = [key for key in {**first, **second} if first.get(key) != second.get(key) and key not in _LEFT_OUT]
    return listed([*_parts(first, keys, book)]), listed([*_parts(second, keys, book)])


def _of_else(one: Conflict, book: RuleBook) -> tuple[Message, Message]:
    """The same of any other matter, and of a mark that one of the two withdrew."""
    told = [
        _of_mark(said, book) if _is_mark(one, said) else spoken(text)
        for said, text in zip(one.values, (one.first, one.second), strict=True)
    ]
    return told[0], told[1]


def _of_mark(said: Mapping[str, Any], book: RuleBook) -> Message:
    """What is marked and what it costs, such as ``arms bent 0.100 taken``."""
    name, amount = _parts(said, ["code", "amount"], book)
    return message("{name} {amount}", name=name, amount=amount)


def _is_mark(one: Conflict, said: Any) -> bool:
    return one.what == "mark" and isinstance(said, Mapping)


def _parts(said: Mapping[str, Any], keys: list[str], book: RuleBook) -> Iterator[Message]:
    for key in keys:
        value = said.get(key)
        if value in (None, NOTHING, [], ()):
            yield spoken(_LACKING.get(key, f"{key}: {NOTHING}"))
        elif key == "code":
            yield spoken(names_of(book).get(value, value))
        elif key == "angle":
            yield message("angle: {angle}", angle=_angle(value))
        elif key == "amount":
            yield message("{points} taken", points=value)
        elif key in ("with", "roles"):
            yield listed([PLAIN.get(word, word) for word in value])
        else:
            yield spoken(f"{key} {words_of(value)}")


def names_of(book: RuleBook) -> Mapping[str, str]:
    """What an edition calls its elements, faults and facts, by their codes."""
    return {one.code: one.name for kind in (book.elements, book.faults, book.facts) for one in kind}


def _angle(angle: Mapping[str, Any]) -> str | Message:
    if "deg" not in angle:
        return spoken(angle["verdict"])
    if angle.get("u_deg"):
        return degrees_told({"value_deg": angle["deg"], "u_deg": angle["u_deg"]})
    return f"{tenths(Degrees.parse(angle['deg']))}°"
