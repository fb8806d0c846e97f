"""One line written into a file of the user's, or taken out; what else stands there stays as it is."""

import os
import re
import shutil
from pathlib import Path
from tempfile import mkstemp

from reviewer.settings.choices import (
    Choices,
    SettingsError,
    bad_value,
    find_setting,
    key_pattern,
    parsed,
    read_choices,
    settings_text,
)
from reviewer.settings.places import settings_file
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def keep_setting(key: str, typed: str | None, path: Path | None = None) -> Choices:
    """Write a setting, or with None let its default hold again, and read the file anew.

    `SettingsError` for an unknown key, a value it does not take and a file that is no TOML; nothing is
    written then. OSError where the place cannot be written.
    """
    place, setting = path or settings_file(), find_setting(key, key)
    try:
        value = None if typed is None else setting.written(setting.read(typed))
    except ValueError as fault:
        raise SettingsError(bad_value(setting, key, fault)) from None
    write_line(key, value, place)
    return read_choices(place)


def write_line(key: str, value: str | None, place: Path) -> None:
    """Give a key of a TOML file a value in quotes, or with None take its line out.

    `SettingsError` where the file is no TOML or writes the key in a way that is not changed here.
    """
    before = settings_text(place)
    wanted: dict[str, object] = {one: said for one, said in parsed(before, place).items() if one != key}
    if value is None:
        after = _without_line(before, key)
    else:
        wanted, after = {**wanted, key: value}, _with_line(before, key, value)
    if not _says(after, wanted, place):
        wrong = message("The file writes {key} in a way that is not changed here.", key=key)
        mended = (
            message('Write {key} = "{value}" there yourself.', key=key, value=value)
            if value is not None
            else message("Remove it there yourself.")
        )
        raise SettingsError(Problem("setting-not-changed", str(place), wrong, mended))
    if after != before:
        _replace(place, after)


def _with_line(text: str, key: str, value: str) -> str:
    """The text with the key's value replaced, its comment kept; else with a new line before any table."""
    top, rest = _parted(text)
    given, rest_of_line = r"(?:\"(?:[^\"\\\n]|\\.)*\"|'[^'\n]*'|[^#\n]*?)", r"([ \t]*(?:#[^\n]*)?\r?)$"
    line = re.compile(rf"^([ \t]*{key_pattern(key)}[ \t]*=[ \t]*){given}{rest_of_line}", re.MULTILINE)
    changed, times = line.subn(lambda found: f"{found[1]}{_quoted(value)}{found[2]}", top, count=1)
    if times:
        return changed + rest
    end = "\r\n" if "\r\n" in text else "\n"
    break_before = end if top and not top.endswith("\n") else ""
    return f"{top}{break_before}{key} = {_quoted(value)}{end}{rest}"


def _without_line(text: str, key: str) -> str:
    top, rest = _parted(text)
    return re.sub(rf"^[ \t]*{key_pattern(key)}[ \t]*=[^\n]*\n?", "", top, count=1, flags=re.MULTILINE) + rest


def _parted(text: str) -> tuple[str, str]:
    """What stands before the first table, and the rest."""
    table = re.search(r"^[ \t]*\[", text, re.MULTILINE)
    return (text[: table.start()], text[table.start() :]) if table else (text, "")


def _quoted(value: str) -> str:
    """A TOML string."""
    escaped = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{escaped}"'


def _says(text: str, wanted: dict[str, object], place: Path) -> bool:
    try:
        return parsed(text, place) == wanted
    except SettingsError:
        return False


def _replace(path: Path, text: str) -> None:
    """Put the text in the file's place in one step; where the path is a link, in what it leads to."""
    place = path.resolve()
    place.parent.mkdir(parents=True, exist_ok=True)
    number, beside = mkstemp(dir=place.parent, prefix=f".{place.name}.")
    try:
        with open(number, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        if place.exists():
            shutil.copymode(place, beside)
        os.replace(beside, place)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
