"""The keys of the desk: those shipped, and what the user made of them. No key means two things at once."""

import tomllib
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from difflib import get_close_matches
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

from reviewer.settings.choices import SettingsError, line_of, parsed, settings_text
from reviewer.settings.keeping import write_line
from reviewer.settings.places import keys_file
from reviewer.settings.sequences import held_down, read_sequences, types_a_word
from reviewer.terms.messages import message, reason, spoken
from reviewer.terms.problems import Problem

_ANYWHERE, _PICTURE, _CALL = "anywhere", "picture", "call"


@dataclass(frozen=True, slots=True)
class KeyUse:
    """One thing to do and the keys that do it.

    Attributes:
        does: its name.
        keys: portable text; the first is shown.
        where: ``anywhere``, ``picture``, ``strip``, ``protractor``, ``covers``, ``call``, ``sheet`` or
            ``book``.
        under: heading on the help sheet, and the menu it stands in.
        says: what it does; a sentence of the catalogue.
        origin: ``default``, or the file and line that set it.
    """

    does: str
    keys: tuple[str, ...]
    where: str
    under: str
    says: str
    origin: str = "default"

    def heard(self, sequence: str) -> str:
        """Where this key of it is heard: only held-down keys and F keys are heard anywhere."""
        if self.where == _ANYWHERE and not held_down(sequence):
            return _PICTURE
        return self.where


@dataclass(frozen=True, slots=True)
class Keyboard:
    """Every use in the order of the data file, the user's file, and what is wrong with that.

    While there is a problem the shipped keys hold.
    """

    uses: tuple[KeyUse, ...]
    path: Path
    problems: tuple[Problem, ...] = ()

    def use(self, does: str) -> KeyUse:
        """What is done by this name; KeyError where nothing is."""
        for one in self.uses:
            if one.does == does:
                return one
        raise KeyError(does)


@cache
def shipped_keys() -> tuple[KeyUse, ...]:
    """The keys as they are shipped."""
    text = Path(__file__).with_name("keys.toml").read_text(encoding="utf-8")
    return tuple(
        KeyUse(does, read_sequences(said["keys"]), said["where"], said["under"], said["says"])
        for does, said in tomllib.loads(text).items()
    )


def read_keyboard(path: Path | None = None) -> Keyboard:
    """The keys as the user's file wants them; one that is not there changes none."""
    place = path or keys_file()
    try:
        text = settings_text(place)
        given = parsed(text, place)
    except SettingsError as fault:
        return Keyboard(shipped_keys(), place, fault.problems)
    uses, problems = _changed(given, lambda does: line_of(place, text, does))
    problems += list(_problems(uses, str(place)))
    return Keyboard(shipped_keys() if problems else uses, place, tuple(problems))


def keep_keys(does: str, typed: str | None, path: Path | None = None) -> Keyboard:
    """Write the keys of one thing into the user's file, or with None let the shipped ones hold again.

    `SettingsError` for what is not there, no key, or a key that means something else; nothing is written
    then. OSError where the place cannot be written.
    """
    place = path or keys_file()
    given = parsed(settings_text(place), place)
    wanted = {key: value for key, value in given.items() if key != does}
    wanted |= {does: typed} if typed is not None else {}
    uses, problems = _changed(wanted, lambda _: does)
    problems += list(_problems(uses, does))
    if problems:
        raise SettingsError(problems)
    write_line(does, None if typed is None else " ".join(read_sequences(typed)), place)
    return read_keyboard(place)


def find_use(does: str) -> KeyUse:
    """What is done by this name, with its shipped keys; `SettingsError` where nothing is."""
    for one in shipped_keys():
        if one.does == does:
            return one
    raise SettingsError(_unknown(does, does))


def _changed(
    given: Mapping[str, Any], where: Callable[[str], str]
) -> tuple[tuple[KeyUse, ...], list[Problem]]:
    known = {one.does: one for one in shipped_keys()}
    problems: list[Problem] = []
    for does, typed in given.items():
        if does not in known:
            problems.append(_unknown(does, where(does)))
            continue
        try:
            keys = read_sequences(typed if isinstance(typed, str) else str(typed))
        except ValueError as fault:
            problems.append(
                Problem(
                    "no-key",
                    where(does),
                    message("{reason}.", reason=reason(fault)),
                    message("Write several side by side: Right D."),
                )
            )
            continue
        known[does] = replace(known[does], keys=keys, origin=where(does))
    return tuple(known.values()), problems


def _problems(uses: Iterable[KeyUse], where: str) -> Iterator[Problem]:
    for one in uses:
        for sequence in one.keys:
            if sequence.removeprefix("Shift+") == "Tab" and one.where != _CALL:
                yield Problem(
                    "key-taken", where, message("Tab moves between the parts of the window."), _OTHER
                )
            if one.where == _CALL and types_a_word(sequence):
                yield Problem(
                    "key-taken",
                    where,
                    message("{sequence} is needed to type words.", sequence=sequence),
                    _OTHER,
                )
    for one, other in combinations(uses, 2):
        for sequence in one.keys:
            if sequence in other.keys and _meet(one.heard(sequence), other.heard(sequence)):
                said = message(
                    "{sequence} would do two things: “{one}” and “{other}”.",
                    sequence=sequence,
                    one=spoken(one.says),
                    other=spoken(other.says),
                )
                yield Problem("key-twice", where, said, message("Give one of them another key."))


_OTHER = message("Choose another key.")


def _meet(one: str, other: str) -> bool:
    """Whether both are heard at once; the protractor is asked before the picture it lies on."""
    return one == other or _ANYWHERE in (one, other)


def _unknown(does: str, where: str) -> Problem:
    near = get_close_matches(does, [one.does for one in shipped_keys()], 1)
    remedy = (
        message("Is {near} meant?", near=near[0]) if near else message("`reviewer keys` lists what there is.")
    )
    return Problem(
        "unknown-key-use", where, message("Nothing is done by the name {does}.", does=repr(does)), remedy
    )
