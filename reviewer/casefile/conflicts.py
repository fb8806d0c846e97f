"""Where two merged cases say different things of one matter.

The first case's word stands until somebody says it anew; of two consents, what both allow. Whatever is passed
over is listed, with what both said.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.casefile.lineage import MERGED, OPENED, after, apart
from reviewer.terms.consents import Consent

Matter = tuple[str, str]
"""What sort of thing is said, and of which one."""

_CODE, MARK = "athlete code", "mark"
_CONSENTS: Matter = ("consent", "")
_UNDONE = "undone"
_EVIDENCE_OF = {
    "reading-confirmed": "reading-taken",
    "track-confirmed": "track-taken",
    "pool-confirmed": "readings-pooled",
}


@dataclass(frozen=True, slots=True)
class Conflict:
    """One matter that two merged cases say differently, and that nobody has settled since.

    Attributes:
        what: sort of thing, such as ``mark`` or ``posted score``.
        where: which one, or empty where there is but one.
        first, second: what each case said.
        stands: ``first``, ``second`` or, of consents, ``narrower``.
        values: what each said, as its events have it.
    """

    what: str
    where: str
    first: str
    second: str
    stands: str
    values: tuple[Any, Any] = field(default=(None, None), compare=False)

    def to_json(self) -> dict[str, str]:
        """As the merge and the warnings of a score write it."""
        return {
            "what": self.what,
            "where": self.where,
            "first": self.first,
            "second": self.second,
            "stands": self.stands,
        }


@dataclass(frozen=True, slots=True)
class _Said:
    """What one case last said of a matter: as JSON has it, and by which event."""

    value: Any
    by: Event


def without_contested(
    events: Sequence[Event], gone: Collection[str]
) -> tuple[tuple[Event, ...], tuple[Conflict, ...]]:
    """The events without those that a merge passes over, and the conflicts still open.

    ``events`` have their ids as shown; ``gone`` are the hashes of those undone.
    """
    kept: dict[str, Event] = {event.hash: event for event in events}
    conflicts: list[Conflict] = []
    for merge in events:
        if merge.kind == MERGED:
            found, kept = _contested(kept, gone, *apart(events, merge))
            settled = said_since(events, gone, merge)
            conflicts += [one for matter, one in found.items() if matter not in settled]
    return tuple(_one_opening(tuple(kept.values()))), tuple(conflicts)


def _left(kept: Mapping[str, Event], passed_over: set[str]) -> Iterator[tuple[str, Event]]:
    """What is not passed over; of what was measured and confirmed at once, the evidence stays."""
    for name, event in kept.items():
        if name not in passed_over:
            yield name, event
        elif event.kind in _EVIDENCE_OF:
            yield name, replace(event, kind=_EVIDENCE_OF[event.kind])


def _contested(
    kept: Mapping[str, Event], gone: Collection[str], first: set[str], second: set[str]
) -> tuple[dict[Matter, Conflict], dict[str, Event]]:
    """What the events of the one side only and those of the other say differently, and the events left."""
    ours, theirs = _last_said(kept, gone, first), _last_said(kept, gone, second)
    found = {
        matter: _conflict(matter, said, theirs[matter])
        for matter, said in ours.items()
        if matter in theirs and said.value != theirs[matter].value
    }
    lost = {matter for matter, one in found.items() if one.stands == "first" and matter[0] != _CODE}
    passed_over = {
        name for name in second if name in kept and not lost.isdisjoint(dict(_matters(kept[name])))
    }
    left = dict(_left(kept, passed_over))
    if _CONSENTS in found:
        left[theirs[_CONSENTS].by.hash] = _narrowed(ours[_CONSENTS].by, theirs[_CONSENTS].by)
    return found, left


def _conflict(matter: Matter, first: _Said, second: _Said) -> Conflict:
    stands = "second" if second.value == _UNDONE else "first"  # undone stays so, whoever changed it meanwhile
    texts = words_of(first.value), words_of(second.value)
    stands = "narrower" if matter == _CONSENTS else stands
    return Conflict(*matter, *texts, stands, (first.value, second.value))


def _narrowed(first: Event, second: Event) -> Event:
    """The second consent, made to allow what both do."""
    both = Consent.from_json(first.payload).common_with(Consent.from_json(second.payload))
    return replace(second, kind="consent-changed", payload=both.to_json())


def _last_said(kept: Mapping[str, Event], gone: Collection[str], own: set[str]) -> dict[Matter, _Said]:
    """What events of one side only said last of each matter."""
    found: dict[Matter, _Said] = {}
    for name, event in kept.items():
        if name not in own or name in gone:
            continue
        before = event.payload["event"] if event.kind == "undone" else name
        if before in gone and before in kept and before not in own:
            found |= {matter: _Said(_UNDONE, event) for matter, _ in _matters(kept[before])}
        found |= {matter: _Said(value, event) for matter, value in _matters(event)}
    return found


def said_since(events: Sequence[Event], gone: Collection[str], merge: Event) -> dict[Matter, Any]:
    """What was said anew after a merge, and what last."""
    later = after(events, merge.hash) - set(gone)
    said = (_matters(event) for event in events if event.hash in later)
    return {matter: value for matters in said for matter, value in matters}


def _one_opening(events: Sequence[Event]) -> Iterator[Event]:
    """A second opening tells its consent; of the athlete's code the first one's stands."""
    code = events[0].payload["athlete_code"]
    for event in events:
        yield (
            replace(event, payload={**event.payload, "athlete_code": code}) if event.kind == OPENED else event
        )


def _matters(event: Event) -> Iterator[tuple[Matter, Any]]:
    """What an event says something of, that another event may say otherwise, and what it says."""
    said = event.payload
    match event.kind:
        case "case-opened":
            yield (_CODE, ""), said["athlete_code"]
            yield _CONSENTS, _consent(said)
        case "consent-changed":
            yield _CONSENTS, _consent(said)
        case "rule-book-chosen":
            yield ("rule book", ""), f"{said['id']}, sha256 {said['sha256']}"
        case "interpretation-chosen":
            yield ("reading of a clause", said["clause"]), said["reading"]
        case "posted-entered":
            yield ("posted score", ""), said["score"]
        case "posted-sheet-entered":
            yield ("posted sheet", ""), said["sheet"]
            if said["sheet"].get("final") is not None:
                yield ("posted score", ""), said["sheet"]["final"]
        case "panel-entered":
            yield ("panel's scores", said["when"]), said["scores"]
        case "audit-limited":
            yield ("parts audited", ""), ", ".join(said["parts"]) or "all"
        case "recording-cited" | "attempt-assigned":
            yield ("attempt of recording", said["sha256"]), str(said.get("attempt", 1))
        case "attempt-counted":
            yield ("attempt that counts", ""), str(said["attempt"])
        case "recordings-joined":
            yield ("common instant", " and ".join(sorted((said["a"], said["b"])))), _instant(said)
        case "inquiry-answered":
            yield ("answer", said["answer"]["inquiry"]), said["answer"]
        case "inquiry-withdrawn":
            yield ("inquiry", said["id"]), "withdrawn"
        case "mark-withdrawn":
            yield (MARK, said["id"]), "withdrawn"
        case "line-reopened":
            for name in said["marks"]:
                yield (MARK, name), "withdrawn"
        case "line-settled" | "settlement-begun":
            for mark in said.get("marks", said.get("agreed", ())):
                yield (MARK, mark["id"]), mark
        case "cover-placed" | "cover-removed":
            yield ("cover", f"{said['head']} on frame {said['frame']}"), said.get("cover")
        case kind if kind not in _EVIDENCE_OF.values() and isinstance(said.get("mark"), Mapping):
            yield (MARK, said["mark"]["id"]), said["mark"]


def _consent(said: Mapping[str, Any]) -> str:
    uses = f" for {', '.join(said['for'])}" if said.get("for") else ""
    by = f" by {said['by']}" if said.get("by") else ""
    return f"{said['consent']}{by}{uses}" + (f" until {said['until']}" if said.get("until") else "")


def _instant(said: Mapping[str, Any]) -> str:
    return ", ".join(
        f"tick {said[f'{one}_pts']} of {said[one]}" for one in sorted("ab", key=lambda n: said[n])
    )


def words_of(value: Any) -> str:
    """A value for people: without the marks of JSON."""
    if isinstance(value, Mapping):
        return ", ".join(f"{key} {_within(value[key])}" for key in sorted(value) if value[key] is not None)
    if isinstance(value, (list, tuple)):
        return "; ".join(map(words_of, value))
    return str(value)


def _within(value: Any) -> str:
    return f"({words_of(value)})" if isinstance(value, (Mapping, list, tuple)) else str(value)
