"""Two cases become one: every event of both, byte for byte, and one more that joins them."""

from pathlib import Path

from reviewer.casefile.case import Case, Clock, now
from reviewer.casefile.chain import Event, hash_of, make_body, read_event
from reviewer.casefile.copying import write_copy
from reviewer.casefile.lineage import MERGED, together


def merge(first: Case, second: Case, path: Path, author: str, clock: Clock = now) -> tuple[Event, ...]:
    """Write both cases as one new file; returns its events.

    Where one holds all that the other does there is nothing to join, and the file is that one's copy. Names,
    free text and file paths come along; of two under one key, the first case's.
    """
    events = together(first.events, second.events)
    if len(events) == len(second.events):
        events = second.events
    elif len(events) > len(first.events):
        body = make_body(MERGED, author, clock(), [one.events[-1].hash for one in (first, second)], {})
        events = (*events, read_event(len(events) + 1, hash_of(body), body))
    ours, theirs = first.erasable(), second.erasable()
    kept = {table: theirs[table] | rows for table, rows in ours.items()}
    write_copy(path, events, second.books() | first.books(), kept)
    return events
