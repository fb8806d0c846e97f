"""Sentences for people: an English template with named arguments, put into words at the edge."""

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import TypeAlias

Translate: TypeAlias = Callable[[str], str]
"""From an English sentence to the same in another language, arguments still to be filled in."""


_UNIT = re.compile(r"\b(?:mm|cm|m|in|ft|px|s|seconds?|minutes?)\b")
_SIZE = re.compile(r"(?=.*[0-9])[-−±+0-9.,;:°%/() ]+")


@lru_cache(maxsize=8192)
def is_size(text: str) -> bool:
    """Whether a text is nothing but numbers with their units: ``9.650``, ``−43.2° ± 1.2° (95 %)``, ``64 s``.

    Such a text is a word too, since languages write numbers differently.
    """
    return _SIZE.fullmatch(_UNIT.sub("", text)) is not None


def as_written(template: str) -> str:
    """The English sentence itself."""
    return template


@dataclass(frozen=True, slots=True)
class Message:
    """A sentence to be said later, in whatever language the catalogue holds.

    Attributes:
        template: the English sentence, which is also its id in the catalogue; ``{name}`` marks an argument.
        arguments: pairs of name and what stands for it; made text when it is said.
    """

    template: str
    arguments: tuple[tuple[str, object], ...] = ()

    def __str__(self) -> str:
        return self.words()

    def words(self, translate: Translate = as_written) -> str:
        """The sentence with its arguments filled in, its template and those that are sentences translated."""
        filled = {name: _filled(one, translate) for name, one in self.arguments}
        return translate(self.template).format(**filled)


def _filled(argument: object, translate: Translate) -> object:
    if isinstance(argument, Message):
        return argument.words(translate)
    text = str(argument)
    return translate(text) if is_size(text) else argument


def noted(template: str) -> str:
    """The sentence itself; by this name it is collected into the catalogue, to be said elsewhere."""
    return template


def message(template: str, **arguments: object) -> Message:
    """A `Message` from keyword arguments."""
    return Message(template, tuple(arguments.items()))


def spoken(word: str) -> Message:
    """A word of a document or a person, in the language where the catalogue has it; braces stay braces."""
    return Message(word.replace("{", "{{").replace("}", "}}"))


def listed(words: Sequence[str | Message]) -> Message:
    """Such words, or sentences, one after the other."""
    told = [one if isinstance(one, Message) else spoken(one) for one in words]
    found = told[0] if told else Message("")
    for one in told[1:]:
        found = message("{these}, {that}", these=found, that=one)
    return found


def reason(fault: Exception) -> Message:
    """What an exception says: its own `Message`, or words from outside, which the catalogue may know."""
    if isinstance(fault, OSError):
        return spoken(fault.strerror or str(fault))
    said = fault.args[0] if len(fault.args) == 1 else str(fault)
    return said if isinstance(said, Message) else spoken(str(said))


def either(words: Sequence[str]) -> Message:
    """Words of the catalogue of which one holds, such as ``met or within``; at least one."""
    found = Message(words[0])
    for one in words[1:]:
        found = message("{these} or {that}", these=found, that=Message(one))
    return found
