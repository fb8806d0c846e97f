"""What a chain of events comes to. Undone events are as if they had never happened."""

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, field, fields, replace
from itertools import chain, repeat
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.casefile.conflicts import Conflict, without_contested
from reviewer.casefile.growing import Growing
from reviewer.casefile.heads import COVERING, Heads
from reviewer.casefile.kinds import EDITION, UNDOABLE
from reviewer.casefile.lineage import MERGED, OPENED, past_of
from reviewer.casefile.naming import as_shown
from reviewer.casefile.recordings import (
    Joined,
    RecordingCited,
    attempt_that_counts,
    cited_also,
    joined_also,
)
from reviewer.casefile.sameness import as_one
from reviewer.casefile.timelines import Place, lay_out, routine_order
from reviewer.terms.consents import Consent
from reviewer.terms.inquiries import Answer, Inquiry
from reviewer.terms.marks import Mark
from reviewer.terms.posted import PostedSheet

_JOIN = tuple(one.name for one in fields(Joined))
_KEPT = {"reading": "readings", "track": "tracks", "length": "lengths", "pool": "pools"}


@dataclass(frozen=True, slots=True)
class RuleBookChosen:
    """The edition a case is scored by: id, SHA-256 of its text, and of each clause."""

    id: str
    sha256: str
    clauses: Mapping[str, str]


@dataclass(frozen=True, slots=True)
class CaseState:
    """The case as it stands.

    Attributes:
        athlete_code, consent: as last said.
        recordings: those cited, in the order they were.
        joins: the common instants that judges set, newest last.
        counted: the attempt that a judge said counts, or None.
        rule_book: what was chosen last, or None.
        marks: in routine order.
        readings: as recorded, oldest first.
        tracks, lengths, pools: likewise.
        posted: the panel's score as text, or None.
        permission: what the consent last said covers.
        posted_sheet: what the panel posted, as last entered, or None.
        limited_to: the parts of the score that are audited; empty where all of it is.
        interpretations: clause id to the reading chosen, where a rule leaves it open.
        panel: each judge's score as text, by when it was given: ``before`` a conference or ``after``.
        notes: SHA-256 of each note's text and the tick it is about, or None; oldest first.
        inquiries: as they were filed and not withdrawn, oldest first.
        answers: the latest to each, by the inquiry's id.
        answered_by: hash of the event of that answer, likewise.
        second_of: hash of the first event of the case that this one judges again, blind; None where it is no
            second one.
        sealed: number of the event that sealed the sheet, or None.
        settlement: the two sheets that this case settles, or None.
        settled: whose view was taken, by line; None of one that was reopened.
        conflicts: where merged cases say different things that nobody has settled since.
        heads: those that are covered, by the SHA-256 of the recording.
        events_of: hash of the event that last said a mark, took a reading or a track, by its id.
    """

    athlete_code: str = ""
    consent: str = ""
    recordings: tuple[RecordingCited, ...] = ()
    joins: tuple[Joined, ...] = ()
    counted: int | None = None
    rule_book: RuleBookChosen | None = None
    marks: tuple[Mark, ...] = ()
    readings: tuple[Mapping[str, Any], ...] = ()
    tracks: tuple[Mapping[str, Any], ...] = ()
    lengths: tuple[Mapping[str, Any], ...] = ()
    pools: tuple[Mapping[str, Any], ...] = ()
    posted: str | None = None
    interpretations: Mapping[str, str] = field(default_factory=dict)
    panel: Mapping[str, Mapping[str, str]] = field(default_factory=dict)
    notes: tuple[tuple[str, int | None], ...] = ()
    events_of: Mapping[str, str] = field(default_factory=dict)
    permission: Consent = field(default_factory=lambda: Consent(""))
    posted_sheet: PostedSheet | None = None
    limited_to: tuple[str, ...] = ()
    inquiries: tuple[Inquiry, ...] = ()
    answers: Mapping[str, Answer] = field(default_factory=dict)
    answered_by: Mapping[str, str] = field(default_factory=dict)
    second_of: str | None = None
    sealed: int | None = None
    settlement: Mapping[str, Any] | None = None
    settled: Mapping[str, str | None] = field(default_factory=dict)
    conflicts: tuple[Conflict, ...] = ()
    heads: Mapping[str, Heads] = field(default_factory=dict)

    @property
    def recording(self) -> RecordingCited | None:
        """The first recording, which marks and readings are about that name none."""
        return self.recordings[0] if self.recordings else None

    @property
    def attempt(self) -> int:
        """The attempt that counts."""
        return attempt_that_counts(self.recordings, self.counted)

    @property
    def places(self) -> Mapping[str, Place]:
        """Where the times of each recording belong, by its SHA-256."""
        return lay_out(self.recordings, self.joins)


