"""A user's short codes: list them, give one words, take one out. An edition's own word always wins."""

from collections.abc import Mapping
from typing import Any

from reviewer import settings
from reviewer.settings import SettingsError
from reviewer.terms.callwords import plain_kind, with_point, words_of
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import RuleBook


def short_codes() -> settings.ShortCodes:
    """The user's short codes, and what is wrong with the file of them."""
    return settings.read_short_codes()


def short_codes_document(book: RuleBook, code: str | None = None) -> dict[str, Any]:
    """``reviewer.short-codes/1``: every code or one, what it stands for, and what an edition says to it.

    `SettingsError` where there is no such code.
    """
    found = settings.read_short_codes()
    shown = found.known if code is None else (settings.find_short_code(found, code),)
    return {
        "format": "reviewer.short-codes/1",
        "file": str(found.path),
        "rule_book": book.id,
        "codes": [
            {"code": one.code, "words": one.words, "from": one.origin, "remark": remark_on(one, book)}
            for one in shown
        ],
        "problems": [problem.to_json() for problem in found.problems],
    }


def define_short_code(code: str, words: str, book: RuleBook | None) -> Mapping[str, str]:
    """Let a code stand for words from now on: every code and its words.

    `SettingsError` for what is no code, for a word of the edition, and for a file that is not TOML.
    """
    if code.lower() in words_of(book):
        said = message(
            "{code} is a word of the edition: it means that, and cannot be a short code.", code=code
        )
        raise SettingsError(Problem("word-of-the-edition", code, said, message("Choose another short code.")))
    return settings.keep_short_code(code, words).words


def forget_short_code(code: str) -> Mapping[str, str]:
    """Take a code out: every code that is left. `SettingsError` where there is no such code."""
    return settings.keep_short_code(code.lower(), None).words


def remark_on(one: settings.ShortCode, book: RuleBook) -> str | None:
    """What keeps a short code from doing what it stands for under an edition; None where nothing does."""
    known = words_of(book)
    if one.code in known:
        return f"{one.code} is a word of {book.id}, which is meant instead."
    words = one.words.split()
    unknown = [word for word in words if word not in known and plain_kind(with_point(word)) is None]
    if unknown and words[0] not in ("note", "short"):
        return f"{book.id} has no word {unknown[0]}."
    return None
