"""Deriving a report again from the case that lies in it, or in the bag around it; whatever of it is there."""

import re
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import casefile, exchange, reports, video
from reviewer.actions.audit import Audit
from reviewer.actions.covering import Covered
from reviewer.actions.documents import schema
from reviewer.actions.finding import bytes_a_still
from reviewer.actions.hiding import COVERED, hidden
from reviewer.actions.reporting import CASE, FINDING, PAGE, PAPER
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying import check_evidence
from reviewer.actions.verifying_pages import check_drawn, check_pages, check_without_finding
from reviewer.reports import Difference
from reviewer.terms.messages import message
from reviewer.terms.parsing import parsed_object
from reviewer.terms.problems import DocumentError, Problem, ReviewerError

FILES = (PAGE, PAPER, FINDING, CASE)
_STILL = {"id": str, "frame": int, "pts": int, "picture_sha256": str, "jpeg_sha256": str}
_SHOWN = {"seconds": str, "suspect": bool, "caption": str, "overlay": str}
_SECONDS = re.compile(r"-?[0-9]+\.[0-9]+")

Chain = tuple[tuple[casefile.Event, ...], dict[str, str]]
"""The events of a case and its rule books by their hash; nothing of it is believed yet."""


@dataclass(frozen=True, slots=True)
class Wanted:
    """What to hold a report against besides: recordings, and whether to decode its stills again."""

    recordings: Sequence[Path]
    pictures: bool


def verify_folder(folder: Path, review: Review, wanted: Wanted) -> None:
    """Derive the report in a folder again from the case that lies in it, or else hold it against itself."""
    name_missing(folder, "", review)
    chain = case_in(folder) if (folder / CASE).is_file() else None
    stored = finding_in(folder) if (folder / FINDING).is_file() else None
    check_report(folder, stored, chain, review, wanted)


def name_missing(folder: Path, inside: str, review: Review) -> None:
    """Name every file of a report that is not there; ``inside`` stands before its name."""
    named = {one.where for one in review.differences}
    missing = [inside + name for name in FILES if not (folder / name).is_file()]
    review.step(
        "files", (Difference("file", one, "(absent)", "a file") for one in missing if one not in named)
    )


def case_in(folder: Path) -> Chain:
    """The chain and the rule books that lie beside a report."""
    exported = parsed_object((folder / CASE).read_bytes(), CASE)
    books = exported.get("books")
    kept = books.items() if isinstance(books, dict) else ()
    return casefile.import_events(exported), {name: text for name, text in kept if isinstance(text, str)}


def finding_in(folder: Path) -> dict[str, Any]:
    """The stored finding; a DocumentError where a still of it, which pages are made from, is not whole."""
    stored = parsed_object((folder / FINDING).read_bytes(), FINDING)
    stills = stored.get("stills")
    for number, still in enumerate(stills if isinstance(stills, list) else [None]):
        if not _is_whole(still):
            said = message("This still is not whole, so no page can be made of it.")
            place = f"{FINDING}: stills[{number}]"
            raise DocumentError(
                Problem("not-as-described", place, said, message("Ask for a copy that is whole."))
            )
    return stored


def check_report(
    folder: Path, stored: dict[str, Any] | None, chain: Chain | None, review: Review, wanted: Wanted
) -> None:
    """Derive what is there of a report again, from a chain where there is one."""
    if chain is None:
        _check_alone(folder, stored, review)
        return
    evidence = check_evidence(*chain, review, wanted.recordings)
    if evidence is None:
        return
    state, found = evidence
    told = stored or {}
    texts = _texts_in([told.get("inquiry"), told.get("settlement")])
    case = casefile.case_in_memory(*chain, folder / CASE, texts)
    if stored is not None:
        check_pages(Audit(case), stored, folder, review)
        _check_pictures(state, stored, review, found if wanted.pictures else {})
    else:
        own = any(one.what == "recording" for one in review.differences)
        check_without_finding(Audit(case, {} if own else found), folder, review)
        review.skip("pictures", f"{FINDING}, which names them, is not there or not whole")


