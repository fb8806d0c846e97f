"""The catalogue: an English sentence is its own id, other languages lie beside in gettext's form.

``python -m tests.words.extracting`` collects the sentences and compiles the languages.
"""

import gettext
import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache, lru_cache
from importlib import resources
from typing import TypeAlias

from reviewer.terms.messages import Message, is_size
from reviewer.terms.problems import Problem
from reviewer.words.spoken import PLACES, PLAIN, SIZED

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "de": "Deutsch"}
"""What each language calls itself, by its tag (BCP 47)."""
_MARKS = {"de": ","}
"""What stands before the decimals of a number, in languages that have no point there."""
_DECIMAL = re.compile(r"(?<![\w.,/-])([−+-]?[0-9]+)\.([0-9]+)(?![\w/]|-\w|\.[0-9])")
"""A decimal number by itself: no version, no date, no part of a code or a file name."""
Patterns: TypeAlias = tuple[tuple[str, re.Pattern[str]], ...]
"""English sentences with holes, and what finds each in a text."""
_HOLE = re.compile(r"\\{(\w+)\\}")
_UNITS = re.compile(r"\b(?:seconds?|minutes?)\b")
MACHINE_DRAFTED = frozenset({"de"})
"""Languages that no person who speaks them has read through."""


@dataclass(frozen=True, slots=True)
class Saying:
    """Puts sentences into one language.

    Attributes:
        language: its tag, one of `LANGUAGES`.
    """

    language: str = ENGLISH

    def __call__(self, template: str, **arguments: object) -> str:
        """The sentence in the language, its ``{name}`` filled in; English where the catalogue lacks it."""
        return self.message(Message(template, tuple(arguments.items())))

    def message(self, said: Message) -> str:
        """The same of a `Message` made elsewhere."""
        return said.words(self.word)

    def problem(self, found: Problem) -> str:
        """A problem as people are told it: where, what is wrong, what mends it."""
        where = f"{self.place(found.where)}: " if found.where else ""
        return f"{where}{self.message(found.message)} {self.message(found.remedy)}"

    def problems(self, found: Iterable[Problem]) -> str:
        """Several, one after the other."""
        return "  ".join(map(self.problem, found))

    def place(self, where: str) -> str:
        """A place as a problem names it, its words in the language: files and codes are as they are."""
        return ": ".join(self._retold(part, _placed()) for part in where.split(": "))

    def word(self, text: str) -> str:
        """A word or sentence without arguments, such as a verdict; as it is where the catalogue lacks it.

        What documents call by a short word of their own is told in plain words, a number as the language
        writes it.
        """
        return _worded(self, text)

    @property
    def writes_points(self) -> bool:
        """Whether a point stands before the decimals of a number."""
        return self.language not in _MARKS

    def numbers(self, text: str) -> str:
        """Words made by this program, the decimal numbers in them as the language writes them."""
        mark = _MARKS.get(self.language)
        return text if mark is None else _DECIMAL.sub(rf"\1{mark}\2", text)

    def _size(self, text: str) -> str:
        """Numbers alone: units in words too, and a list's commas apart from decimal ones."""
        said = _UNITS.sub(lambda unit: _translations(self.language).gettext(unit[0]), text)
        listed = said.replace(", ", "; ") if self.language in _MARKS else said
        return self.numbers(listed)

    def retold(self, text: str) -> str:
        """What a document keeps in English, its parts set off by semicolons, each with its sizes left in."""
        return "; ".join(self._retold(part, _sized()) for part in text.split("; "))

    def _retold(self, part: str, known: Patterns) -> str:
        for template, pattern in known:
            if found := pattern.fullmatch(part):
                return self(template, **{name: self.word(one) for name, one in found.groupdict().items()})
        return self.word(part)

    @property
    def machine_drafted(self) -> bool:
        """Whether no person has read the language's words through."""
        return self.language in MACHINE_DRAFTED


@lru_cache(maxsize=8192)
def _worded(say: Saying, text: str) -> str:
    """`Saying.word`; a sheet says the same words over and over after each mark."""
    if is_size(text):
        return say._size(text)
    plain = PLAIN.get(text, text)
    return _translations(say.language).gettext(plain) if plain else plain


def saying(language: str) -> Saying:
    """The `Saying` of a language; KeyError for one that is not among `LANGUAGES`."""
    if language not in LANGUAGES:
        raise KeyError(language)
    return Saying(language)


@cache
def _sized() -> Patterns:
    """Each sentence with a size in it, and the pattern that finds it."""
    return _patterns(SIZED)


@cache
def _placed() -> Patterns:
    """The same of places."""
    return _patterns(PLACES)


def _patterns(templates: Iterable[str]) -> Patterns:
    return tuple((one, re.compile(_HOLE.sub(_found, re.escape(one)))) for one in templates)


def _found(hole: re.Match[str]) -> str:
    """The pattern of what stands in a hole."""
    return f"(?P<{hole[1]}>{'[0-9]+' if hole[1] == 'number' else '.+'})"


@cache
def _translations(language: str) -> gettext.NullTranslations:
    if language == ENGLISH:
        return gettext.NullTranslations()
    compiled = resources.files("reviewer.words").joinpath("languages", f"{language}.mo")
    with compiled.open("rb") as file:
        return gettext.GNUTranslations(file)