def fold(events: Iterable[Event]) -> CaseState:
    """The state after all events."""
    kept = tuple(events)
    gone = undone_by(kept)
    shown = as_shown(kept) if any(event.kind == MERGED for event in kept) else ()
    kept, conflicts = without_contested(shown, gone) if shown else (kept, ())
    return _after(
        CaseState(),
        (event for event in kept if event.hash not in gone),
        lambda growing: as_one(growing, shown, gone, conflicts),
    )


def state_at(events: Iterable[Event], digest: str) -> CaseState:
    """The state as it was right after an event, of what whoever wrote it knew."""
    kept = tuple(events)
    past = past_of(kept, digest)
    return fold(event for event in kept if event.hash in past)


def follow(state: CaseState, events: tuple[Event, ...]) -> CaseState:
    """The state after all events from the state before the last one: the same as `fold`, and quicker."""
    if events[-1].kind in ("undone", "redone", MERGED) or state.conflicts:
        return fold(events)
    return _after(state, events[-1:])


def undoable(events: Iterable[Event]) -> Iterator[Event]:
    """The events that undo may take back; of the editions chosen, all but the one a case begins with."""
    begun = False
    for event in events:
        begun = begun and event.kind != OPENED
        if event.kind in UNDOABLE or (begun and event.kind == EDITION):
            yield event
        begun = begun or event.kind == EDITION


def undone_by(events: Iterable[Event]) -> set[str]:
    """Hashes of the events that are undone and not redone; only their own author can undo them."""
    gone: set[str] = set()
    kept = tuple(events)
    owner = {event.hash: event.author for event in undoable(kept)}
    for event in kept:
        if event.kind in ("undone", "redone") and owner.get(event.payload["event"]) == event.author:
            (gone.add if event.kind == "undone" else gone.discard)(event.payload["event"])
    return gone


def next_undo(events: Iterable[Event], author: str) -> str | None:
    """Hash of this author's latest event that can be undone, or None."""
    kept = tuple(events)
    gone = undone_by(kept)
    own = [one.hash for one in undoable(kept) if one.author == author and one.hash not in gone]
    return own[-1] if own else None


def next_redo(events: Iterable[Event], author: str) -> str | None:
    """Hash of what this author undid last and may redo, or None; a new change of theirs clears it."""
    waiting: list[str] = []
    kept = tuple(events)
    changes = {event.hash for event in undoable(kept)}
    for event in kept:
        if event.author != author:
            continue
        if event.kind == "undone":
            waiting.append(event.payload["event"])
        elif event.kind == "redone":
            waiting = [one for one in waiting if one != event.payload["event"]]
        elif event.hash in changes:
            waiting.clear()
    return waiting[-1] if waiting else None


def _after(
    state: CaseState,
    events: Iterable[Event],
    settle: Callable[[Growing], tuple[Conflict, ...]] = lambda _: (),
) -> CaseState:
    """The state after more events; ``settle`` makes one of what both of two merged cases marked."""
    taken = {what: list(getattr(state, kept)) for what, kept in _KEPT.items()}
    growing = Growing({mark.id: mark for mark in state.marks}, taken, dict(state.events_of))
    for event in events:
        if not growing.takes(event):
            state = _decided(state, event)
    conflicts = settle(growing)
    evidence: dict[str, Any] = {_KEPT[what]: tuple(records) for what, records in taken.items()}
    return _in_order(
        replace(state, marks=growing.marks, events_of=growing.events_of, conflicts=conflicts, **evidence)
    )


