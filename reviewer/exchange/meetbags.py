"""What a bag of tasks says of itself: whose they are, and what lies in it for each."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Self

from reviewer.exchange.bags import PAYLOAD
from reviewer.terms.canonical import readable
from reviewer.terms.codes import is_code
from reviewer.terms.meets import is_start
from reviewer.terms.messages import Message, message, noted, reason
from reviewer.terms.parsing import parsed
from reviewer.terms.problems import DocumentError, Problem

QUEUE = "queue.json"
OUT, HOME = "out", "home"
"""Which way a bag goes: to an auditor, or back."""
_SAID = {
    OUT: noted("These tasks go out to an auditor, and nothing of them is done yet."),
    HOME: noted("These tasks go home, and are no work to be done."),
}
_HASH = re.compile(r"[0-9a-f]{64}")
_FILM = re.compile(r"[A-Za-z0-9_-]{1,20}-[0-9]{1,3}(\.[a-z0-9]{1,8})?")


@dataclass(frozen=True, slots=True)
class Carried:
    """One task in a bag.

    Attributes:
        start: the routine's name.
        blind: whether the auditor sees nothing of what others said of it.
        sent: hash of the last event of its case as it was sent.
        recordings: SHA-256 and name of the file of each recording that goes with it.
    """

    start: str
    blind: bool
    sent: str
    recordings: tuple[tuple[str, str], ...] = ()

    @property
    def case(self) -> str:
        """The name of its case's file."""
        return f"{self.start}.case"

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a bag's ``tasks``; ValueError, TypeError or KeyError for what is none."""
        recordings = tuple((str(one["sha256"]), str(one["file"])) for one in data["recordings"])
        if not is_start(data["start"]):
            raise ValueError(f"{data['start']!r} names no routine")
        if not all(_HASH.fullmatch(one) for one in (data["sent"], *dict(recordings))):
            raise ValueError("a hash is 64 hexadecimal digits")
        if not all(_FILM.fullmatch(name) for _, name in recordings):
            raise ValueError("a recording is named after its routine and its place")
        return cls(data["start"], bool(data["blind"]), data["sent"], recordings)

    def to_json(self) -> dict[str, Any]:
        """One of a bag's ``tasks``."""
        films = [{"sha256": digest, "file": name} for digest, name in self.recordings]
        return {"start": self.start, "blind": self.blind, "sent": self.sent, "recordings": films}


@dataclass(frozen=True, slots=True)
class MeetBag:
    """The tasks of one auditor on their way: ``reviewer.meet-bag/1``; ``way`` is `OUT` or `HOME`."""

    way: str
    auditor: str
    tasks: tuple[Carried, ...]

    def to_json(self) -> dict[str, Any]:
        """``reviewer.meet-bag/1``."""
        tasks = [one.to_json() for one in self.tasks]
        return {"format": "reviewer.meet-bag/1", "way": self.way, "auditor": self.auditor, "tasks": tasks}

    def write(self, folder: Path) -> None:
        """Write it into a folder."""
        (folder / QUEUE).write_bytes(readable(self.to_json()))


def read_meet_bag(folder: Path, way: str | None = None) -> MeetBag:
    """What the list in a folder says of its tasks, where it is one that goes this way, or any.

    A DocumentError for anything else. Names in it are plain, so that none leads out of the folder.
    """
    path = folder / QUEUE
    try:
        data = parsed(path.read_bytes())
        tasks = tuple(Carried.from_json(one) for one in data["tasks"])
        found = MeetBag(data["way"], data["auditor"], tasks)
        names = {one.start.casefold() for one in tasks}
        if found.way not in _SAID or not is_code(found.auditor) or len(names) != (len(tasks) or 1):
            raise ValueError("it names no auditor, no routine, or one twice")
    except (OSError, ValueError, TypeError, KeyError) as fault:
        said = message("This holds no list of tasks: {reason}.", reason=reason(fault))
        raise _no_queue(path, said) from None
    if way is not None and found.way != way:
        raise _no_queue(path, message(_SAID[found.way]))
    return found


def _no_queue(path: Path, said: Message) -> DocumentError:
    name = f"{PAYLOAD}/{QUEUE}" if path.parent.name == PAYLOAD else str(path)
    remedy = message(
        "`reviewer meet send` makes a bag for an auditor, `reviewer meet return` one that comes home."
    )
    return DocumentError(Problem("no-queue", name, said, remedy))
