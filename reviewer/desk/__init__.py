"""The desk: the window a judge works at. The picture is the evidence, the routine strip is the routine, the
score sheet is the argument.
"""

from pathlib import Path

from reviewer.desk.errors import DeskError, refuse_without_screen

__all__ = ["DeskError", "open_desk"]


def open_desk(case: Path | None, recording: Path | None, *, author: str) -> int:
    """Show the window until it is closed, and return the exit code of the command.

    Raises DeskError where there is no screen; a file that cannot be opened is said in the window.
    """
    refuse_without_screen()
    from reviewer.desk.application import run  # Qt is loaded only where there is a screen

    return run(case, recording, author=author)
