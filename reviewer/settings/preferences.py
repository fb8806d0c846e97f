"""What a user may set, as data: each key with its type, default, least value and description."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path

Value = int | bool
UNITS = {"bytes": 1, "KiB": 2**10, "MiB": 2**20, "GiB": 2**30, "TiB": 2**40}
"""Binary multiples (IEC 80000-13)."""
_SIZE = re.compile(rf"([0-9]{{1,18}})(?: ?({'|'.join(UNITS)}))?")
_SWITCH = {"on": True, "off": False}


@dataclass(frozen=True, slots=True)
class Preferences:
    """What holds on this machine for this user.

    Attributes:
        picture_memory: bytes for decoded pictures.
        small_picture_disk: bytes for the store of small pictures.
        small_pictures: whether small pictures are made after opening a recording.
    """

    picture_memory: int
    small_picture_disk: int
    small_pictures: bool


@dataclass(frozen=True, slots=True)
class Setting:
    """One key: its ``kind`` (``bytes`` or ``switch``), default and least value as written, and its use."""

    key: str
    kind: str
    default: str
    least: str | None
    description: str

    def read(self, given: object) -> Value:
        """The value of what was given, as TOML or as typed; ValueError says what is wanted instead."""
        value = _switch(given) if self.kind == "switch" else _size(given)
        if self.least is not None and value < _size(self.least):
            raise ValueError(f"{self.key} is at least {self.least}")
        return value


@cache
def all_settings() -> tuple[Setting, ...]:
    """Every key there is, in the order of the data file."""
    text = Path(__file__).with_name("preferences.toml").read_text(encoding="utf-8")
    return tuple(
        Setting(key, said["type"], said["default"], said.get("least"), said["description"])
        for key, said in tomllib.loads(text).items()
    )


def words(value: Value) -> str:
    """A value as a settings file writes it: ``on``, ``off``, or bytes in the largest unit that divides."""
    if isinstance(value, bool):
        return "on" if value else "off"
    unit = next((name for name in reversed(UNITS) if value and value % UNITS[name] == 0), "bytes")
    return f"{value // UNITS[unit]} {unit}"


def _size(given: object) -> int:
    if isinstance(given, int) and not isinstance(given, bool):
        return given
    found = _SIZE.fullmatch(given) if isinstance(given, str) else None
    if found is None:
        raise ValueError(f"{given!r} is no size such as 1 GiB, 512 MiB or a number of bytes")
    return int(found[1]) * UNITS[found[2] or "bytes"]


def _switch(given: object) -> bool:
    if isinstance(given, bool):
        return given
    if isinstance(given, str) and given in _SWITCH:
        return _SWITCH[given]
    raise ValueError(f"{given!r} is neither on nor off")
