"""Notes: words of a judge's own about a routine or a moment of it; the chain holds their fingerprint only."""

from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

LONGEST = 2000
"""Letters of a note, and of the words of an inquiry, an answer or a reason."""


def kept_words(audit: Audit, words: str, where: str) -> str | None:
    """Keep words beside the chain: their fingerprint, None where there are none; refused where too long."""
    if len(words) > LONGEST:
        said = message(
            "These words have {count} letters, and at most {longest} are kept.",
            count=len(words),
            longest=LONGEST,
        )
        raise AuditError(Problem("too-long", where, said, message("Say it shorter.")))
    return audit.case.keep_text(words) if words else None


def write_note(audit: Audit, text: str, at: int | None = None) -> Change:
    """Keep a note; ``at`` is the tick of the case's first recording that it is about."""
    words = " ".join(text.split())
    if not 0 < len(words) <= LONGEST:
        said = message("A note has some words, at most {longest} letters.", longest=LONGEST)
        raise AuditError(Problem("no-note", "note", said, message("Write it after the word note.")))
    audit.case.append("note-written", {"sha256": audit.case.keep_text(words), "at": at})
    return Change(frozenset({"notes"}))


def notes_document(audit: Audit) -> dict[str, Any]:
    """``reviewer.notes/1``: every note, oldest first, with its frame; text None where it was erased."""
    return {
        "format": "reviewer.notes/1",
        "notes": [
            {
                "sha256": digest,
                "at": at,
                "frame": audit.frame_at(at) if at is not None and audit.cited_pts else None,
                "text": audit.case.text(digest),
            }
            for digest, at in audit.state.notes
        ],
    }
