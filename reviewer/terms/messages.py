"""Sentences for people: an English template with named arguments, put into words at the edge."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import TypeAlias

Translate: TypeAlias = Callable[[str], str]
"""From an English sentence to the same in another language, arguments still to be filled in."""


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

    def words(self, translate: Translate = as_written) -> str:
        """The sentence with its arguments filled in, its template and those that are sentences translated."""
        filled = {
            name: one.words(translate) if isinstance(one, Message) else one for name, one in self.arguments
        }
        return translate(self.template).format(**filled)


def noted(template: str) -> str:
    """The sentence itself; by this name it is collected into the catalogue, to be said elsewhere."""
    return template


def message(template: str, **arguments: object) -> Message:
    """A `Message` from keyword arguments."""
    return Message(template, tuple(arguments.items()))


def either(words: Sequence[str]) -> Message:
    """Words of the catalogue of which one holds, such as ``met or within``; at least one."""
    found = Message(words[0])
    for one in words[1:]:
        found = message("{these} or {that}", these=found, that=Message(one))
    return found