def _texts_in(found: Any) -> Iterator[str]:
    """Every text in a part of a finding; of these a chain believes those of a fingerprint that it holds."""
    if isinstance(found, str):
        yield found
    elif isinstance(found, (dict, list)):
        for one in found.values() if isinstance(found, dict) else found:
            yield from _texts_in(one)


def _is_whole(still: Any) -> bool:
    if not isinstance(still, dict):
        return False
    size, number = still.get("size"), still.get("recording", 1)
    sized = isinstance(size, list) and len(size) == 2 and all(type(one) is int and one > 0 for one in size)
    plain = all(type(still.get(key)) is kind for key, kind in (_STILL | _SHOWN).items())
    timed = plain and _SECONDS.fullmatch(still["seconds"]) is not None
    return timed and sized and type(number) is int and still["frame"] >= 0


def _check_alone(folder: Path, stored: dict[str, Any] | None, review: Review) -> None:
    """Without a case nothing derives; page and paper are held against the finding that lies beside them."""
    for what in ("chain", "rule_book", "recording", "readings", "ledger", "pictures"):
        review.skip(what, f"{CASE}, from which it derives, is not there or not whole")
    if stored is None:
        review.skip("pages", f"{CASE} and {FINDING}, of which they are made, are not there or not whole")
        return
    try:
        check_drawn(folder, exchange.check_document(stored, schema("finding"), FINDING), None, review)
    except ReviewerError as fault:
        found = [Difference("ledger", one.where, str(one.message), str(one.remedy)) for one in fault.problems]
        review.step("ledger", found)
    except Exception:  # whatever a page cannot be made of: its schema does not describe all of a finding
        review.step("ledger", [Difference("ledger", FINDING, "no page can be made of it", "a whole finding")])


def _check_pictures(
    state: casefile.CaseState, stored: dict[str, Any], review: Review, found: Mapping[str, Path]
) -> None:
    if not found:
        review.skip("pictures", "recording not here, or --pictures not given")
        return
    differences: list[Difference] = []
    most = bytes_a_still(len(stored["stills"]))
    for number, cited in enumerate(state.recordings, start=1):
        stills = [still for still in stored["stills"] if still.get("recording", 1) == number]
        if cited.sha256 in found:
            covered = Covered(
                CASE, cited.sha256, cited.frames, state.heads.get(cited.sha256, casefile.Heads())
            )
            differences += _decoded_otherwise(stills, found[cited.sha256], most, covered)
        elif stills:
            review.skip("pictures", f"recording {number} not here")
    review.step("pictures", differences)


def _decoded_otherwise(
    stills: Sequence[dict[str, Any]], path: Path, most: int, covered: Covered
) -> Iterator[Difference]:
    """Each still that comes out otherwise; of a file that is no recording, that it is none."""
    try:
        with video.open_recording(path) as recording:
            for still in stills:
                yield from _picture_otherwise(still, recording, most, covered)
    except ReviewerError as fault:
        yield Difference("picture", path.name, "a recording", str(fault.problems[0].message))


def _picture_otherwise(
    still: dict[str, Any], recording: video.Recording, most: int, covered: Covered
) -> Iterator[Difference]:
    where = reports.place_of(still)
    try:
        digest = recording.picture_hash(still["frame"])
        picture = recording.evidence(still["frame"])
        if COVERED in still.get("treatment", ()):
            picture = hidden(picture, covered.on(picture.frame))
        shown = sha256(video.jpeg(picture, most)).hexdigest()
    except ReviewerError as fault:
        yield Difference("picture", where, still["picture_sha256"], str(fault.problems[0].message))
        return
    if digest != still["picture_sha256"]:
        yield Difference("picture", where, still["picture_sha256"], digest)
    if shown != still["jpeg_sha256"]:
        yield Difference("picture", f"{where}, as shown", still["jpeg_sha256"], shown)
