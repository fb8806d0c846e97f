"""Marks and evidence while a chain is folded.

They are changed in place: a copy for every event would take time as the square of the chain's length.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.casefile.kinds import EVIDENCE
from reviewer.terms.marks import Mark


@dataclass(slots=True)
class Growing:
    """What grows with a case.

    Attributes:
        said: the marks by id, as events say them or as read already; what was said last comes last.
        taken: the evidence of each sort, oldest first.
        events_of: hash of the event that last said a mark or took evidence, by its id.
    """

    said: dict[str, Mark | Mapping[str, Any]]
    taken: Mapping[str, list[Mapping[str, Any]]]
    events_of: dict[str, str]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks that are left."""
        return tuple(one if isinstance(one, Mark) else Mark.from_json(one) for one in self.said.values())

    def mark(self, name: str) -> Mark | None:
        """The mark of an id, or None where there is none."""
        one = self.said.get(name)
        return one if one is None or isinstance(one, Mark) else Mark.from_json(one)

    def takes(self, event: Event) -> bool:
        """Take in an event; whether it says nothing but marks and evidence."""
        said = event.payload
        match event.kind:
            case "mark-placed":
                self._say(said["mark"], event.hash)
            case "mark-changed":
                self._change(said["mark"], event.hash)
            case "mark-withdrawn":
                self.said.pop(said["id"], None)
                self.events_of.pop(said["id"], None)
            case "reading-taken" | "track-taken" | "length-taken" | "readings-pooled":
                self._take(event)
            case "reading-confirmed" | "track-confirmed" | "pool-confirmed":
                self._take(event)
                self._change(said["mark"], event.hash)
            case "settlement-begun":
                self._say_all(said["agreed"], event.hash)
                return False
            case "line-settled":
                self._say_all(said["marks"], event.hash)
                return False
            case "line-reopened":
                for name in said["marks"]:
                    self.said.pop(name, None)
                    self.events_of.pop(name, None)
                return False
            case _:
                return False
        return True

    def _say(self, mark: Mapping[str, Any], digest: str) -> None:
        self.said.pop(mark["id"], None)
        self.said[mark["id"]] = mark
        self.events_of[mark["id"]] = digest

    def _say_all(self, marks: Iterable[Mapping[str, Any]], digest: str) -> None:
        for mark in marks:
            self._say(mark, digest)

    def _change(self, mark: Mapping[str, Any], digest: str) -> None:
        if mark["id"] in self.said:  # gone where its placing was undone
            self._say(mark, digest)

    def _take(self, event: Event) -> None:
        what = next(name for name in EVIDENCE if name in event.payload)
        taken = event.payload[what]
        self.taken[what].append(taken)
        self.events_of[taken["id"]] = event.hash
