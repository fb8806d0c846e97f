"""Places on this machine, what the user may set, and the log."""

from reviewer.settings.choices import Choices, Chosen, SettingsError, find_setting, read_choices
from reviewer.settings.keeping import keep_setting
from reviewer.settings.keyboard import Keyboard, KeyUse, find_use, keep_keys, read_keyboard, shipped_keys
from reviewer.settings.log import record_fault, start_log
from reviewer.settings.places import (
    desk_file,
    keys_file,
    log_file,
    settings_file,
    shipped,
    small_pictures_folder,
)
from reviewer.settings.preferences import Preferences, Setting, all_settings
from reviewer.settings.remembering import LeftAt, Remembered, recall, remember

__all__ = [
    "Choices",
    "Chosen",
    "KeyUse",
    "Keyboard",
    "LeftAt",
    "Preferences",
    "Remembered",
    "Setting",
    "SettingsError",
    "all_settings",
    "desk_file",
    "find_setting",
    "find_use",
    "keep_keys",
    "keep_setting",
    "keys_file",
    "log_file",
    "read_choices",
    "read_keyboard",
    "recall",
    "record_fault",
    "remember",
    "settings_file",
    "shipped",
    "shipped_keys",
    "small_pictures_folder",
    "start_log",
]
