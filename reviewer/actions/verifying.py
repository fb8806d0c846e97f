"""Deriving a report or a case again, and naming every difference."""

import json
from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import casefile, measuring, reports, rules, video
from reviewer.actions.alike import differences_of
from reviewer.actions.audit import Audit
from reviewer.actions.finding import bytes_a_still
from reviewer.actions.inquirydocument import texts_in
from reviewer.actions.reporting import CASE, FINDING, PAGE, PAPER
from reviewer.actions.reviewing import Review
from reviewer.actions.settling import reasons_in
from reviewer.actions.verifying_lengths import check_lengths, check_pools
from reviewer.actions.verifying_pages import check_pages
from reviewer.actions.verifying_tracks import check_tracks
from reviewer.reports import Difference
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.terms.readings import Reading
from reviewer.terms.rulebook import RuleBook

TOLERANCE = 2
"""Thousandths of a degree by which a reading may differ: libraries differ in the last digits."""
_STILL = {"id": str, "frame": int, "pts": int, "size": list, "picture_sha256": str, "jpeg_sha256": str}
_SHOWN = {"seconds": str, "suspect": bool, "caption": str, "overlay": str}


def verify_case(path: Path, review: Review, recordings: Sequence[Path]) -> None:
    """Derive a case again."""
    check_case(casefile.read_events(path), casefile.read_books(path), review, recordings)


def verify_folder(folder: Path, review: Review, recordings: Sequence[Path], pictures: bool) -> None:
    """Derive the report in a folder again from the case that lies in it."""
    missing = [name for name in (PAGE, PAPER, FINDING, CASE) if not (folder / name).is_file()]
    if review.step("files", [Difference("file", name, "(absent)", "a file") for name in missing]):
        events, books = case_in(folder)
        check_report(folder, events, books, review, recordings, pictures)


def case_in(folder: Path) -> tuple[tuple[casefile.Event, ...], dict[str, str]]:
    """The chain and the rule books that lie beside a report; nothing is believed yet."""
    exported = _json(folder / CASE)
    books = exported.get("books")
    return casefile.import_events(exported), books if isinstance(books, dict) else {}


def check_case(
    events: tuple[casefile.Event, ...], books: dict[str, str], review: Review, recordings: Sequence[Path]
) -> None:
    """A case stands alone: its chain, its rule book and its readings; it stores no score."""
    if _chain_and_book(events, books, review):
        state = casefile.fold(events)
        found = _check_recordings(state, review, recordings)
        _check_offsets(state, review)
        _check_readings(state, review)
        check_tracks(state, review, found)
        check_lengths(state, review)
        check_pools(state, review)
        review.skip("ledger", "a case stores no score; it is derived each time")
        review.skip("pages", "a case stores no page; verify the folder of its report")


def check_report(
    folder: Path,
    events: tuple[casefile.Event, ...],
    books: dict[str, str],
    review: Review,
    recordings: Sequence[Path],
    pictures: bool,
) -> None:
    """Derive the report in a folder again from a chain."""
    stored = _finding(folder)
    if not _chain_and_book(events, books, review):
        for what in ("readings", "ledger", "pages"):
            review.skip(what, "the chain or the rule book is damaged")
        return
    state = casefile.fold(events)
    found = _check_recordings(state, review, recordings)
    _check_offsets(state, review)
    whole = [_check_readings(state, review), check_tracks(state, review, found)]
    check_lengths(state, review)
    check_pools(state, review)
    if not all(whole):
        for what in ("ledger", "pages"):
            review.skip(what, "a kept reading or track is damaged")
        return
    texts = (*texts_in(stored.get("inquiry")), *reasons_in(stored.get("settlement")))
    audit = Audit(casefile.case_in_memory(events, books, folder / CASE, texts))
    check_pages(audit, stored, folder, review)
    _check_pictures(state, stored, review, found if pictures else {})


def chain_differences(events: tuple[casefile.Event, ...], of: str = "") -> list[Difference]:
    """Each event that is not as it was written; ``of`` names the chain, where it is not the case's own."""
    return [
        Difference("event", of + problem.where.split(" ", 1)[1], problem.message, _WHOLE[problem.code])
        for problem in casefile.check_chain(events)
    ]


_WHOLE = {
    "empty-chain": "at least the opening of the case",
    "event-changed": "the event as it was written",
    "event-unreadable": "an event in its canonical form",
    "event-parent": "an event built on the one before it",
    "event-removed": "there",
    "event-moved": "in its place",
    "event-doubled": "there once",
    "event-after-seal": "nothing after the seal",
}
"""What a sound chain has instead, by the code of its problem."""


def _chain_and_book(events: tuple[casefile.Event, ...], books: dict[str, str], review: Review) -> bool:
    """Whether the rest can be derived at all."""
    whole = review.step("chain", chain_differences(events))
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


def _check_recordings(state: casefile.CaseState, review: Review, given: Sequence[Path]) -> dict[str, Path]:
    """Hold the files given against those cited; where each recording lies that may be looked into.

    A single file for a single recording may be looked into although it differs, to name its frames.
    """
    cited = [one.sha256 for one in state.recordings]
    if not cited:
        review.skip("recording", "the case cites no recording")
        return {}
    if not given:
        review.skip("recording", "recording not named; give --recording")
        return {}
    prints = {path: video.fingerprint(path) for path in given}
    found = {digest: path for path, digest in prints.items() if digest in cited}
    missing = [digest for digest in cited if digest not in found]
    stray = [path for path, digest in prints.items() if digest not in cited]
    wanted = ", ".join(missing or cited)
    review.step("recording", [Difference("recording", path.name, wanted, prints[path]) for path in stray])
    if len(cited) == 1:
        return found or {cited[0]: given[0]}
    for digest in missing:
        review.skip("recording", f"recording {cited.index(digest) + 1} not here")
    return found


