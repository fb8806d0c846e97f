"""Deriving a report or a case again, and naming every difference."""

import json
from collections.abc import Iterable
from dataclasses import dataclass, field
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import __version__, casefile, measuring, reports, rules, video
from reviewer.actions.audit import Audit
from reviewer.actions.finding import finding
from reviewer.actions.reporting import CASE, FINDING, PAGE
from reviewer.reports import Difference
from reviewer.terms.canonical import readable
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook

TOLERANCE = 2
"""Thousandths of a degree by which a reading may differ: libraries differ in the last digits."""


@dataclass
class _Review:
    """What was checked so far, and what was found."""

    checked: list[str] = field(default_factory=list)
    differences: list[Difference] = field(default_factory=list)
    not_checked: list[dict[str, str]] = field(default_factory=list)

    def step(self, what: str, found: Iterable[Difference]) -> bool:
        """Note a check and its differences; whether there were none."""
        differences = list(found)
        self.checked.append(what)
        self.differences.extend(differences)
        return not differences

    def skip(self, what: str, why: str) -> None:
        self.not_checked.append({"what": what, "why": why})

    def document(self) -> dict[str, Any]:
        return {
            "format": "reviewer.verify/1",
            "same": not self.differences,
            "checked": self.checked,
            "differences": [one.to_json() for one in self.differences],
            "not_checked": self.not_checked,
        }


def verify(path: Path, *, recording: Path | None = None, pictures: bool = False) -> dict[str, Any]:
    """Derive a report folder or a case again: ``reviewer.verify/1``."""
    review = _Review()
    if path.is_dir():
        _verify_folder(path, review, recording, pictures)
    else:
        _verify_case(path, review, recording)
    return review.document()


def _verify_case(path: Path, review: _Review, recording: Path | None) -> None:
    """A case stands alone: its chain, its rule book and its readings; it stores no score."""
    events, books = casefile.read_events(path), casefile.read_books(path)
    if _chain_and_book(events, books, review):
        state = casefile.fold(events)
        _check_recording(state, review, recording)
        _check_readings(state, review)
        review.skip("ledger", "a case stores no score; it is derived each time")
        review.skip("pages", "a case stores no page; verify the folder of its report")


def _verify_folder(folder: Path, review: _Review, recording: Path | None, pictures: bool) -> None:
    missing = [name for name in (PAGE, FINDING, CASE) if not (folder / name).is_file()]
    if not review.step("files", [Difference("file", name, "(absent)", "a file") for name in missing]):
        return
    stored, exported = _json(folder / FINDING), _json(folder / CASE)
    events, books = casefile.import_events(exported), exported.get("books", {})
    if not _chain_and_book(events, books, review):
        return
    state = casefile.fold(events)
    _check_recording(state, review, recording)
    _check_readings(state, review)
    audit = Audit(casefile.case_in_memory(events, books, folder / CASE), None, None)
    page = (folder / PAGE).read_text(encoding="utf-8", errors="replace")
    _check_ledger_and_page(audit, stored, page, review)
    _check_pictures(audit, stored, review, recording if pictures else None)


def _chain_and_book(events: tuple[casefile.Event, ...], books: dict[str, str], review: _Review) -> bool:
    """Whether the rest can be derived at all."""
    chain = [
        Difference("event", problem.where.removeprefix("event "), problem.message, problem.remedy)
        for problem in casefile.check_chain(events)
    ]
    whole = review.step("chain", chain)
    return review.step("rule_book", _book_differences(events, books)) and whole


def _book_differences(events: tuple[casefile.Event, ...], books: dict[str, str]) -> Iterable[Difference]:
    """A rule book whose bytes are not those chosen, down to the clause that was changed."""
    for event in events:
        if event.kind != "rule-book-chosen":
            continue
        named, digest = event.payload["id"], event.payload["sha256"]
        text = books.get(digest)
        found = sha256(text.encode()).hexdigest() if text is not None else "(absent)"
        if text is not None and found != digest:
            yield from _changed_clauses(text, named, event.payload["clauses"])
        if found != digest:
            yield Difference("rule", named, found, digest)


