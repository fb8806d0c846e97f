"""What a user may set, as data: each key with its type, default, least value and description."""

import re
import tomllib
from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

from reviewer.terms.messages import message

Value = int | bool | str
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
        look: ``light``, ``dark`` or ``as the system``.
        text_size: of the desk's words, in percent.
        language: tag of the desk's language.
        guide: whether the desk says what an audit still lacks.
    """

    picture_memory: int
    small_picture_disk: int
    small_pictures: bool
    look: str
    text_size: int
    language: str
    guide: bool


@dataclass(frozen=True, slots=True)
class Setting:
    """One key.

    Attributes:
        kind: ``bytes``, ``percent``, ``switch`` or ``choice``.
        default, least, most: as written.
        choices: what may be chosen, of a choice.
        description: its use, a sentence.
    """

    key: str
    kind: str
    default: str
    description: str
    least: str | None = None
    most: str | None = None
    choices: tuple[str, ...] = ()

    def read(self, given: object) -> Value:
        """The value of what was given, as TOML or as typed; ValueError says what is wanted instead."""
        if self.kind == "choice":
            return self._chosen(given)
        if self.kind == "switch":
            return _switch(given)
        measured = _size if self.kind == "bytes" else _percent
        value = measured(given)
        if self.least is not None and value < measured(self.least):
            raise ValueError(message("{key} is at least {least}", key=self.key, least=self.least))
        if self.most is not None and value > measured(self.most):
            raise ValueError(message("{key} is at most {most}", key=self.key, most=self.most))
        return value

    def written(self, value: Value) -> str:
        """A value as a settings file writes it: bytes in the largest unit that divides."""
        if isinstance(value, str):
            return value
        if isinstance(value, bool):
            return "on" if value else "off"
        if self.kind == "percent":
            return f"{value} %"
        unit = next((name for name in reversed(UNITS) if value and value % UNITS[name] == 0), "bytes")
        return f"{value // UNITS[unit]} {unit}"

    def _chosen(self, given: object) -> str:
        if isinstance(given, str) and given in self.choices:
            return given
        raise ValueError(
            message("{given} is none of {choices}", given=repr(given), choices=", ".join(self.choices))
        )


@cache
def all_settings() -> tuple[Setting, ...]:
    """Every key there is, in the order of the data file."""
    text = Path(__file__).with_name("preferences.toml").read_text(encoding="utf-8")
    return tuple(_setting(key, said) for key, said in tomllib.loads(text).items())


def _setting(key: str, said: dict[str, Any]) -> Setting:
    choices = tuple(said.pop("choices", ()))
    return Setting(key, said.pop("type"), choices=choices, **said)


def _size(given: object) -> int:
    if isinstance(given, int) and not isinstance(given, bool):
        return given
    found = _SIZE.fullmatch(given) if isinstance(given, str) else None
    if found is None:
        raise ValueError(
            message("{given} is no size such as 1 GiB, 512 MiB or a number of bytes", given=repr(given))
        )
    return int(found[1]) * UNITS[found[2] or "bytes"]


def _percent(given: object) -> int:
    found = re.fullmatch(r"([0-9]{1,4}) ?%?", str(given)) if not isinstance(given, bool) else None
    if found is None:
        raise ValueError(message("{given} is no size of words such as 125 %", given=repr(given)))
    return int(found[1])


def _switch(given: object) -> bool:
    if isinstance(given, bool):
        return given
    if isinstance(given, str) and given in _SWITCH:
        return _SWITCH[given]
    raise ValueError(message("{given} is neither on nor off", given=repr(given)))
