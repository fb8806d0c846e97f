"""Ids in a chain that was merged: two judges may both have an ``m3``, and no event is rewritten.

An id means what the events before it made of it. In the merged chain the first case's things keep their ids;
a thing of the second one whose id is taken is shown with its author's letter before it, such as ``B.m3``.
What comes after the merge uses the ids that are shown.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.casefile.kinds import EVIDENCE
from reviewer.casefile.lineage import MERGED, past_of

Name = tuple[str, str]
"""What sort of thing, and its id."""
Thing = tuple[str, Name, str]
"""A thing itself: hash of the event that brought it, its id there, and that event's author."""
Naming = Callable[[str, str], str]
"""From a sort and an id in an event to the id that is shown."""

_MARK, _MEASURED, _INQUIRY, _HEAD = "mark", "measured", "inquiry", "head"
_MEANT = "mark meant"
"""Of an id by which something speaks of a mark: where a merge made two marks one, that one is meant."""


@dataclass(slots=True)
class Names:
    """The ids at one place in a chain.

    Attributes:
        things: what each id means, in the order they came.
        home: the recording that marks and readings are about that name none.
    """

    things: dict[Name, Thing] = field(default_factory=dict)
    home: str | None = None

    def copy(self) -> "Names":
        """The same ids, to be added to apart."""
        return Names(dict(self.things), self.home)


def as_shown(events: Sequence[Event]) -> tuple[Event, ...]:
    """The events of a sound chain with every id as the whole chain shows it; hashes and bytes stay."""
    names = _names(events)
    final = names[events[-1].hash]
    shown = {thing: name for name, thing in final.things.items()}
    found = [
        event if names[event.hash] is final else _translated(event, names[event.hash], final, shown)
        for event in events
    ]
    ones = _ones(found)
    return tuple(replace(event, payload=_meant(event, ones)) for event in found) if ones else tuple(found)


def brought_by(events: Sequence[Event]) -> dict[str, tuple[str, str]]:
    """Hash and author of the event that brought each mark, by the id it is shown under."""
    things = _names(events)[events[-1].hash].things
    return {name: (by, author) for (sort, name), (by, _, author) in things.items() if sort == _MARK}


def renamed(events: Sequence[Event]) -> tuple[tuple[str, Thing], ...]:
    """Ids that are shown otherwise than the event that brought the thing says, with the thing."""
    if not any(event.kind == MERGED for event in events):
        return ()
    things = _names(events)[events[-1].hash].things
    return tuple((name, thing) for (_, name), thing in things.items() if name != thing[1][1])


def _names(events: Sequence[Event]) -> dict[str, Names]:
    """The ids each event uses, by its hash. Events of one unbroken line share theirs."""
    names: dict[str, Names] = {}
    tips: dict[int, str] = {}

    def at(place: str) -> Names:
        if tips[id(names[place])] == place:
            return names[place].copy()
        past = past_of(events, place)
        return _names([event for event in events if event.hash in past])[place]

    for event in events:
        if event.kind == MERGED:
            own = _both(*(at(parent) for parent in event.parents))
        elif not event.parents:
            own = Names()
        else:
            (parent,) = event.parents
            own = names[parent] if tips[id(names[parent])] == parent else at(parent)
        names[event.hash] = own
        tips[id(own)] = event.hash
        for name in _brought(event):
            own.things.setdefault(name, (event.hash, name, event.author))
        if event.kind == "recording-cited" and own.home is None:
            own.home = event.payload["sha256"]
    return names


def _both(first: Names, second: Names) -> Names:
    """The ids after a merge; a thing that both have keeps its name in the first."""
    known = set(first.things.values())
    for (sort, name), thing in second.things.items():
        if thing in known:
            continue
        while (sort, name) in first.things:
            name = f"{thing[2]}.{name}"
        first.things[sort, name] = thing
    return Names(first.things, first.home or second.home)


def _brought(event: Event) -> Iterator[Name]:
    """The things that an event brings into the case."""
    said = event.payload
    if event.kind == "mark-placed":
        yield _MARK, said["mark"]["id"]
    for key in ("agreed", "marks"):
        for mark in said.get(key, ()) if event.kind in ("settlement-begun", "line-settled") else ():
            yield _MARK, mark["id"]
    for what in EVIDENCE:
        if what in said and isinstance(said[what], Mapping):
            yield _MEASURED, said[what]["id"]
    if event.kind == "cover-placed":
        yield _HEAD, said["head"]
    if event.kind == "inquiry-filed":
        yield _INQUIRY, said["inquiry"]["id"]


