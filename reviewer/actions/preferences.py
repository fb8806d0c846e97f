"""What the user has set on this machine: read it, list it, change it."""

from pathlib import Path
from typing import Any

from reviewer import settings


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


def change_setting(key: str, value: str) -> dict[str, Any]:
    """Write one setting into the user's file: ``reviewer.settings/1`` of that one as it is now.

    `SettingsError` for a key or value that does not hold and for a file that is not TOML; OSError where the
    place cannot be written.
    """
    return _document(settings.keep_setting(key, value), key)


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
        "value": settings.words(one.value),
        "default": one.setting.default,
        "least": one.setting.least,
        "from": one.origin,
        "description": one.setting.description,
    }
    return said if isinstance(one.value, bool) else said | {"bytes": one.value}
