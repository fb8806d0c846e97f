"""The letter that answers an inquiry."""

import json
from pathlib import Path

from reviewer import reports
from reviewer.actions.audit import Audit
from reviewer.actions.consenting import may_leave
from reviewer.actions.finding import finding
from reviewer.actions.inquiring import the_inquiry
from reviewer.actions.outgoing import write_file
from reviewer.reports import excerpt as excerpt
from reviewer.terms.canonical import readable
from reviewer.terms.consents import INQUIRY
from reviewer.words import ENGLISH, saying


def letter(audit: Audit, name: str, today: str | None = None, language: str = ENGLISH) -> str:
    """The answer to an inquiry in plain words of a language, where consent covers it ``today``.

    Of one not answered yet it says so.
    """
    may_leave(audit, INQUIRY, today, answers=True)
    the_inquiry(audit, name)
    found = json.loads(readable(finding(audit, (), saying(language))))
    return reports.letter(found, next(one for one in found["inquiry"]["asked"] if one["id"] == name))


def write_letter(
    audit: Audit, name: str, path: Path, today: str | None = None, language: str = ENGLISH
) -> None:
    """Write that letter into a file, in place of what stands there."""
    write_file(path, letter(audit, name, today, language).encode(), audit.recording_paths.values())
