"""Which events of a chain came before which: by their parents, of which a merge has two."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from reviewer.casefile.chain import Event

OPENED, MERGED = "case-opened", "cases-merged"
PARENTS: Mapping[str, int] = {OPENED: 0, MERGED: 2}
"""How many events an event builds on; one, where its kind is not named here."""


def past_of(events: Iterable[Event], head: str) -> set[str]:
    """Hashes of an event and of all that came before it."""
    parents = {event.hash: event.parents for event in events}
    past: set[str] = set()
    waiting = [head]
    while waiting:
        at = waiting.pop()
        if at not in past:
            past.add(at)
            waiting.extend(parents.get(at, ()))
    return past


def apart(events: Sequence[Event], merge: Event) -> tuple[set[str], set[str]]:
    """Hashes of what only the first of two merged chains has, and of what only the second."""
    first, second = (past_of(events, parent) for parent in merge.parents)
    return first - second, second - first


def after(events: Iterable[Event], head: str) -> set[str]:
    """Hashes of all events that came after one, from events in the order of their file."""
    later = {head}
    for event in events:
        if not later.isdisjoint(event.parents):
            later.add(event.hash)
    return later - {head}


def together(first: Sequence[Event], second: Sequence[Event]) -> tuple[Event, ...]:
    """All events of two chains, counted anew: those of the first, then what only the second has."""
    known = {event.hash for event in first}
    joined = (*first, *(event for event in second if event.hash not in known))
    return tuple(replace(event, number=number) for number, event in enumerate(joined, start=1))


def out_of_order(events: Sequence[Event]) -> Event | None:
    """The first event that does not stand where it belongs, from a chain whose parents are all there.

    There is one order only: before a merge stand all events of its first parent, then what only the second
    one has. So a chain with merges cannot be put into another order unnoticed.
    """
    by_hash = {event.hash: event for event in events}
    place, seen = 0, set[str]()
    waiting = [(events[-1].hash, False)]
    while waiting:
        at, is_ready = waiting.pop()
        if is_ready:
            if events[place].hash != at:
                return events[place]
            place += 1
        elif at not in seen:
            seen.add(at)
            waiting.append((at, True))
            waiting.extend((parent, False) for parent in reversed(by_hash[at].parents))
    return events[place] if place < len(events) else None