def _check_offsets(state: casefile.CaseState, review: Review) -> None:
    """Offsets are kept with the instant they come from, and derive from its frames again."""
    known = {one.sha256: one for one in state.recordings}
    found = []
    for join in state.joins:
        if join.a not in known or join.b not in known:
            continue
        again = casefile.offset_of(known[join.a], join.a_pts, known[join.b], join.b_pts)
        old, new = (join.offset_us, join.u_us), (again.microseconds, again.uncertainty)
        if old != new:
            numbers = [state.recordings.index(known[name]) + 1 for name in (join.a, join.b)]
            where = "recordings {} and {}".format(*numbers)
            found.append(
                Difference(
                    "offset", where, *("{}, standard uncertainty {} µs".format(*one) for one in (old, new))
                )
            )
    if state.joins:
        review.step("offsets", found)


def _check_readings(state: casefile.CaseState, review: Review) -> bool:
    """Measure each kept reading again; whether all of them could be read."""
    found, whole = [], True
    for record in state.readings:
        try:
            kept = measuring.reading_from_record(record)
        except ReviewerError as fault:
            whole = False
            found.append(Difference("reading", record["id"], str(fault), "a whole reading"))
        else:
            found += [*_measured_otherwise(kept, record.get("version")), *_at_another_moment(record, state)]
    found += _cited_otherwise(state)
    review.step("readings", found)
    return whole


def _at_another_moment(record: Mapping[str, Any], state: casefile.CaseState) -> Iterable[Difference]:
    """A reading's tick is that of the frame that was clicked on."""
    named = record.get("recording")
    cited = next((one for one in state.recordings if one.sha256 == named), state.recording)
    frame, pts = record["clicks"]["frame"], record["pts"]
    if cited is None or pts is None:
        return
    own = cited.pts[frame] if frame < cited.frames else None
    if own != pts:
        yield Difference("reading", f"{record['id']} pts", str(pts), "(absent)" if own is None else str(own))


def _cited_otherwise(state: casefile.CaseState) -> Iterable[Difference]:
    """Every mark whose angle is not that of the reading it cites, or cites what is not there."""
    readings = {one["id"]: one["reading"] for one in state.readings}
    others = {one["id"] for one in (*state.tracks, *state.pools)}
    for mark in state.marks:
        name = mark.angle.reading if mark.angle else None
        if mark.angle is None or name is None or name in others:
            continue
        if name not in readings:
            yield Difference("mark", mark.id, f"cites {name}", "(absent)")
            continue
        kept = readings[name]
        said, wanted = (
            f"{mark.angle.value}, standard uncertainty {mark.angle.uncertainty}",
            f"{kept['value_deg']}, standard uncertainty {kept['u_deg']}",
        )
        if said != wanted:
            yield Difference("mark", f"{mark.id} angle", said, wanted)


def _measured_otherwise(kept: Reading, version: Any) -> Iterable[Difference]:
    old = f"{kept.value}, standard uncertainty {kept.uncertainty}"
    try:
        again = measuring.measure(kept.clicks, kept.pts)
    except ReviewerError as fault:
        yield Difference("reading", kept.id, old, f"refused: {fault}")
        return
    pairs = ((kept.value, again.value), (kept.uncertainty, again.uncertainty))
    if any(abs(one.thousandths - other.thousandths) > TOLERANCE for one, other in pairs):
        yield Difference("reading", kept.id, old, f"{again.value}, standard uncertainty {again.uncertainty}")
        return
    documents = (measuring.reading_json(one, None) for one in (kept, again))
    yield from differences_of("reading", kept.id, *documents, version=version)


def _check_pictures(
    state: casefile.CaseState, stored: dict[str, Any], review: Review, found: dict[str, Path]
) -> None:
    if not found:
        review.skip("pictures", "recording not here, or --pictures not given")
        return
    differences: list[Difference] = []
    most = bytes_a_still(len(stored["stills"]))
    for number, cited in enumerate(state.recordings, start=1):
        stills = [still for still in stored["stills"] if still.get("recording", 1) == number]
        if cited.sha256 in found:
            differences += _decoded_otherwise(stills, found[cited.sha256], most)
        elif stills:
            review.skip("pictures", f"recording {number} not here")
    review.step("pictures", differences)


def _decoded_otherwise(stills: Sequence[dict[str, Any]], path: Path, most: int) -> Iterable[Difference]:
    with video.open_recording(path) as recording:
        for still in stills:
            where = reports.place_of(still)
            digest = recording.picture_hash(still["frame"])
            if digest != still["picture_sha256"]:
                yield Difference("picture", where, still["picture_sha256"], digest)
            shown = sha256(video.jpeg(recording.evidence(still["frame"]), most)).hexdigest()
            if shown != still["jpeg_sha256"]:
                yield Difference("picture", f"{where}, as shown", still["jpeg_sha256"], shown)


def _finding(folder: Path) -> dict[str, Any]:
    """The stored finding; a DocumentError where a still of it, which pages are made from, is not whole."""
    stored = _json(folder / FINDING)
    stills = stored.get("stills")
    for number, still in enumerate(stills if isinstance(stills, list) else [None]):
        whole = isinstance(still, dict) and all(
            isinstance(still.get(key), kind) for key, kind in (_STILL | _SHOWN).items()
        )
        if not whole:
            raise DocumentError(
                Problem(
                    "not-as-described",
                    f"{FINDING}: stills[{number}]",
                    "This still is not whole, so no page can be made of it.",
                    "Ask for a copy that is whole.",
                )
            )
    return stored


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
