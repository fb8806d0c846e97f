"""Deriving the report of a meet again: page and paper from its document, the document from the cases."""

from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

from reviewer import __version__, drawing, reports
from reviewer.actions.meetreporting import FORMAT, from_document, meet_report_document
from reviewer.actions.reporting import FINDING, PAGE, PAPER
from reviewer.actions.reviewing import Review
from reviewer.reports import Difference
from reviewer.terms.canonical import readable
from reviewer.terms.parsing import parsed
from reviewer.terms.problems import ReviewerError
from reviewer.words import ENGLISH, LANGUAGES

_Document = dict[str, Any]


def is_meet_report(folder: Path) -> bool:
    """Whether a folder holds the report of a meet."""
    try:
        return _read(folder / FINDING).get("format") == FORMAT
    except (OSError, ValueError, AttributeError):
        return False


def verify_meet_report(folder: Path, meet: Path | None, review: Review) -> None:
    """Hold page and paper against the document, and that against the meet where it is at hand."""
    stored = _read(folder / FINDING)
    review.step("files", _in_its_form(folder, stored))
    if meet is None:
        review.skip("ledger", "the meet is not here; name it with --meet")
    else:
        review.step("ledger", _derived_otherwise(stored, meet))
    if stored.get("version") != __version__:
        by = reports.shortened(reports.in_words(stored.get("version")))[0]
        review.skip("pages", f"written by version {by}, this is {__version__}")
        return
    review.step("pages", _set_otherwise(folder, stored, review))


def _read(path: Path) -> _Document:
    found: _Document = parsed(path.read_bytes())
    return found


def _in_its_form(folder: Path, stored: _Document) -> Iterator[Difference]:
    if (folder / FINDING).read_bytes() != readable(stored):
        yield Difference("file", FINDING, "written in another form", "as this program writes it")


def _derived_otherwise(stored: _Document, meet: Path) -> Iterator[Difference]:
    language = stored.get("language")
    derived = meet_report_document(meet, language if language in LANGUAGES else ENGLISH)
    if stored.get("drawn_by") != drawing.drawn_by():  # another version draws other lines
        derived = derived | {name: stored.get(name) for name in ("charts", "drawn_by")}
    derived |= {name: stored.get(name) for name in ("version", "typeset_by")}
    if derived != stored:
        yield from reports.compare_files(FINDING, stored, derived)


def _set_otherwise(folder: Path, stored: _Document, review: Review) -> Iterator[Difference]:
    try:
        derived = from_document(stored)
    except ReviewerError as fault:
        yield Difference("ledger", FINDING, str(fault), "a report that can be set")
        return
    except Exception:  # whatever a page cannot be made of
        yield Difference("ledger", FINDING, "no page can be made of it", "a whole report")
        return
    for name in (PAGE, PAPER):
        if name == PAPER and stored.get("typeset_by") != reports.TYPESETTER:
            review.skip(PAPER, f"set by another version, here is {reports.TYPESETTER}")
        else:
            yield from _file(folder / name, derived)


def _file(path: Path, derived: Mapping[str, bytes]) -> Iterator[Difference]:
    if not path.is_file():
        yield Difference("file", path.name, "not there", "a file")
    elif path.name == PAGE and path.read_bytes() != derived[PAGE]:
        stored = path.read_text(encoding="utf-8", errors="replace")
        yield from reports.compare_pages(stored, derived[PAGE].decode(), {"stills": []})
    elif path.read_bytes() != derived[path.name]:
        yield Difference("page", path.name, "other bytes", "those that the document gives")
