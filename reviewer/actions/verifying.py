"""Deriving a case again: its chain, its rule book, its recordings, readings and tracks."""

from collections.abc import Iterable, Mapping, Sequence
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import casefile, measuring, rules, video
from reviewer.actions.alike import differences_of
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying_covers import check_covers
from reviewer.actions.verifying_lengths import check_lengths, check_pools
from reviewer.actions.verifying_tracks import check_tracks
from reviewer.reports import Difference
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Reading
from reviewer.terms.rulebook import RuleBook

TOLERANCE = 2
"""Thousandths of a degree by which a reading may differ: libraries differ in the last digits."""


def verify_case(path: Path, review: Review, recordings: Sequence[Path]) -> None:
    """Derive a case again."""
    check_case(casefile.read_events(path), casefile.read_books(path), review, recordings)


def check_case(
    events: tuple[casefile.Event, ...], books: dict[str, str], review: Review, recordings: Sequence[Path]
) -> None:
    """A case stands alone: its chain, its rule book and its evidence; it stores no score."""
    if check_evidence(events, books, review, recordings) is not None:
        review.skip("ledger", "a case stores no score; it is derived each time")
        review.skip("pages", "a case stores no page; verify the folder of its report")


def check_evidence(
    events: tuple[casefile.Event, ...], books: dict[str, str], review: Review, recordings: Sequence[Path]
) -> tuple[casefile.CaseState, dict[str, Path]] | None:
    """Derive a chain, its rule book, readings and tracks again; what it comes to, and where recordings lie.

    None where nothing can be derived from it, which is said.
    """
    if not _chain_and_book(events, books, review):
        for what in ("recording", "readings", "ledger", "pages"):
            review.skip(what, "the chain or the rule book is damaged")
        return None
    state = casefile.fold(events)
    found = _check_recordings(state, review, recordings)
    _check_offsets(state, review)
    whole = [_check_readings(state, review), check_tracks(state, review, found)]
    check_lengths(state, review)
    check_pools(state, review)
    check_covers(state, review, found)
    if all(whole):
        return state, found
    for what in ("ledger", "pages"):
        review.skip(what, "a kept reading or track is damaged")
    return None


def chain_differences(events: tuple[casefile.Event, ...], of: str = "") -> list[Difference]:
    """Each event that is not as it was written; ``of`` names the chain, where it is not the case's own."""
    return [
        Difference("event", of + problem.where.split(" ", 1)[1], str(problem.message), _WHOLE[problem.code])
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
        return [
            Difference("rule", problem.where, str(problem.message), "as chosen") for problem in fault.problems
        ]
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
