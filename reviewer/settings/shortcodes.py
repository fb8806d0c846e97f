"""Short codes: words of a user's own that stand for words of a call. None are shipped."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from pathlib import Path

from reviewer.settings.choices import SettingsError, line_of, parsed, settings_text
from reviewer.settings.keeping import write_line
from reviewer.settings.places import short_codes_file
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

_CODE = re.compile(r"[a-z][a-z0-9]{0,11}")
_LONGEST = 200


@dataclass(frozen=True, slots=True)
class ShortCode:
    """A short code, the words it stands for, and the file and line that say so."""

    code: str
    words: str
    origin: str


@dataclass(frozen=True, slots=True)
class ShortCodes:
    """The user's short codes in the order of their file, and what is wrong with that; what is sound holds."""

    path: Path
    known: tuple[ShortCode, ...] = ()
    problems: tuple[Problem, ...] = field(default=())

    @property
    def words(self) -> Mapping[str, str]:
        """What each code stands for."""
        return {one.code: one.words for one in self.known}


def read_short_codes(path: Path | None = None) -> ShortCodes:
    """The short codes of the user's file; one that is not there has none."""
    place = path or short_codes_file()
    try:
        text = settings_text(place)
        given = parsed(text, place)
    except SettingsError as fault:
        return ShortCodes(place, problems=fault.problems)
    read = [_read(code, said, line_of(place, text, code)) for code, said in given.items()]
    known = tuple(one for one in read if isinstance(one, ShortCode))
    return ShortCodes(place, known, tuple(one for one in read if isinstance(one, Problem)))


def keep_short_code(code: str, words: str | None, path: Path | None = None) -> ShortCodes:
    """Let a code stand for words in the user's file, or with None take it out.

    `SettingsError` for what is no code or no words, for a code to be taken out that is not there, and for a
    file that is no TOML; nothing is written then. OSError where the place cannot be written.
    """
    place = path or short_codes_file()
    if words is None:
        if code not in parsed(settings_text(place), place):
            raise SettingsError(_unknown(code))
        write_line(code, None, place)
    else:
        read = _read(code.lower(), words, code)
        if isinstance(read, Problem):
            raise SettingsError(read)
        write_line(read.code, read.words, place)
    return read_short_codes(place)


def find_short_code(known: ShortCodes, code: str) -> ShortCode:
    """A code among those known; `SettingsError` where it is not."""
    for one in known.known:
        if one.code == code:
            return one
    raise SettingsError(_unknown(code))


def _read(code: str, said: object, where: str) -> ShortCode | Problem:
    if not _CODE.fullmatch(code):
        wrong = message(
            "{code} is no short code: up to 12 of the letters a to z and digits, a letter first.",
            code=repr(code),
        )
        return Problem("bad-short-code", where, wrong, message("Choose another one, such as ab or k2."))
    words = " ".join(said.lower().split()) if isinstance(said, str) else ""
    if not words or len(words) > _LONGEST:
        wrong = message("{code} stands for no words of a call.", code=code)
        return Problem("bad-short-code", where, wrong, message('Write it like ab = "arms-bent 0.1".'))
    return ShortCode(code, words, where)


def _unknown(code: str) -> Problem:
    remedy = message("`reviewer short-codes` lists those there are.")
    return Problem(
        "unknown-short-code", code, message("There is no short code {code}.", code=repr(code)), remedy
    )
