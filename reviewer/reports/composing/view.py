"""What every section looks at: the finding, the language, and where things lead to."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from reviewer.reports.blocks import Run, Words, joined, words
from reviewer.words import Saying

NOTHING = "–"


@dataclass(frozen=True, slots=True)
class View:
    """A finding and the language it is told in."""

    finding: Mapping[str, Any]
    say: Saying

    @property
    def score(self) -> Mapping[str, Any]:
        """The ``reviewer.score/1`` document in it."""
        found: Mapping[str, Any] = self.finding["score"]
        return found

    @property
    def several(self) -> bool:
        """Whether there is more than one recording."""
        return "recordings" in self.finding

    def still_of(self, frame: int, recording: int) -> str | None:
        """Id of the still that shows a frame."""
        for still in self.finding["stills"]:
            if (still["frame"], still.get("recording", 1)) == (frame, recording):
                return str(still["id"])
        return None

    def frame(self, frame: int, recording: int | None) -> Words:
        """A frame's number, leading to its still where there is one."""
        return words(Run(self.frame_name(frame, recording), to=self.still_of(frame, recording or 1)))

    def frame_name(self, frame: int, recording: int | None) -> str:
        """A frame's number, and its recording where there are several."""
        if not self.several:
            return str(frame)
        return self.say("{frame} of recording {recording}", frame=frame, recording=recording)

    def frames(self, listed: Iterable[Mapping[str, Any]] | None) -> Words:
        """The frames of a line, each leading to its still."""
        found = [self.frame(one["frame"], one.get("recording")) for one in listed or ()]
        return joined(found) if found else words(NOTHING)

    def clause(self, name: str) -> Run:
        """A clause, leading to what it says."""
        cited = any(one["id"] == name for one in self.finding["clauses"])
        return Run(name, to=f"clause-{name}" if cited else None)

    def evidence(self, name: str) -> Run:
        """A reading, pool, length or track, leading to what was measured."""
        kinds = {"readings": "reading", "pools": "pool", "lengths": "length", "tracks": "track"}
        for kind, word in kinds.items():
            if any(one["id"] == name for one in self.finding.get(kind, ())):
                return Run(name, to=f"{word}-{name}")
        return Run(name)

    def marks(self, names: Iterable[str]) -> Words:
        """Marks, each leading to its row."""
        found = [Run(name, to=f"mark-{name}") for name in names]
        return joined(found) if found else words(self.say("no mark"))


def clock(seconds: str) -> str:
    """Seconds as minutes, seconds and thousandths: ``71.285`` gives ``1:11.285``."""
    sign, size = ("-", seconds[1:]) if seconds.startswith("-") else ("", seconds)
    whole, _, places = size.partition(".")
    minutes, rest = divmod(int(whole), 60)
    return f"{sign}{minutes}:{rest:02d}.{places}"


def signed(points: str) -> str:
    """An amount with a true minus: ``-0.100`` gives ``−0.100``."""
    return points.replace("-", "−", 1) if points.startswith("-") else points


def sentence(text: str) -> str:
    """Words as a sentence: ``arms bent`` gives ``Arms bent.``"""
    return f"{text[:1].upper()}{text[1:]}."
