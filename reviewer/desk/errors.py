"""What keeps the desk from opening."""

import os
import sys
from collections.abc import Mapping

from reviewer.terms.messages import message, reason
from reviewer.terms.problems import CannotCheckError, Problem, ReviewerError


class DeskError(ReviewerError):
    """The window cannot be shown."""

    exit_code = CannotCheckError.exit_code


def of_the_system(error: OSError) -> ReviewerError:
    """What the system refused (no right, no room on the disk), with its place and what to do."""
    where = str(error.filename or "the disk")
    said = message("{reason}.", reason=reason(error))
    return ReviewerError(Problem("system", where, said, message("Check the path and its rights.")))


def has_screen(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> bool:
    """Whether a window can be shown."""
    named = any(environment.get(name) for name in ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM"))
    return named or not platform.startswith("linux")


def refuse_without_screen(environment: Mapping[str, str] = os.environ, platform: str = sys.platform) -> None:
    """DeskError where there is no screen: Qt itself would end the whole process without a word of help."""
    if not has_screen(environment, platform):
        raise DeskError(
            Problem(
                "no-screen",
                "desk",
                message(
                    "There is no screen to show the window on: neither DISPLAY nor WAYLAND_DISPLAY is set."
                ),
                message(
                    "Start it from a desktop, or use the commands that need no window: marks, score, report."
                ),
            )
        )
