"""The chain of events: each names its parents by hash, and is hashed as the bytes stored."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any

from reviewer.casefile.errors import refusal
from reviewer.terms.canonical import canonical
from reviewer.terms.problems import Problem

FORMAT = "reviewer.event/1"
KINDS: Mapping[str, tuple[str, ...]] = {
    "case-opened": ("athlete_code", "consent"),
    "consent-changed": ("consent",),
    "recording-cited": ("sha256", "frames", "time_base", "first_pts", "last_pts", "pts_runs"),
    "rule-book-chosen": ("id", "sha256", "clauses"),
    "mark-placed": ("mark",),
    "mark-changed": ("mark",),
    "mark-withdrawn": ("id",),
    "reading-taken": ("reading",),
    "posted-entered": ("score",),
    "undone": ("event",),
    "redone": ("event",),
    "report-written": ("files",),
}
"""Every kind of event and the keys its payload must have."""

UNDOABLE = ("mark-placed", "mark-changed", "mark-withdrawn", "reading-taken", "posted-entered")


@dataclass(frozen=True, slots=True)
class Event:
    """One event as stored.

    Attributes:
        number: place in the file, from 1.
        hash: SHA-256 of ``body``, as stored beside it.
        body: the canonical JSON bytes.
        kind, author, at, parents, payload: what the body says; empty where it cannot be read.
    """

    number: int
    hash: str
    body: bytes
    kind: str
    author: str
    at: str
    parents: tuple[str, ...]
    payload: Mapping[str, Any]


def make_body(
    kind: str, author: str, at: datetime, parents: Sequence[str], payload: Mapping[str, Any]
) -> bytes:
    """The bytes of a new event; a ValueError where the kind is unknown or its payload lacks a key."""
    missing = [key for key in KINDS[kind] if key not in payload]
    if missing:
        raise ValueError(f"{kind} lacks {', '.join(missing)}")
    stamp = at.astimezone(UTC).strftime("%Y-%m-%dT%H:%M:%S.%fZ")
    said = {"format": FORMAT, "kind": kind, "author": author, "at": stamp}
    return canonical(said | {"parents": list(parents), "payload": dict(payload)})


def read_event(number: int, digest: str, body: bytes) -> Event:
    """An event from its stored row; a row that cannot be read comes back empty, for `check_chain` to name."""
    try:
        said = json.loads(body)
        fields = (said["kind"], said["author"], said["at"], tuple(said["parents"]), said["payload"])
        if isinstance(fields[4], dict) and all(isinstance(one, str) for one in (*fields[:3], *fields[3])):
            return Event(number, digest, body, *fields)
    except (ValueError, KeyError, TypeError):
        pass
    return Event(number, digest, body, "", "", "", (), {})


def check_chain(events: Sequence[Event]) -> tuple[Problem, ...]:
    """What is wrong with a chain, each problem's ``where`` being the event: changed, removed or re-ordered."""
    if not events:
        remedy = "Take a copy of the case that is whole."
        return (Problem("empty-chain", "event 1", "The chain has no event.", remedy),)
    return tuple(problem for index in range(len(events)) for problem in _check(events, index))


def _check(events: Sequence[Event], index: int) -> Iterator[Problem]:
    event, where = events[index], f"event {events[index].number}"
    remedy = "Ask whoever sent it for a copy that is whole."
    if sha256(event.body).hexdigest() != event.hash:
        yield Problem("event-changed", where, "Its bytes are not those its hash was made of.", remedy)
    if not _is_sound(event):
        yield Problem("event-unreadable", where, "It is not an event in its canonical form.", remedy)
    elif event.number != index + 1:
        yield Problem(
            "event-moved", where, f"It stands in place {index + 1}: one was removed or moved.", remedy
        )
    elif event.parents != ((events[index - 1].hash,) if index else ()):
        yield Problem("event-parent", where, "It does not follow the event before it in the file.", remedy)


def _is_sound(event: Event) -> bool:
    if event.kind not in KINDS or any(key not in event.payload for key in KINDS[event.kind]):
        return False
    try:
        return canonical(json.loads(event.body)) == event.body
    except ValueError:
        return False


def export_events(events: Sequence[Event]) -> list[dict[str, Any]]:
    """Events as they travel in case.json: the stored bytes as text."""
    return [
        {"number": one.number, "hash": one.hash, "body": one.body.decode("utf-8", "replace")}
        for one in events
    ]


def import_events(document: Mapping[str, Any]) -> tuple[Event, ...]:
    """The events of a ``reviewer.case/1`` document; nothing is believed yet."""
    entries = document.get("events")
    if document.get("format") != "reviewer.case/1" or not isinstance(entries, list):
        raise refusal(
            "not-a-case", "case.json", "This is not an exported case.", "Ask for a copy that is whole."
        )
    return tuple(
        read_event(_number(one.get("number")), str(one.get("hash")), str(one.get("body")).encode())
        for one in entries
        if isinstance(one, dict)
    )


def _number(said: Any) -> int:
    return said if isinstance(said, int) else 0
