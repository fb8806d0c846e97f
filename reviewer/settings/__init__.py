"""Places on this machine, and the log."""

from reviewer.settings.log import record_fault, start_log
from reviewer.settings.places import log_file, shipped

__all__ = ["log_file", "record_fault", "shipped", "start_log"]