def _changed_clauses(text: str, named: str, clauses: dict[str, str]) -> Iterable[Difference]:
    try:
        book = rules.parse(text, named)
    except ReviewerError as fault:
        return [Difference("rule", problem.where, problem.message, "as chosen") for problem in fault.problems]
    return _by_clause(book, clauses)


def _by_clause(book: RuleBook, clauses: dict[str, str]) -> list[Difference]:
    now = {name: sha256(data.encode()).hexdigest() for name, data in rules.clause_data(book).items()}
    values = {clause.id: f"{clause.title}: {clause.value}" for clause in book.clauses}
    return [
        Difference(
            "clause", name, values.get(name, "(absent)"), f"as chosen, sha256 {clauses.get(name, '(absent)')}"
        )
        for name in sorted(now.keys() | clauses.keys())
        if now.get(name) != clauses.get(name)
    ]


def _check_recording(state: casefile.CaseState, review: _Review, recording: Path | None) -> None:
    if state.recording is None:
        review.skip("recording", "the case cites no recording")
    elif recording is None:
        review.skip("recording", "recording not named; give --recording")
    else:
        found, cited = video.fingerprint(recording), state.recording.sha256
        differs = [] if found == cited else [Difference("recording", recording.name, cited, found)]
        review.step("recording", differs)


def _check_readings(state: casefile.CaseState, review: _Review) -> None:
    found = []
    for record in state.readings:
        kept = measuring.reading_from_record(record)
        again = measuring.measure(kept.clicks, kept.pts)
        pairs = ((kept.value, again.value), (kept.uncertainty, again.uncertainty))
        if any(abs(old.thousandths - new.thousandths) > TOLERANCE for old, new in pairs):
            old, new = (f"{one.value} ± {one.uncertainty}" for one in (kept, again))
            found.append(Difference("reading", kept.id, old, new))
    review.step("readings", found)


def _check_ledger_and_page(audit: Audit, stored: dict[str, Any], page: str, review: _Review) -> None:
    stills = stored.get("stills", [])
    derived = json.loads(readable(finding(audit, tuple(stills))))
    if stored.get("version") != __version__:
        review.skip("pages", f"written by version {stored.get('version')}, this is {__version__}")
        derived["version"] = stored.get("version")
    review.step("ledger", reports.compare_ledgers(stored, derived))
    if stored.get("version") == __version__:
        carried = reports.pictures_in(page)
        review.step("pages", reports.compare_pages(page, reports.page(derived, carried), derived))


def _check_pictures(audit: Audit, stored: dict[str, Any], review: _Review, recording: Path | None) -> None:
    if recording is None:
        review.skip("pictures", "recording not here, or --pictures not given")
        return
    review.step("pictures", _decoded_otherwise(stored, recording))


def _decoded_otherwise(stored: dict[str, Any], path: Path) -> Iterable[Difference]:
    with video.open_recording(path) as recording:
        for still in stored["stills"]:
            where = f"frame {still['frame']}"
            digest = recording.picture_hash(still["frame"])
            if digest != still["picture_sha256"]:
                yield Difference("picture", where, still["picture_sha256"], digest)
            shown = sha256(video.jpeg(recording.picture(still["frame"]))).hexdigest()
            if shown != still["jpeg_sha256"]:
                yield Difference("picture", f"{where}, as shown", still["jpeg_sha256"], shown)


def _json(path: Path) -> dict[str, Any]:
    try:
        found = json.loads(path.read_bytes())
    except ValueError:
        found = None
    if not isinstance(found, dict):
        problem = Problem(
            "not-json", path.name, "This is not a JSON document.", "Ask for a copy that is whole."
        )
        raise DocumentError(problem)
    return found
