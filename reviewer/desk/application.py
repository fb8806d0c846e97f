"""Runs the window: the application, its look, and what happens to a fault nobody foresaw."""

import logging
import sys
from pathlib import Path
from traceback import extract_tb
from types import TracebackType

from PyQt6.QtWidgets import QApplication

from reviewer import actions
from reviewer.desk.firstlook import FirstLook
from reviewer.desk.looks import dress
from reviewer.desk.qtwords import speak
from reviewer.desk.window import DeskWindow
from reviewer.terms.problems import DONE, ReviewerError
from reviewer.video import SmallStore
from reviewer.words import saying

LOG = logging.getLogger("reviewer.desk")


def run(case: Path | None, recording: Path | None, *, author: str) -> int:
    """Show the window until it is closed; exit code of the command."""
    chosen, amiss = _preferences()
    application = dressed_application(chosen)
    window = _window(author, chosen)
    before, sys.excepthook = sys.excepthook, lambda *fault: _unforeseen(window, *fault)
    try:
        window.remembering.put_back()
        window.viewing.shown.connect(lambda _: take_over())
        window.show()
        if recording is None:
            take_over()
        if amiss is not None:
            window.bench.say_problems(amiss)
        if case is not None:
            window.open_case(case, recording)
        elif recording is not None:
            window.open_recording(recording)
        application.exec()
    finally:
        sys.excepthook = before
    return DONE


def take_over() -> None:
    """The desk shows the picture itself by now."""
    for window in QApplication.topLevelWidgets():
        if isinstance(window, FirstLook):
            window.close()


def _preferences() -> tuple[actions.Preferences | None, ReviewerError | None]:
    """What the user has set; with what is wrong with it, as if nothing were set."""
    try:
        return actions.preferences(), None
    except ReviewerError as error:
        return None, error


def _window(author: str, chosen: actions.Preferences | None) -> DeskWindow:
    if chosen is None:
        return DeskWindow(author)
    store = SmallStore(actions.small_pictures_folder(), chosen.small_picture_disk)
    return DeskWindow(
        author,
        chosen.picture_memory,
        store if chosen.small_pictures else None,
        say=saying(chosen.language),
        look=(chosen.look, chosen.text_size),
        guided=chosen.guide,
    )


def dressed_application(chosen: actions.Preferences | None = None) -> QApplication:
    """The one application of this process, in the desk's own look."""
    there = QApplication.instance()
    application = there if isinstance(there, QApplication) else QApplication(["reviewer"])
    application.setApplicationName("reviewer")
    if chosen is None:
        dress(application)
    else:
        dress(application, chosen.look, chosen.text_size)
        speak(application, chosen.language)
    return application


def _unforeseen(
    window: DeskWindow, kind: type[BaseException], fault: BaseException, trace: TracebackType | None
) -> None:
    """Qt ends the process on a fault in a slot unless a hook takes it: log it, say one line, go on.

    The log holds the places in the code only; a message may hold a name.
    """
    places = " < ".join(f"{Path(step.filename).name}:{step.lineno}" for step in reversed(extract_tb(trace)))
    LOG.error("%s at %s", kind.__name__, places)
    say = window.bench.say
    said = say("Something went wrong inside ({kind}). Every mark made is on disk.", kind=kind.__name__)
    window.bench.said.emit(said, True)
