"""Finding what was changed, removed, moved or doubled in a chain of events; each is named once."""

from bisect import bisect_left
from collections import Counter
from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from typing import Any

from reviewer.casefile.chain import Event, hash_of, is_canonical
from reviewer.casefile.kinds import CLOSED_BY_SEAL
from reviewer.casefile.lineage import MERGED, OPENED, PARENTS, out_of_order
from reviewer.terms.messages import Message, message
from reviewer.terms.problems import Problem

_REMEDY = message("Ask whoever sent it for a copy that is whole.")


def check_chain(events: Sequence[Event], *, form: bool = True) -> tuple[Problem, ...]:
    """What is wrong with a chain; each problem's ``where`` is an event that was changed, removed, moved or
    doubled, each named once.

    A chain cannot tell that its last events were cut off, or that its last one was replaced by another
    sound one: only what names its last hash elsewhere (a report, a signature) can. Without ``form`` an event
    whose hash fits may be written in another form than the canonical one: no harm to whoever reads it, and
    quicker.
    """
    if not events:
        return (Problem("empty-chain", "event 1", message("The chain has no event."), _REMEDY),)
    found = _once((*_bodies(events, form), *_ties_and_places(events), *_seals(events)))
    return found or tuple(_order(events))


def _once(problems: Iterable[Problem]) -> tuple[Problem, ...]:
    """The first thing that is wrong with each event; the rest follows from it."""
    return tuple({problem.where: problem for problem in reversed(tuple(problems))}.values())[::-1]


def breaks_seal(kind: str, payload: Mapping[str, Any], events: Sequence[Event], sealed: int | None) -> bool:
    """Whether something changes what was sealed, with the event of the number ``sealed``."""
    if sealed is None:
        return False
    if kind in ("undone", "redone"):
        wanted = payload.get("event")
        return any(
            one.hash == wanted and one.number < sealed and one.kind in CLOSED_BY_SEAL for one in events
        )
    return kind in CLOSED_BY_SEAL


def _seals(events: Sequence[Event]) -> Iterator[Problem]:
    """What happened to a sheet after it was sealed, which no version of this program writes."""
    sealed = next((event.number for event in events if event.kind == "sealed"), None)
    for event in events if sealed is not None else ():
        if event.number > (sealed or 0) and breaks_seal(event.kind, event.payload, events, sealed):
            yield _problem(
                "event-after-seal", event.number, message("It changes a sheet that was sealed before.")
            )


def _bodies(events: Sequence[Event], form: bool) -> Iterator[Problem]:
    for event in events:
        if hash_of(event.body) != event.hash:
            yield _problem("event-changed", event.number, message("It was changed after it was written."))
        elif not event.kind or (form and not is_canonical(event.body)):
            yield _problem("event-unreadable", event.number, message("It is not written as events are."))
    if events[0].kind not in ("case-opened", "") and events[0].number == 1:
        yield _problem(
            "event-removed", events[0].number, message("The chain does not begin with the case's opening.")
        )


def _ties_and_places(events: Sequence[Event]) -> Iterator[Problem]:
    if not _is_one_line(events):
        misplaced = dict(_places(events))
        yield from misplaced.values()
        yield from _ties(events, {event.hash for event in events if event.number in misplaced})


def _is_one_line(events: Sequence[Event]) -> bool:
    """Whether each event builds on the one before alone, as in every case that was never merged."""
    begins = (events[0].kind, events[0].number, events[0].parents) == (OPENED, 1, ())
    return begins and all(
        event.parents == (before.hash,) and event.number == before.number + 1 and event.kind not in PARENTS
        for before, event in pairwise(events)
    )


def _places(events: Sequence[Event]) -> Iterator[tuple[int, Problem]]:
    """What is missing, stands twice or stands elsewhere, by number; a gap goes by its first number."""
    numbers = [event.number for event in events]
    if numbers != list(range(1, len(numbers) + 1)):
        firsts = list(dict.fromkeys(numbers))
        yield from _gaps(sorted(firsts))
        for number, times in Counter(numbers).items():
            if times > 1:
                yield (
                    number,
                    _problem("event-doubled", number, message("It stands there {times} times.", times=times)),
                )
        yield from _moved(firsts)
    yield from _again(events)


