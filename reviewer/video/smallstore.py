"""Where small pictures lie: one file a recording, named by its content; bounded, and swept of leftovers."""

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from reviewer.terms.messages import message, reason
from reviewer.terms.parsing import parsed
from reviewer.video.errors import VideoError, refused

FORMAT = "reviewer.small-pictures/1"
_PART = ".part"
_LIST = ".json"
_DATA = ".jpegs"


@dataclass(frozen=True, slots=True)
class Made:
    """A finished set.

    Attributes:
        data: file of the JPEGs, one after the other.
        places: start and length in it for each frame; a length of 0 where there is no picture.
        matrix: colour matrix of the pictures, a code of ITU-T H.273.
        damage: places of the packets at which decoding reported an error.
        gradual: whether key frames are but the starts of a gradual refresh.
    """

    data: Path
    places: tuple[tuple[int, int], ...]
    matrix: int
    damage: tuple[int, ...]
    gradual: bool


class SmallStore:
    """A folder of small pictures; `VideoError` where it cannot be written.

    ``most``: bytes it may take; the set used longest ago goes first.
    """

    def __init__(self, folder: Path, most: int) -> None:
        self._folder, self._most = folder, most

    def find(self, key: str, frames: int) -> Made | None:
        """The finished set of a recording, now the one used last; None where there is none that fits."""
        listed, data = self._folder / f"{key}{_LIST}", self._folder / f"{key}{_DATA}"
        try:
            made = _read(parsed(listed.read_bytes()), data)
            os.utime(listed)
        except (OSError, ValueError, KeyError, TypeError):
            return None
        return made if made is not None and len(made.places) == frames else None

    def begin(self, key: str) -> Path:
        """A new file to write JPEGs to, of this process alone."""
        try:
            self._folder.mkdir(parents=True, exist_ok=True)
            self._sweep()
            path = self._folder / f"{key}.{os.getpid()}{_PART}"
            path.touch()
        except OSError as fault:
            raise not_written(self._folder, fault) from None
        return path

    def finish(self, key: str, part: Path, made: Made) -> Made:
        """Make the set findable; those used longest ago make room. What is open stays readable."""
        data, listed = self._folder / f"{key}{_DATA}", self._folder / f"{key}{_LIST}"
        said = {
            "format": FORMAT,
            "places": made.places,
            "matrix": made.matrix,
            "damage": made.damage,
            "gradual": made.gradual,
        }
        try:
            fresh = part.with_suffix(f"{_LIST}{_PART}")
            fresh.write_text(json.dumps(said), "utf-8")
            part.replace(data)
            fresh.replace(listed)
        except OSError as fault:
            raise not_written(self._folder, fault) from None
        self._make_room(key)
        return replace(made, data=data)

    def _sweep(self) -> None:
        """Remove what a process that is gone left unfinished."""
        for part in self._folder.glob(f"*{_PART}"):
            owner = part.name.split(".")[1]
            if owner.isdigit() and not _is_running(int(owner)):
                part.unlink(missing_ok=True)

    def _make_room(self, kept: str) -> None:
        files = dict(self._files())
        held = sum(found.st_size for found in files.values())
        listed = (path for path in files if path.suffix == _LIST and path.stem != kept)
        for path in sorted(listed, key=lambda one: files[one].st_mtime):
            if held <= self._most:
                return
            data = path.with_suffix(_DATA)
            held -= sum(files[one].st_size for one in (path, data) if one in files)
            with suppress(OSError):  # held open elsewhere on some systems; it goes next time
                path.unlink(missing_ok=True)
                data.unlink(missing_ok=True)

    def _files(self) -> Iterator[tuple[Path, os.stat_result]]:
        """What lies here, less what other processes rename or remove meanwhile."""
        for file in self._folder.iterdir():
            with suppress(FileNotFoundError):
                yield file, file.stat()


def not_written(folder: Path, fault: OSError) -> VideoError:
    """The error for a store that cannot be written, such as a full disk."""
    return refused(
        "small-pictures-not-kept",
        folder,
        message(
            "Small pictures cannot be kept ({reason}): dragging will be slower, all else is as before.",
            reason=reason(fault),
        ),
        message("Make room on the disk, or set the place or the limit in the settings."),
    )


def _read(said: Any, data: Path) -> Made | None:
    places = tuple((int(start), int(length)) for start, length in said["places"])
    end = max((start + length for start, length in places), default=0)
    if said["format"] != FORMAT or not data.is_file() or data.stat().st_size < end:
        return None
    return Made(data, places, int(said["matrix"]), tuple(map(int, said["damage"])), bool(said["gradual"]))


def _is_running(process: int) -> bool:
    try:
        os.kill(process, 0)
    except ProcessLookupError:
        return False
    except OSError:
        return True
    return True
