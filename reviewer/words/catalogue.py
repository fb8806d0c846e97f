"""The catalogue: an English sentence is its own id, other languages lie beside in gettext's form.

``python -m tests.words.extracting`` collects the sentences and compiles the languages.
"""

import gettext
from dataclasses import dataclass
from functools import cache
from importlib import resources

from reviewer.terms.messages import Message

ENGLISH = "en"
LANGUAGES = {ENGLISH: "English", "de": "Deutsch"}
"""What each language calls itself, by its tag (BCP 47)."""
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

    def word(self, text: str) -> str:
        """A word or sentence without arguments, such as a verdict; as it is where the catalogue lacks it."""
        return _translations(self.language).gettext(text) if text else text

    @property
    def machine_drafted(self) -> bool:
        """Whether no person has read the language's words through."""
        return self.language in MACHINE_DRAFTED


def saying(language: str) -> Saying:
    """The `Saying` of a language; KeyError for one that is not among `LANGUAGES`."""
    if language not in LANGUAGES:
        raise KeyError(language)
    return Saying(language)


@cache
def _translations(language: str) -> gettext.NullTranslations:
    if language == ENGLISH:
        return gettext.NullTranslations()
    compiled = resources.files("reviewer.words").joinpath("languages", f"{language}.mo")
    with compiled.open("rb") as file:
        return gettext.GNUTranslations(file)
