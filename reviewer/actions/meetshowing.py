"""A meet at a glance: which routines have a recording, which are unclear, and what is indexed so far."""

from collections.abc import Collection, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer.actions.meetmatching import Fits, fits_of
from reviewer.actions.meetrecordings import recordings_below, recordings_folder
from reviewer.exchange.meets import read_meet
from reviewer.terms.meets import Meet, Start


@dataclass(frozen=True, slots=True)
class _Matching:
    """The routines of a meet against the recordings that are there now."""

    meet: Meet
    there: Collection[str]
    fits: Fits

    def lacking(self) -> Sequence[Start]:
        """Routines without a recording, that nobody said have none."""
        return [one for one in self.meet.starts if not one.recordings and not one.by_hand]

    def unclear(self) -> list[dict[str, Any]]:
        """Those of them that several recordings fit, or one that fits others too."""
        fits = self.fits.of_start
        names = [one.name for one in self.lacking() if one.name in fits and self.fits.only(one.name) is None]
        return [{"start": name, "candidates": list(fits[name])} for name in names]

    def to_json(self) -> dict[str, Any]:
        """The part of ``reviewer.meet-list/1`` that is about matching."""
        starts, matched = self.meet.starts, {path for one in self.meet.starts for path in one.recordings}
        unclear = self.unclear()
        said = {one["start"] for one in unclear}
        candidates = {path for one in unclear for path in one["candidates"]}
        plain = [one.name for one in self.lacking() if self.fits.only(one.name) is not None]
        without = [one.name for one in starts if not one.recordings and one.name not in said]
        gone = [(one.name, path) for one in starts for path in one.recordings if path not in self.there]
        return {
            "routines": len(starts),
            "matched": sum(bool(one.recordings) for one in starts),
            "by_hand": sum(one.by_hand for one in starts),
            "unclear": unclear,
            "without_recording": without,
            "new": plain,
            "without_routine": [path for path in self.there if path not in matched | candidates],
            "gone": [{"start": start, "recording": path} for start, path in gone],
        }


def meet_list(folder: Path, meet: Meet | None = None) -> dict[str, Any]:
    """``reviewer.meet-list/1``: the whole list; DocumentError where there is no meet, or a folder is gone."""
    meet = meet or read_meet(folder)
    there = dict(recordings_below(recordings_folder(folder, meet)))
    taken = {path for one in meet.starts if one.by_hand for path in one.recordings}
    fits = fits_of(
        (one.name for one in meet.starts), (path for path in there if path not in taken), meet.pattern
    )
    return {
        "format": "reviewer.meet-list/1",
        "meet": str(folder),
        "rule_book": meet.rule_book,
        "recordings": len(there),
        "pattern": meet.pattern,
        **_Matching(meet, there, fits).to_json(),
    }
