"""A meet at a glance: which routines have a recording, which are unclear, and what is indexed so far."""

import os
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer.actions.meetholding import CASES
from reviewer.actions.meetmatching import Fits, fits_of
from reviewer.actions.meetrecordings import recordings_below, recordings_folder
from reviewer.exchange.meets import read_meet
from reviewer.shelf import Register, has_register, open_register
from reviewer.terms.meets import Meet, Start
from reviewer.terms.shelving import Stamp


@dataclass(frozen=True, slots=True)
class _Matching:
    """The routines of a meet against the recordings that are there now."""

    meet: Meet
    there: Mapping[str, Stamp]
    fits: Fits

    def lacking(self) -> Sequence[Start]:
        """Routines without a recording, that nobody said have none."""
        return [one for one in self.meet.starts if not one.recordings and not one.by_hand]

    def unclear(self) -> list[dict[str, Any]]:
        """Those of them that several recordings fit, or one that fits others too."""
        fits = self.fits.of_start
        names = [one.name for one in self.lacking() if one.name in fits and self.fits.only(one.name) is None]
        return [{"start": name, "candidates": list(fits[name])} for name in names]

    def shared(self) -> list[dict[str, Any]]:
        """Recordings that were given to several routines, which is right only of one that holds them all."""
        of: dict[str, list[str]] = {}
        for one in self.meet.starts:
            for path in one.recordings:
                of.setdefault(path, []).append(one.name)
        return [{"recording": path, "starts": names} for path, names in of.items() if len(names) > 1]

    def gone(self) -> list[tuple[str, str]]:
        """Routines with a recording that is not there any more."""
        return [
            (one.name, path) for one in self.meet.starts for path in one.recordings if path not in self.there
        ]

    def to_json(self) -> dict[str, Any]:
        """The part of ``reviewer.meet-list/1`` that is about matching."""
        starts, matched = self.meet.starts, {path for one in self.meet.starts for path in one.recordings}
        unclear = self.unclear()
        said = {one["start"] for one in unclear}
        candidates = {path for one in unclear for path in one["candidates"]}
        return {
            "routines": len(starts),
            "matched": sum(bool(one.recordings) for one in starts),
            "by_hand": sum(one.by_hand for one in starts),
            "unclear": unclear,
            "without_recording": [one.name for one in starts if not one.recordings and one.name not in said],
            "new": [one.name for one in self.lacking() if self.fits.only(one.name) is not None],
            "shared": self.shared(),
            "without_routine": [path for path in self.there if path not in matched | candidates],
        }


def meet_list(folder: Path, meet: Meet | None = None) -> dict[str, Any]:
    """``reviewer.meet-list/1``: the whole list; DocumentError where there is no meet, or a folder is gone."""
    meet = meet or read_meet(folder)
    matching = _matching(folder, meet)
    return {
        "format": "reviewer.meet-list/1",
        "meet": str(folder),
        "rule_book": meet.rule_book,
        "pattern": meet.pattern,
        "recordings": len(matching.there),
        **matching.to_json(),
        "cases": len(_cases(folder) & {one.name for one in meet.starts}),
        **_indexed(folder, matching),
    }


def unclear_recordings(folder: Path, meet: Meet) -> dict[str, tuple[str, ...]]:
    """Routines without a recording, and those that may be theirs; DocumentError where a folder is gone."""
    return {one["start"]: tuple(one["candidates"]) for one in _matching(folder, meet).unclear()}


def _matching(folder: Path, meet: Meet) -> _Matching:
    there = dict(recordings_below(recordings_folder(folder, meet)))
    taken = {path for one in meet.starts if one.by_hand for path in one.recordings}
    free = (path for path in there if path not in taken)
    return _Matching(meet, there, fits_of((one.name for one in meet.starts), free, meet.pattern))


def _cases(folder: Path) -> set[str]:
    try:
        return {name.removesuffix(".case") for name in os.listdir(folder / CASES)}
    except FileNotFoundError:
        return set()


def _indexed(folder: Path, matching: _Matching) -> dict[str, Any]:
    """What is known of the recordings: read so far, what is wrong with them, which are the same."""
    if not has_register(folder):
        return _known({}, matching, None)
    with open_register(folder) as register:
        return _known(register.stamps(), matching, register)


def _known(read: Mapping[str, Stamp], matching: _Matching, register: Register | None) -> dict[str, Any]:
    current = {path for path, stamp in matching.there.items() if read.get(path) == stamp}
    same = [] if register is None else register.same()
    problems = [] if register is None else [one for path, one in register.problems() if path in current]
    doubled = ([path for path in paths if path in current] for paths in same)
    return {
        "indexed": len(current),
        "frames": 0 if register is None else register.frames(),
        "doubled": [paths for paths in doubled if len(paths) > 1],
        "gone": [
            {"start": start, "recording": path, "now": _now(path, same, current)}
            for start, path in matching.gone()
        ],
        "problems": [one.to_json() for one in problems],
    }


def _now(path: str, same: Sequence[Sequence[str]], current: set[str]) -> str | None:
    """A recording that is there with the bytes of one that is gone."""
    return next((one for paths in same if path in paths for one in paths if one in current), None)
