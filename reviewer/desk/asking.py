"""What the window asks the computer's own dialogs for, and what it calls itself."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from PyQt6.QtWidgets import QInputDialog, QWidget

from reviewer.desk.choosing import file_to_read
from reviewer.desk.seats import RECORDINGS
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit


def file_to_open(parent: QWidget, say: Saying) -> Path | None:
    """A recording or a case that the user picks; None where they think better of it."""
    kinds = say("Recordings and cases ({kinds});;All files (*)", kinds=f"{RECORDINGS} *.case")
    return file_to_read(parent, say("Open a recording or a case"), kinds)


def report_folder(parent: QWidget, say: Saying, audit: Audit) -> Path | None:
    """The folder for a case's report; a new one beside the case where nothing else is typed."""
    beside, number = audit.path.with_suffix(".report"), 1
    while beside.exists():
        number += 1
        beside = audit.path.with_name(f"{audit.path.stem}-{number}.report")
    form = QInputDialog(parent)
    form.setWindowTitle(say("Write the report"))
    form.setLabelText(say("Folder for the report; it is made where there is none:"))
    form.setTextValue(str(beside))
    form.setOkButtonText(say("Write"))
    form.setCancelButtonText(say("Not now"))
    form.resize(form.fontMetrics().averageCharWidth() * 90, 0)
    typed = form.textValue().strip() if form.exec() else ""
    return Path(typed).expanduser() if typed else None


def window_title(audit: Audit | None, say: Saying) -> str:
    """Case, athlete, edition, and who writes in it."""
    if audit is None:
        return "reviewer"
    held = say("judge {letter}", letter=audit.author) if audit.author else say("read only")
    athlete = say("athlete {code}", code=audit.athlete_code)
    return " · ".join((audit.path.name, athlete, audit.book.id, held, "reviewer"))
