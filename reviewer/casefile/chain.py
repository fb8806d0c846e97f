"""The chain of events: each names its parents by hash, and is hashed as the bytes stored."""

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import UTC, datetime
from hashlib import sha256
from typing import Any, NoReturn

from reviewer.casefile.errors import refusal
from reviewer.casefile.kinds import payload_fault
from reviewer.terms.canonical import canonical
from reviewer.terms.messages import message
from reviewer.terms.parsing import parsed

FORMAT = "reviewer.event/1"
EXPORT_FORMAT = "reviewer.case/1"
_KEYS = {"format", "kind", "author", "at", "parents", "payload"}
_AT = "%Y-%m-%dT%H:%M:%S.%fZ"
_MOMENT = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}T[0-9]{2}:[0-9]{2}:[0-9]{2}\.[0-9]{6}Z")


@dataclass(frozen=True, slots=True)
class Event:
    """One event as stored.

    Attributes:
        number: place in the file, from 1.
        hash: SHA-256 of ``body``, as stored beside it.
        body: the canonical JSON bytes.
        kind, author, at, parents, payload: what the body says; empty where it is no sound event.
    """

    number: int
    hash: str
    body: bytes
    kind: str = ""
    author: str = ""
    at: str = ""
    parents: tuple[str, ...] = ()
    payload: Mapping[str, Any] = field(default_factory=dict)


def make_body(
    kind: str, author: str, at: datetime, parents: Sequence[str], payload: Mapping[str, Any]
) -> bytes:
    """The bytes of a new event; a ValueError where the kind or its payload is not of the closed list."""
    fault = payload_fault(kind, payload)
    if fault is not None:
        raise ValueError(fault)
    said = {"format": FORMAT, "kind": kind, "author": author, "at": at.astimezone(UTC).strftime(_AT)}
    return canonical(said | {"parents": list(parents), "payload": dict(payload)})


def read_event(number: int, digest: str, body: bytes) -> Event:
    """An event from its stored row; one that is not sound comes back empty, for `check_chain` to name."""
    try:
        said = parsed(body.decode(), _DECODER.decode)
        if _is_sound(said):
            said_so = (said["kind"], said["author"], said["at"], tuple(said["parents"]), said["payload"])
            return Event(number, digest, body, *said_so)
    except ValueError:
        pass
    return Event(number, digest, body)


def is_canonical(body: bytes) -> bool:
    """Whether the bytes of a sound event are the one form in which this program writes it.

    Of ASCII text the quick encoder says the same: where keys are ASCII, all ways to sort them agree.
    """
    text = body.decode()
    said = _DECODER.decode(text)
    try:
        return _ENCODER.encode(said) == text if text.isascii() else canonical(said) == body
    except ValueError:  # half of a surrogate pair has no canonical form
        return False


def _no_float(text: str) -> NoReturn:
    raise ValueError(f"{text} has no canonical form")


_DECODER = json.JSONDecoder(parse_float=_no_float, parse_constant=_no_float)
_ENCODER = json.JSONEncoder(ensure_ascii=False, sort_keys=True, separators=(",", ":"))


def _is_sound(said: Any) -> bool:
    if not isinstance(said, dict) or said.keys() != _KEYS or said["format"] != FORMAT:
        return False
    kind, author, at, parents = said["kind"], said["author"], said["at"], said["parents"]
    texts = isinstance(kind, str) and isinstance(author, str) and isinstance(at, str)
    if not texts or not isinstance(parents, list) or not _MOMENT.fullmatch(at):
        return False
    datetime.fromisoformat(at)  # a ValueError for no day or no time of day
    return all(isinstance(one, str) for one in parents) and payload_fault(kind, said["payload"]) is None


def export_events(events: Sequence[Event]) -> list[dict[str, Any]]:
    """Events as they travel in case.json: the stored bytes as text."""
    return [
        {"number": one.number, "hash": one.hash, "body": one.body.decode("utf-8", "replace")}
        for one in events
    ]


def import_events(document: Mapping[str, Any]) -> tuple[Event, ...]:
    """The events of a ``reviewer.case/1`` document; nothing is believed yet."""
    entries = document.get("events") if isinstance(document, Mapping) else None
    if not isinstance(entries, list) or document.get("format") != EXPORT_FORMAT:
        raise refusal(
            "not-a-case",
            "case.json",
            message("This is not an exported case."),
            message("Ask for a copy that is whole."),
        )
    return tuple(_imported(entry if isinstance(entry, dict) else {}) for entry in entries)


def _imported(entry: Mapping[str, Any]) -> Event:
    number, body = entry.get("number"), str(entry.get("body"))
    whole = number if isinstance(number, int) else 0
    return read_event(whole, str(entry.get("hash")), body.encode("utf-8", "surrogatepass"))


def hash_of(body: bytes) -> str:
    """The hash an event is named by: SHA-256 (FIPS 180-4) of the bytes as stored, in small hex digits."""
    return sha256(body).hexdigest()
