from .choices import Choices, Chosen, SettingsError, find_setting, read_choices
from .keeping import keep_setting
from .keyboard import Keyboard, KeyUse, find_use, keep_keys, read_keyboard, shipped_keys
from .log import record_fault, start_log
from .places import (
    desk_file,
    keys_file,
    log_file,
    names_file,
    settings_file,
    shipped,
    short_codes_file,
    small_pictures_folder,
)
from .preferences import Preferences, Setting, all_settings
from .remembering import LeftAt, Remembered, recall, remember
from .shortcodes import (
    ShortCode,
    ShortCodes,
    find_short_code,
    keep_short_code,
    read_short_codes,
)

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
    "ShortCode",
    "ShortCodes",
    "all_settings",
    "desk_file",
    "find_setting",
    "find_short_code",
    "find_use",
    "keep_keys",
    "keep_setting",
    "keep_short_code",
    "keys_file",
    "log_file",
    "names_file",
    "read_choices",
    "read_keyboard",
    "read_short_codes",
    "recall",
    "record_fault",
    "remember",
    "settings_file",
    "shipped",
    "shipped_keys",
    "short_codes_file",
    "small_pictures_folder",
    "start_log",
]
