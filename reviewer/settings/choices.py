"""The user's settings file read. Reading never makes a file."""

import re
import tomllib
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from reviewer.settings.places import settings_file
from reviewer.settings.preferences import Preferences, Setting, Value, all_settings
from reviewer.terms.messages import message, reason, spoken
from reviewer.terms.problems import Problem, ReviewerError

LARGEST = 1_000_000
"""Bytes of a settings file that are read; more is no settings file."""


class SettingsError(ReviewerError):
    """The settings file, or a value to be written into it, does not hold; its problems say where."""


@dataclass(frozen=True, slots=True)
class Chosen:
    """What a key stands at; ``origin`` is ``default`` or the file and line that set it."""

    setting: Setting
    value: Value
    origin: str


@dataclass(frozen=True, slots=True)
class Choices:
    """The settings file read: every key, by default where the file says nothing sound, and its problems."""

    path: Path
    chosen: tuple[Chosen, ...]
    problems: tuple[Problem, ...]

    def preferences(self) -> Preferences:
        """The values; a `SettingsError` with every problem of the file, if there is one."""
        if self.problems:
            raise SettingsError(self.problems)
        values: dict[str, Any] = {one.setting.key.replace("-", "_"): one.value for one in self.chosen}
        return Preferences(**values)


def find_setting(key: str, where: str) -> Setting:
    """The setting of a key; `SettingsError` where there is none."""
    for setting in all_settings():
        if setting.key == key:
            return setting
    raise SettingsError(_unknown(key, where))


def read_choices(path: Path | None = None) -> Choices:
    """The user's settings file, or another; one that is not there sets nothing."""
    place = path or settings_file()
    try:
        text = settings_text(place)
        given = parsed(text, place)
    except SettingsError as fault:
        return Choices(place, tuple(map(_by_default, all_settings())), fault.problems)
    known = {setting.key for setting in all_settings()}
    problems = [_unknown(key, line_of(place, text, key)) for key in given if key not in known]
    chosen = [_choice(setting, given, line_of(place, text, setting.key)) for setting in all_settings()]
    unsound = [one for one in chosen if isinstance(one, Problem)]
    held = (
        _by_default(setting) if isinstance(one, Problem) else one
        for setting, one in zip(all_settings(), chosen, strict=True)
    )
    return Choices(place, tuple(held), (*problems, *unsound))


def settings_text(path: Path) -> str:
    """The text of a settings file, empty where there is none; `SettingsError` where it cannot be read."""
    try:
        with path.open("rb") as file:
            content = file.read(LARGEST + 1)
    except FileNotFoundError:
        return ""
    except OSError as fault:
        said = message("The settings file cannot be read: {reason}.", reason=reason(fault))
        problem = Problem("settings-unreadable", str(path), said, message("Check its rights, or remove it."))
        raise SettingsError(problem) from None
    if len(content) > LARGEST:
        said = message("This is no settings file: it is larger than {largest} bytes.", largest=LARGEST)
        raise SettingsError(Problem("settings-too-large", str(path), said, message("Remove it.")))
    try:
        return content.decode("utf-8-sig")
    except UnicodeDecodeError as fault:
        line = content.count(b"\n", 0, fault.start) + 1
        raise SettingsError(_not_toml(f"{path}: line {line}", "not UTF-8 text")) from None


def parsed(text: str, path: Path) -> dict[str, Any]:
    """The keys of a settings file; `SettingsError` with the line where it is no TOML."""
    try:
        return tomllib.loads(text)
    except (ValueError, RecursionError) as fault:
        said, _, place = str(fault).partition(" (at ")
        line = re.match(r"line [0-9]+", place)
        raise SettingsError(_not_toml(f"{path}: {line[0]}" if line else str(path), said)) from None


def key_pattern(key: str) -> str:
    """A regular expression for a key as TOML writes it: bare or in quotes."""
    bare = re.escape(key)
    return rf"(?:{bare}|\"{bare}\"|'{bare}')"


def _choice(setting: Setting, given: dict[str, Any], where: str) -> Chosen | Problem:
    if setting.key not in given:
        return _by_default(setting)
    try:
        return Chosen(setting, setting.read(given[setting.key]), where)
    except ValueError as fault:
        return bad_value(setting, where, fault)


def bad_value(setting: Setting, where: str, fault: ValueError) -> Problem:
    """The problem of a value that a setting does not take."""
    remedy = message(
        'Write it like {key} = "{default}", which is the default.', key=setting.key, default=setting.default
    )
    return Problem("bad-setting", where, message("{reason}.", reason=reason(fault)), remedy)


def _by_default(setting: Setting) -> Chosen:
    return Chosen(setting, setting.read(setting.default), "default")


def _unknown(key: str, where: str) -> Problem:
    keys = [setting.key for setting in all_settings()]
    near = get_close_matches(key, keys, 1)
    remedy = (
        message("Is {near} meant?", near=near[0])
        if near
        else message("The settings are {keys}.", keys=", ".join(keys))
    )
    return Problem("unknown-setting", where, message("There is no setting {key}.", key=repr(key)), remedy)


def _not_toml(where: str, said: str) -> Problem:
    wrong = message("The settings file is not TOML, so nothing of it holds: {reason}.", reason=spoken(said))
    remedy = message('Mend the line; a setting is written like picture-memory = "1 GiB".')
    return Problem("settings-not-toml", where, wrong, remedy)


def line_of(path: Path, text: str, key: str) -> str:
    """File and line of a key, its table's where it is one; the file alone where it is written otherwise."""
    found = re.search(rf"^[ \t]*\[*[ \t]*{key_pattern(key)}[ \t]*[=.\]]", text, re.MULTILINE)
    return f"{path}: line {text.count(chr(10), 0, found.start()) + 1}" if found else str(path)