def _gaps(numbers: Sequence[int]) -> Iterator[tuple[int, Problem]]:
    for before, after in pairwise((0, *numbers)):
        if after == before + 2:
            yield before + 1, _problem("event-removed", before + 1, message("It was removed."))
        elif after > before + 2:
            where = f"events {before + 1} to {after - 1}"
            yield before + 1, Problem("event-removed", where, message("They were removed."), _REMEDY)


def _moved(numbers: Sequence[int]) -> Iterator[tuple[int, Problem]]:
    """As few as can have been moved: those outside the longest run of rising numbers."""
    tails: list[int] = []
    before: dict[int, int] = {}
    for number in numbers:
        place = bisect_left(tails, number)
        tails[place : place + 1] = [number]
        before[number] = tails[place - 1] if place else 0
    at, kept = tails[-1], set[int]()
    while at:
        kept.add(at)
        at = before[at]
    for last, number in pairwise((0, *numbers)):
        if number not in kept:
            said = (
                message("It was moved: it stands after event {last}.", last=last)
                if last
                else message("It was moved: it stands at the beginning.")
            )
            yield number, _problem("event-moved", number, said)


def _again(events: Sequence[Event]) -> Iterator[tuple[int, Problem]]:
    """Events that stand there once more under a number of their own."""
    first: dict[str, int] = {}
    for event in events:
        known = first.setdefault(event.hash, event.number)
        if known != event.number:
            yield (
                event.number,
                _problem(
                    "event-doubled", event.number, message("It is event {known} once more.", known=known)
                ),
            )


def _ties(events: Sequence[Event], misplaced: set[str]) -> Iterator[Problem]:
    """Parents stand earlier in the file, and all but the last event are somebody's parent.

    ``misplaced`` are hashes of events named already. Where a number is missing, the removal is named already
    and its neighbours are not blamed too.
    """
    numbers = {0, *(event.number for event in events)}
    everywhere = {event.hash for event in events}
    named = {parent for event in events for parent in event.parents}
    earlier: set[str] = set()
    for index, event in enumerate(events):
        if event.kind and event.number - 1 in numbers:
            yield from _parents(event, earlier | misplaced, everywhere)
        readable_after = index < len(events) - 1 and events[index + 1].kind and event.number + 1 in numbers
        if readable_after and event.hash not in named:
            yield _problem(
                "event-changed", event.number, message("It was changed, or what followed it was removed.")
            )
        earlier.add(event.hash)


def _parents(event: Event, earlier: set[str], everywhere: set[str]) -> Iterator[Problem]:
    wanted = PARENTS.get(event.kind, 1)
    if not len(set(event.parents)) == len(event.parents) == wanted:
        said = message(
            "It builds on {parents} events, and an event of its kind on {wanted}.",
            parents=len(event.parents),
            wanted=wanted,
        )
        yield _problem("event-moved", event.number, said)
    for parent in event.parents:
        if parent not in everywhere:
            yield _problem(
                "event-parent", event.number, message("It does not build on what stands before it.")
            )
        elif parent not in earlier:
            yield _problem(
                "event-moved", event.number, message("It was moved: it stands before what it builds on.")
            )


def _order(events: Sequence[Event]) -> Iterator[Problem]:
    """Of two cases that were merged, the events of each stand together, and those of the first come first."""
    moved = out_of_order(events) if any(event.kind == MERGED for event in events) else None
    if moved is not None:
        yield _problem(
            "event-moved", moved.number, message("It does not stand where the merged cases have it.")
        )


def _problem(code: str, number: int, said: Message) -> Problem:
    return Problem(code, f"event {number}", said, _REMEDY)