def _translated(event: Event, own: Names, final: Names, shown: Mapping[Thing, Name]) -> Event:
    def name(sort: str, said: str) -> str:
        sort = _MARK if sort == _MEANT else sort
        thing = own.things.get((sort, said))
        if thing is not None:
            return shown[thing][1]
        return f"{event.author}.{said}" if (sort, said) in final.things else said

    home = own.home if own.home != final.home else None
    return replace(event, payload=_payload(event.kind, event.payload, name, home))


def _ones(events: Sequence[Event]) -> dict[str, str]:
    """For each mark that merges made one with another, the id under which that one is shown."""
    pairs = [pair for event in events if event.kind == MERGED for pair in event.payload.get("same", ())]
    ones: dict[str, str] = {}
    for first, second in reversed(pairs):
        ones[second] = ones.get(first, first)
    return ones


def _meant(event: Event, ones: Mapping[str, str]) -> dict[str, Any]:
    """What an event says, with the marks it speaks of as the one each of them is."""

    def name(sort: str, said: str) -> str:
        return ones.get(said, said) if sort == _MEANT else said

    return _payload(event.kind, event.payload, name, None)


def _payload(kind: str, said: Mapping[str, Any], name: Naming, home: str | None) -> dict[str, Any]:
    found = dict(said)
    for key, of in (("mark", _mark), *((what, _measured) for what in EVIDENCE), ("inquiry", _inquiry)):
        if isinstance(said.get(key), Mapping):
            found[key] = of(said[key], name, home)
    for key in ("agreed", "marks"):
        if kind in ("settlement-begun", "line-settled") and key in said:
            found[key] = [_mark(mark, name, home) for mark in said[key]]
    if kind in ("cover-placed", "cover-removed", "head-followed"):
        found["head"] = name(_HEAD, said["head"])
    if kind == MERGED:
        found |= _same(said, name)
    if kind == "line-reopened":
        found["marks"] = [name(_MEANT, one) for one in said["marks"]]
    if kind == "inquiry-answered":
        answer = dict(said["answer"])
        marks = [name(_MEANT, one) for one in answer.get("marks", ())]
        readings = [name(_MEASURED, one) for one in answer.get("readings", ())]
        named = {"inquiry": name(_INQUIRY, answer["inquiry"]), "marks": marks, "readings": readings}
        found["answer"] = answer | named
    if kind == "posted-sheet-entered":
        found["sheet"] = _posted(said["sheet"], name)
    if kind in ("mark-withdrawn", "inquiry-withdrawn"):
        found["id"] = name(_MARK if kind == "mark-withdrawn" else _INQUIRY, said["id"])
    return found


def _same(said: Mapping[str, Any], name: Naming) -> dict[str, Any]:
    """What a merge says of marks."""
    found: dict[str, Any] = {}
    if "same" in said:
        found["same"] = [[name(_MARK, one) for one in pair] for pair in said["same"]]
    if "judges" in said:
        found["judges"] = {name(_MARK, one): judge for one, judge in said["judges"].items()}
    return found


def _mark(said: Mapping[str, Any], name: Naming, home: str | None) -> dict[str, Any]:
    found = {**said, "id": name(_MARK, said["id"])}
    if said.get("element") is not None:
        found["element"] = name(_MEANT, said["element"])
    angle = said.get("angle")
    if isinstance(angle, Mapping) and angle.get("reading") is not None:
        found["angle"] = {**angle, "reading": name(_MEASURED, angle["reading"])}
    return _at_home(found, home)


def _measured(said: Mapping[str, Any], name: Naming, home: str | None) -> dict[str, Any]:
    found = {**said, "id": name(_MEASURED, said["id"])}
    if "of" in said:
        found["of"] = [name(_MEASURED, one) for one in said["of"]]
        return found
    return _at_home(found, home)


def _posted(said: Mapping[str, Any], name: Naming) -> dict[str, Any]:
    """A posted sheet, its written deductions with the elements as shown."""
    written = [
        {**one, "element": name(_MEANT, one["element"])} if "element" in one else one
        for one in said.get("deductions", ())
    ]
    return {**said, "deductions": written} if written else dict(said)


def _inquiry(said: Mapping[str, Any], name: Naming, _: str | None) -> dict[str, Any]:
    marks = [name(_MEANT, one) for one in said.get("marks", ())]
    return {**said, "id": name(_INQUIRY, said["id"]), "marks": marks}


def _at_home(said: dict[str, Any], home: str | None) -> dict[str, Any]:
    return said | {"recording": home} if home is not None and said.get("recording") is None else said
