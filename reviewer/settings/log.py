"""A local rotating log that holds no names, no file paths and no text of the user's."""

import logging
import traceback
from logging.handlers import RotatingFileHandler
from pathlib import Path

from reviewer.settings.places import log_file

_LOG = logging.getLogger("reviewer")


def start_log() -> None:
    """Write to the user's log file; without a place to write, go on without a log."""
    place = log_file()
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        lines: logging.Handler = RotatingFileHandler(place, maxBytes=500_000, backupCount=3, delay=True)
    except OSError:
        lines = logging.NullHandler()
    lines.setFormatter(logging.Formatter("%(asctime)s %(levelname)s %(message)s"))
    _LOG.addHandler(lines)
    _LOG.setLevel(logging.INFO)
    _LOG.propagate = False


def record_fault(fault: BaseException) -> Path:
    """Log an unexpected fault by its kind and the places in the code; a message may hold a name.

    Returns the log's place.
    """
    steps = traceback.extract_tb(fault.__traceback__)
    places = " < ".join(f"{Path(step.filename).name}:{step.lineno}" for step in reversed(steps))
    _LOG.error("%s at %s", type(fault).__name__, places)
    return log_file()
