"""Where things lie: what travels with the program, and what it writes for itself."""

import os
from pathlib import Path

from platformdirs import user_cache_path, user_config_path, user_log_path, user_state_path

_PACKAGE = Path(__file__).resolve().parent.parent


def shipped(folder: str) -> Path:
    """The folder ``annotations`` or ``sample_clips``: inside a wheel, or beside the package."""
    installed = _PACKAGE / "shipped" / folder
    return installed if installed.is_dir() else _PACKAGE.parent / folder


def log_file() -> Path:
    """The rotating log of this user on this machine."""
    return user_log_path("reviewer", appauthor=False) / "reviewer.log"


def settings_file() -> Path:
    """The user's settings file, or the one ``REVIEWER_SETTINGS`` names; it need not be there."""
    other = os.environ.get("REVIEWER_SETTINGS")
    return Path(other) if other else user_config_path("reviewer", appauthor=False) / "settings.toml"


def keys_file() -> Path:
    """The user's own keys, beside the settings file; it need not be there."""
    return settings_file().with_name("keys.toml")


def short_codes_file() -> Path:
    """The user's own short codes, beside the settings file; it need not be there."""
    return settings_file().with_name("short-codes.toml")


def names_file() -> Path:
    """The names behind athletes' codes, or the file ``REVIEWER_NAMES`` names; it need not be there."""
    other = os.environ.get("REVIEWER_NAMES")
    return Path(other) if other else settings_file().with_name("names.json")


def desk_file() -> Path:
    """What the desk remembers of itself, or the file ``REVIEWER_DESK`` names; it may be removed."""
    other = os.environ.get("REVIEWER_DESK")
    return Path(other) if other else user_state_path("reviewer", appauthor=False) / "desk.json"


def small_pictures_folder() -> Path:
    """The store of small pictures of this user on this machine; it may be removed at any time."""
    return user_cache_path("reviewer", appauthor=False) / "small pictures"
