"""Deriving what a report says again: its ledger, its page, its paper."""

import json
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import __version__, reports
from reviewer.actions.audit import Audit
from reviewer.actions.finding import finding, told
from reviewer.actions.reporting import CASE, PAGE, PAPER, attachments
from reviewer.actions.reviewing import Review
from reviewer.reports import Difference
from reviewer.terms.canonical import readable
from reviewer.terms.problems import ReviewerError
from reviewer.words import ENGLISH, LANGUAGES, Saying, saying


def check_pages(audit: Audit, stored: dict[str, Any], folder: Path, review: Review) -> None:
    """Hold the finding, the page and the paper against what the case derives to, in the report's language."""
    spoken = stored.get("language", ENGLISH)
    say = saying(spoken if spoken in LANGUAGES else ENGLISH)
    stills = tuple(_retold(audit, still, say) for still in stored.get("stills", []))
    derived = json.loads(readable(finding(audit, stills, say)))
    written_by, set_by = stored.get("version"), stored.get("typeset_by")
    derived |= {"version": written_by, "typeset_by": set_by}
    review.step("ledger", reports.compare_ledgers(stored, derived))
    if written_by != __version__:
        review.skip("pages", f"written by version {written_by}, this is {__version__}")
        return
    page = (folder / PAGE).read_text(encoding="utf-8", errors="replace")
    carried = reports.pictures_in(page)
    found = list(reports.compare_pages(page, reports.page(derived, carried), derived))
    if set_by != reports.TYPESETTER:
        review.skip(PAPER, f"set by {set_by}, here is {reports.TYPESETTER}")
    elif not found:
        attached = attachments(audit, derived, (folder / CASE).read_bytes())
        found += _paper(folder / PAPER, derived, carried, attached)
    review.step("pages", found)


def _retold(audit: Audit, still: dict[str, Any], say: Saying) -> dict[str, Any]:
    """A still with what the case says of it; as it is where it names a recording that the case does not."""
    known = 1 <= still.get("recording", 1) <= len(audit.state.recordings)
    return still | (told(audit, still, say) if known else {"recording": "(none of the case's)"})


def _paper(
    path: Path, finding: dict[str, Any], pictures: dict[str, bytes], attached: dict[str, bytes]
) -> list[Difference]:
    stored = sha256(path.read_bytes()).hexdigest()
    try:
        derived = sha256(reports.paper(finding, pictures, attached)).hexdigest()
    except ReviewerError as fault:
        derived = str(fault)
    return [Difference("page", PAPER, stored, derived)] if stored != derived else []
