"""What the user has set on this machine: read it, list it, change it."""

from pathlib import Path
from typing import Any

from reviewer import settings
from reviewer.settings import Keyboard as Keyboard
from reviewer.settings import KeyUse as KeyUse
from reviewer.settings import Preferences as Preferences
from reviewer.settings import SettingsError as SettingsError


def preferences() -> settings.Preferences:
    """What holds now; `SettingsError` with every problem of the settings file, if there is one."""
    return settings.read_choices().preferences()


def small_pictures_folder() -> Path:
    """Where small pictures are stored; the folder may not be there yet, and may be removed at any time."""
    return settings.small_pictures_folder()


def settings_document(key: str | None = None) -> dict[str, Any]:
    """``reviewer.settings/1``: every setting or one, where it comes from, and the file's problems.

    `SettingsError` where there is no such setting.
    """
    if key is not None:
        settings.find_setting(key, key)
    return _document(settings.read_choices(), key)


def change_setting(key: str, value: str | None) -> dict[str, Any]:
    """Write one setting into the user's file: ``reviewer.settings/1`` of that one as it is now.

    With None its default holds again.

    `SettingsError` for a key or value that does not hold and for a file that is not TOML; OSError where the
    place cannot be written.
    """
    return _document(settings.keep_setting(key, value), key)


def keyboard() -> settings.Keyboard:
    """The keys of the desk as the user wants them, and what is wrong with the user's file of keys."""
    return settings.read_keyboard()


def keys_document(does: str | None = None) -> dict[str, Any]:
    """``reviewer.keys/1``: every use of keys or one, where it comes from, and the file's problems."""
    found = settings.read_keyboard()
    if does is not None:
        settings.find_use(does)
    return _keys(found, does)


def change_keys(does: str, typed: str | None) -> dict[str, Any]:
    """Give one use of the desk other keys, or with None the shipped ones: ``reviewer.keys/1`` of that one.

    `SettingsError` for what is no use or no key and for a key that means something else already.
    """
    return _keys(settings.keep_keys(does, typed), does)


def _keys(found: settings.Keyboard, does: str | None) -> dict[str, Any]:
    return {
        "format": "reviewer.keys/1",
        "file": str(found.path),
        "keys": [_use(one) for one in found.uses if does in (None, one.does)],
        "problems": [problem.to_json() for problem in found.problems],
    }


def _use(one: settings.KeyUse) -> dict[str, Any]:
    return {
        "does": one.does,
        "keys": list(one.keys),
        "where": one.where,
        "under": one.under,
        "from": one.origin,
        "description": one.says,
    }


def _document(choices: settings.Choices, key: str | None) -> dict[str, Any]:
    return {
        "format": "reviewer.settings/1",
        "file": str(choices.path),
        "settings": [_line(one) for one in choices.chosen if key in (None, one.setting.key)],
        "problems": [problem.to_json() for problem in choices.problems],
    }


def _line(one: settings.Chosen) -> dict[str, Any]:
    said = {
        "key": one.setting.key,
        "type": one.setting.kind,
        "value": one.setting.written(one.value),
        "default": one.setting.default,
        "least": one.setting.least,
        "most": one.setting.most,
        "choices": list(one.setting.choices),
        "from": one.origin,
        "description": one.setting.description,
    }
    return said | {"bytes": one.value} if one.setting.kind == "bytes" else said
