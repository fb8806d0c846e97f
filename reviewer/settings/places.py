"""Where things lie: what travels with the program, and what it writes for itself."""

from pathlib import Path

from platformdirs import user_log_path

_PACKAGE = Path(__file__).resolve().parent.parent


def shipped(folder: str) -> Path:
    """The folder ``annotations`` or ``sample_clips``: inside a wheel, or beside the package."""
    installed = _PACKAGE / "shipped" / folder
    return installed if installed.is_dir() else _PACKAGE.parent / folder


def log_file() -> Path:
    """The rotating log of this user on this machine."""
    return user_log_path("reviewer", appauthor=False) / "reviewer.log"
