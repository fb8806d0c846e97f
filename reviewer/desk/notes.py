"""The notes of a case, to read: typed as ``note …``, each with the frame it is about."""

from collections.abc import Iterator
from html import escape

from PyQt6.QtWidgets import QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.pages import Page, written


def notes_page(parent: QWidget, bench: Bench) -> Page:
    """A page of every note, oldest first."""
    rows = "".join(f"<p>{row}</p>" for row in _rows(bench))
    none = f"<p>{escape(bench.say('There are none. Type note and your words.'))}</p>"
    return Page(parent, bench.say("Notes"), written(rows or none))


def _rows(bench: Bench) -> Iterator[str]:
    for one in actions.notes_document(bench.audit)["notes"] if bench.audit else ():
        text = one["text"] if one["text"] is not None else bench.say("(erased)")
        where = "" if one["frame"] is None else bench.say("frame {frame}", frame=one["frame"]) + ": "
        yield f"<b>{escape(where)}</b>{escape(text)}"
