"""Deriving what a report says again: its ledger, its case, its page, its paper."""

import json
import re
from collections.abc import Mapping
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import __version__, reports
from reviewer.actions.audit import Audit
from reviewer.actions.finding import finding, take_stills, told
from reviewer.actions.hiding import as_it_is, hiding
from reviewer.actions.reporting import CASE, FINDING, PAGE, PAPER, attachments, case_bytes
from reviewer.actions.reviewing import Review
from reviewer.reports import Difference
from reviewer.terms.canonical import readable
from reviewer.terms.parsing import parsed_object
from reviewer.terms.problems import ReviewerError
from reviewer.words import ENGLISH, LANGUAGES, Saying, saying

_LANGUAGE = re.compile(r'<html lang="([a-z]+)"')


def check_pages(audit: Audit, stored: dict[str, Any], folder: Path, review: Review) -> None:
    """Hold finding, case, page and paper against what the case derives to, in the report's language."""
    say = _spoken(stored.get("language"))
    stills = tuple(_retold(audit, still, say) for still in stored["stills"])
    derived = json.loads(readable(finding(audit, stills, say)))
    written_by, set_by = stored.get("version"), stored.get("typeset_by")
    derived |= {"version": written_by, "typeset_by": set_by}
    review.step("ledger", reports.compare_ledgers(stored, derived))
    if written_by == __version__:
        _check_files(audit, derived, folder, review)
    else:
        by = reports.shortened(reports.in_words(written_by))[0]
        review.skip("pages", f"written by version {by}, this is {__version__}")


def check_without_finding(audit: Audit, folder: Path, review: Review) -> None:
    """Hold case, page and paper against a finding that is made anew, as the report's own is gone.

    ``audit`` has the recordings, as stills have to be taken again; what people wrote is in no chain.
    """
    review.skip("ledger", f"{FINDING} is not there or not whole")
    page = _text(folder / PAGE)
    language = _LANGUAGE.search(page)
    say = _spoken(language[1] if language else None)
    shown = bool(reports.pictures_in(page))
    try:
        stills = _taken_again(audit, say, page) if shown else ()
    except ReviewerError:
        stills = ()
    derived = json.loads(readable(finding(audit, stills, say)))
    if shown and not stills:
        review.skip(
            "pages",
            f"{FINDING} is not there or not whole, nor is the recording its stills could be taken from again",
        )
    elif derived["inquiry"]["asked"] or "settlement" in derived:
        review.skip(
            "pages", f"{FINDING} is not there or not whole, and with it the words that the page shows"
        )
    else:
        _check_files(audit, derived, folder, review)


def _taken_again(audit: Audit, say: Saying, page: str) -> tuple[dict[str, Any], ...]:
    """The stills, with heads covered or not as the page has them."""
    carried = {name: sha256(jpeg).hexdigest() for name, jpeg in reports.pictures_in(page).items()}
    if any(heads.letters for heads in audit.state.heads.values()):
        try:
            stills = take_stills(audit, say, hide=hiding(audit))[0]
            if all(carried.get(one["id"]) == one["jpeg_sha256"] for one in stills):
                return stills
        except ReviewerError:
            pass
    return take_stills(audit, say, hide=as_it_is)[0]


def check_drawn(
    folder: Path, finding: Mapping[str, Any], attached: Mapping[str, bytes] | None, review: Review
) -> None:
    """Hold whichever of page and paper is there against a finding.

    ``attached`` is what the paper carries, None where that cannot be derived.
    """
    found: list[Difference] = []
    page, paper = folder / PAGE, folder / PAPER
    carried = reports.pictures_in(_text(page))
    if page.is_file():
        found += reports.compare_pages(_text(page), reports.page(finding, carried), finding)
    why = _unset(finding, carried, attached is not None)
    if why is not None and paper.is_file():
        review.skip(PAPER, why)
    elif paper.is_file():
        found += _paper(paper, finding, carried, attached or {})
    if page.is_file() or (paper.is_file() and why is None):
        review.step("pages", found)
    else:
        review.skip("pages", f"neither {PAGE} nor {PAPER} could be derived again")


def _check_files(audit: Audit, derived: dict[str, Any], folder: Path, review: Review) -> None:
    """Case, page and paper as this version writes them from a derived finding."""
    case = case_bytes(audit)
    beside = folder / CASE
    if beside.is_file() and not any(CASE in one.where for one in review.differences):
        stored = beside.read_bytes()
        if stored != case:
            found = reports.compare_files(CASE, parsed_object(stored, CASE), json.loads(case))
            review.step("files", found)
    check_drawn(folder, derived, attachments(audit, derived, case), review)


def _unset(finding: Mapping[str, Any], carried: Mapping[str, bytes], attached: bool) -> str | None:
    """Why the paper cannot be set again; None where it can."""
    if finding["typeset_by"] != reports.TYPESETTER:
        by = reports.shortened(reports.in_words(finding["typeset_by"]))[0]
        return f"set by {by}, here is {reports.TYPESETTER}"
    if not attached:
        return f"{CASE}, which it carries, is not there"
    fits = (
        sha256(carried.get(one["id"], b"")).hexdigest() == one["jpeg_sha256"] for one in finding["stills"]
    )
    return None if all(fits) else f"the pictures for it could not be taken from {PAGE}"


def _spoken(language: Any) -> Saying:
    return saying(language if isinstance(language, str) and language in LANGUAGES else ENGLISH)


def _text(page: Path) -> str:
    return page.read_text(encoding="utf-8", errors="replace") if page.is_file() else ""


def _retold(audit: Audit, still: dict[str, Any], say: Saying) -> dict[str, Any]:
    """A still with what the case says of it; as it is where it names a recording that the case does not."""
    known = 1 <= still.get("recording", 1) <= len(audit.state.recordings)
    return still | (told(audit, still, say) if known else {"recording": "(none of the case's)"})


def _paper(
    path: Path, finding: Mapping[str, Any], pictures: Mapping[str, bytes], attached: Mapping[str, bytes]
) -> list[Difference]:
    stored = sha256(path.read_bytes()).hexdigest()
    try:
        derived = sha256(reports.paper(finding, pictures, attached)).hexdigest()
    except ReviewerError as fault:
        derived = str(fault)
    return [Difference("page", PAPER, stored, derived)] if stored != derived else []
