"""What the desk remembers of itself: where its window stood, the cases opened last, and where they were left.

It is no setting and no evidence: a file that is gone or cannot be read has remembered nothing.
"""

import json
import os
from collections.abc import Mapping
from dataclasses import asdict, dataclass, field, replace
from pathlib import Path
from typing import Any

from reviewer.settings.places import desk_file
from reviewer.terms.parsing import parsed

KEPT = 12
"""Cases that are remembered."""
_LARGEST = 1_000_000


@dataclass(frozen=True, slots=True)
class LeftAt:
    """A case or a recording opened lately, and where it was left.

    Attributes:
        path: as text.
        recording: SHA-256 of the one on the screen, or None.
        frame: number of the frame on the screen.
        looked: files of the recordings of which one look at full speed was taken.
    """

    path: str
    recording: str | None = None
    frame: int = 0
    looked: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Remembered:
    """What the desk remembers.

    Attributes:
        window: places of the window and its parts, by their names, each as text of its own.
        recent: what was opened last, newest first.
    """

    window: Mapping[str, str] = field(default_factory=dict)
    recent: tuple[LeftAt, ...] = ()

    def left_at(self, path: Path) -> LeftAt | None:
        """Where this file was left; None where that is not known."""
        return next((one for one in self.recent if one.path == str(path)), None)

    def now_at(self, left: LeftAt) -> "Remembered":
        """The same with this file the newest."""
        others = tuple(one for one in self.recent if one.path != left.path)
        return replace(self, recent=(left, *others)[:KEPT])


def recall(path: Path | None = None) -> Remembered:
    """What was remembered last."""
    try:
        with (path or desk_file()).open("rb") as file:
            said = parsed(file.read(_LARGEST))
        return Remembered(
            {str(name): str(place) for name, place in said["window"].items()},
            tuple(_left(one) for one in said["recent"]),
        )
    except (OSError, ValueError, KeyError, TypeError, AttributeError):
        return Remembered()


def remember(what: Remembered, path: Path | None = None) -> None:
    """Write it in one step; where that cannot be done, it is not remembered."""
    place = path or desk_file()
    beside = place.with_name(f".{place.name}.{os.getpid()}")
    try:
        place.parent.mkdir(parents=True, exist_ok=True)
        beside.write_text(json.dumps(asdict(what)), encoding="utf-8")
        os.replace(beside, place)
    except OSError:
        beside.unlink(missing_ok=True)


def _left(said: Mapping[str, Any]) -> LeftAt:
    recording, looked = said["recording"], tuple(map(str, said.get("looked", ())))
    shown = None if recording is None else str(recording)
    return LeftAt(str(said["path"]), shown, int(said["frame"]), looked)
