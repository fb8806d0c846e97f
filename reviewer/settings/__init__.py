"""Places on this machine, what the user may set, and the log."""

from reviewer.settings.choices import Choices, Chosen, SettingsError, find_setting, read_choices
from reviewer.settings.keeping import keep_setting
from reviewer.settings.log import record_fault, start_log
from reviewer.settings.places import log_file, settings_file, shipped, small_pictures_folder
from reviewer.settings.preferences import Preferences, Setting, all_settings, words

__all__ = [
    "Choices",
    "Chosen",
    "Preferences",
    "Setting",
    "SettingsError",
    "all_settings",
    "find_setting",
    "keep_setting",
    "log_file",
    "read_choices",
    "record_fault",
    "settings_file",
    "shipped",
    "small_pictures_folder",
    "start_log",
    "words",
]