def _decided(state: CaseState, event: Event) -> CaseState:
    """The state after an event that is neither about a mark nor about evidence."""
    said = event.payload
    match event.kind:
        case "case-opened":
            word = said["consent"]
            return replace(state, athlete_code=said["athlete_code"], consent=word, permission=Consent(word))
        case "consent-changed":
            return replace(state, consent=said["consent"], permission=Consent.from_json(said))
        case "recording-cited":
            return replace(state, recordings=cited_also(state.recordings, _recording(said)))
        case "recordings-joined":
            return replace(state, joins=joined_also(state.joins, Joined(**{key: said[key] for key in _JOIN})))
        case "attempt-assigned":
            return replace(state, recordings=tuple(_assigned(state.recordings, said)))
        case "attempt-counted":
            return replace(state, counted=said["attempt"])
        case "rule-book-chosen":
            return replace(state, rule_book=RuleBookChosen(said["id"], said["sha256"], said["clauses"]))
        case "posted-entered":
            return replace(state, posted=said["score"])
        case "posted-sheet-entered":
            sheet = PostedSheet.from_json(said["sheet"])
            posted = state.posted if sheet.final is None else str(sheet.final)
            return replace(state, posted_sheet=sheet, posted=posted)
        case "audit-limited":
            return replace(state, limited_to=tuple(said["parts"]))
        case "interpretation-chosen":
            chosen = {**state.interpretations, said["clause"]: said["reading"]}
            return replace(state, interpretations=chosen)
        case "panel-entered":
            return replace(state, panel={**state.panel, said["when"]: said["scores"]})
        case "second-begun":
            return replace(state, second_of=said["of"])
        case "sealed":
            return replace(state, sealed=state.sealed or event.number)
        case "settlement-begun":
            return replace(state, settlement=said)
        case "line-settled":
            return replace(state, settled={**state.settled, said["line"]: said["taken"]})
        case "line-reopened":
            return replace(state, settled={**state.settled, said["line"]: None})
        case "inquiry-filed":
            return replace(state, inquiries=(*state.inquiries, Inquiry.from_json(said["inquiry"])))
        case "inquiry-answered":
            answer = Answer.from_json(said["answer"])
            by = {**state.answered_by, answer.inquiry: event.hash}
            return replace(state, answers={**state.answers, answer.inquiry: answer}, answered_by=by)
        case "inquiry-withdrawn":
            left = tuple(one for one in state.inquiries if one.id != said["id"])
            return replace(state, inquiries=left)
        case "note-written":
            return replace(state, notes=(*state.notes, (said["sha256"], said["at"])))
        case kind if kind in COVERING:
            before = state.heads.get(said["recording"], Heads())
            return replace(state, heads={**state.heads, said["recording"]: before.after(event)})
    return state


def _in_order(state: CaseState) -> CaseState:
    first = state.recording.sha256 if state.recording else None
    return replace(state, marks=routine_order(state.marks, state.places, first))


def _recording(said: Mapping[str, Any]) -> RecordingCited:
    ticks = tuple(_ticks(said["pts_runs"]))
    return RecordingCited(said["sha256"], said["frames"], said["time_base"], ticks, said.get("attempt", 1))


def _assigned(recordings: Iterable[RecordingCited], said: Mapping[str, Any]) -> Iterable[RecordingCited]:
    for one in recordings:
        yield replace(one, attempt=said["attempt"]) if one.sha256 == said["sha256"] else one


def _ticks(runs: Iterable[tuple[int, int, int]]) -> Iterable[int]:
    return chain.from_iterable(
        range(start, start + step * count, step) if step else repeat(start, count)
        for start, step, count in runs
    )
