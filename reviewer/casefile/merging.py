"""Two cases become one: every event of both, byte for byte, and one more that joins them."""

from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from typing import Any

from reviewer.casefile.case import Case, Clock, now
from reviewer.casefile.chain import Event, hash_of, make_body, read_event
from reviewer.casefile.copying import write_copy
from reviewer.casefile.errors import refuse_name
from reviewer.casefile.lineage import MERGED, together

Sameness = Callable[[Sequence[Event]], Mapping[str, Any]]
"""From a chain that ends in a merge to what that merge is to say of marks: ``same`` and ``judges``."""


def merge(
    first: Case,
    second: Case,
    path: Path,
    author: str,
    clock: Clock = now,
    sameness: Sameness = lambda _: {},
) -> tuple[Event, ...]:
    """Write both cases as one new file; returns its events.

    Where one holds all that the other does there is nothing to join, and the file is that one's copy. Names,
    free text and file paths come along; of two under one key, the first case's.
    """
    refuse_name(author)
    events = together(first.events, second.events)
    if len(events) == len(second.events):
        events = second.events
    elif len(events) > len(first.events):
        events = (*events, _joining(events, first, second, author, clock, sameness))
    ours, theirs = first.erasable(), second.erasable()
    kept = {table: theirs[table] | rows for table, rows in ours.items()}
    write_copy(path, events, second.books() | first.books(), kept)
    return events


def _joining(
    events: Sequence[Event], first: Case, second: Case, author: str, clock: Clock, sameness: Sameness
) -> Event:
    """The event that joins both; it is made once without what it says of marks, to see what they are."""
    at, heads = clock(), [one.events[-1].hash for one in (first, second)]

    def saying(payload: Mapping[str, Any]) -> Event:
        body = make_body(MERGED, author, at, heads, payload)
        return read_event(len(events) + 1, hash_of(body), body)

    return saying(sameness((*events, saying({}))))
