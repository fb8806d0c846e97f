"""The stretch of a recording that a clip shows, and what is known of its frames."""

from bisect import bisect_left, bisect_right
from collections.abc import Mapping
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.covering import Covered, covers_on
from reviewer.actions.evidencing import decisive_frame, drawn_on
from reviewer.actions.marking import counting_recording
from reviewer.actions.passages import passages_of
from reviewer.casefile import RecordingCited
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.passages import Passage
from reviewer.terms.problems import Problem
from reviewer.terms.shapes import Shape
from reviewer.words import saying


@dataclass(frozen=True, slots=True)
class Side:
    """A stretch of one recording as a clip shows it.

    Attributes:
        case: name of the case.
        path: where the recording lies.
        cited: what the case says of it.
        number: its place among those of the case, from 1.
        size: width and height of its pictures as displayed.
        first, last: frames.
        decisive: the frame that may stand still, or None.
        covered: what hides heads on its frames.
        shapes: what was measured, by frame.
        shift: seconds to add to a time of the recording to have that of the clip at full speed.
    """

    case: str
    path: Path
    cited: RecordingCited
    number: int
    size: tuple[int, int]
    first: int
    last: int
    decisive: int | None
    covered: Covered
    shapes: Mapping[int, tuple[Shape, ...]]
    shift: Fraction

    def begins(self, frame: int) -> Fraction:
        """When a frame comes on screen, in seconds of the clip at full speed."""
        return seconds(self.cited, self.cited.pts[frame]) + self.shift

    @property
    def ends(self) -> Fraction:
        """When the last frame leaves the screen."""
        return seconds(self.cited, self.cited.on_screen(self.cited.pts[self.last])[1]) + self.shift

    def moved(self, shift: Fraction) -> "Side":
        """The same with other times in the clip."""
        return replace(self, shift=shift)

    def covering(self, end: Fraction) -> "Side | None":
        """The frames on screen from the clip's beginning up to a time; None where there are none."""
        times = [self.begins(frame) for frame in range(len(self.cited.pts))]
        first, last = max(0, bisect_right(times, Fraction(0)) - 1), bisect_left(times, end) - 1
        if last < 0 or replace(self, last=len(times) - 1).ends <= 0:
            return None
        return replace(self, first=first, last=last)


def seconds(cited: RecordingCited, tick: int) -> Fraction:
    """A tick as exact seconds."""
    return Fraction(tick * cited.base.numerator, cited.base.denominator)


def side_of(audit: Audit, wish: ClipWish) -> Side:
    """What a wish is about, from the clip's time 0 on; an AuditError where nothing of the kind is there."""
    mark = _mark(audit, wish.mark) if wish.mark is not None else None
    passage = _passage(audit, mark) if mark is not None else None
    recording = wish.recording or (passage.recording if passage else None) or counting_recording(audit)
    if recording is None:
        said = message("The case cites no recording, so there is nothing to show.")
        raise AuditError(Problem("no-recording", audit.path.name, said, message("Name a case that has one.")))
    first, last = wish.frames or _around(audit, passage, wish)
    found = _from_frame(whole_side(audit, recording, wish), first, last, wish.freeze)
    own = decisive_frame(audit, mark) if mark is not None and wish.freeze is None else None
    return replace(found, decisive=own) if own is not None and first <= own <= last else found


def whole_side(audit: Audit, recording: str, wish: ClipWish) -> Side:
    """A whole recording of the case, in its own time; an AuditError where it is not at hand."""
    cited, facts = audit.cited(recording), audit.facts_of(recording)
    if facts is None:
        number = audit.number_of(recording)
        said = message(
            "Recording {number} is not at hand: it was not found unchanged where it last lay.", number=number
        )
        remedy = message("Put it beside the case, or name it with `--film`.")
        raise AuditError(Problem("recording-not-here", audit.path.name, said, remedy))
    shapes = drawn_on(audit, recording, facts.displayed, saying(wish.language)) if wish.drawn else {}
    return Side(
        case=audit.path.name,
        path=audit.recording_paths[recording],
        cited=cited,
        number=audit.number_of(recording),
        size=facts.displayed,
        first=0,
        last=cited.frames - 1,
        decisive=None,
        covered=covers_on(audit, recording),
        shapes=shapes,
        shift=Fraction(0),
    )


def passage_named(audit: Audit, mark_id: str) -> Passage:
    """A mark as it may be told outside; an AuditError for one without a time, or of an attempt set aside."""
    return _passage(audit, _mark(audit, mark_id))


def _from_frame(whole: Side, first: int, last: int, freeze: int | None) -> Side:
    frames = len(whole.cited.pts)
    for frame in (first, last, *([] if freeze is None else [freeze])):
        if not 0 <= frame < frames:
            said = message("The recording has frames 0 to {frames}.", frames=frames - 1)
            raise AuditError(
                Problem("frame-out-of-range", f"frame {frame}", said, message("Name one of these."))
            )
    if first > last:
        said = message("Frame {first} comes after frame {last}.", first=first, last=last)
        raise AuditError(
            Problem("frames-turned", f"frames {first} to {last}", said, message("Name the earlier first."))
        )
    if freeze is not None and not first <= freeze <= last:
        said = message(
            "The clip goes from frame {first} to {last}, and frame {freeze} is not in it.",
            first=first,
            last=last,
            freeze=freeze,
        )
        raise AuditError(
            Problem("frame-outside", f"frame {freeze}", said, message("Let another frame stand still."))
        )
    shift = -seconds(whole.cited, whole.cited.pts[first])
    return replace(whole, first=first, last=last, decisive=freeze, shift=shift)


def _mark(audit: Audit, mark_id: str) -> Mark:
    found = next((one for one in audit.marks if one.id == mark_id), None)
    if found is None:
        said = message("The case has no such mark.")
        raise AuditError(Problem("unknown-mark", mark_id, said, message("See `reviewer marks list`.")))
    return found


def _passage(audit: Audit, mark: Mark) -> Passage:
    places = [one.id for one in audit.marks if one.id not in set(audit.set_aside)]
    if mark.id not in places:
        said = message("This mark is of an attempt that does not count.")
        raise AuditError(
            Problem("set-aside", mark.id, said, message("Name frames of its recording in its place."))
        )
    found = passages_of(audit)[places.index(mark.id)]
    if found.start is None:
        said = message("This mark has no time on a recording.")
        raise AuditError(
            Problem("untimed", mark.id, said, message("Put it on a frame first, or name frames."))
        )
    return found


def _around(audit: Audit, passage: Passage | None, wish: ClipWish) -> tuple[int, int]:
    """The frames on screen from the lead-in on to the run-out's end, as far as the recording goes."""
    if passage is None or passage.start is None or passage.end is None:
        said = message("Neither a mark nor frames are named.")
        remedy = message("Name a mark, or a first and a last frame.")
        raise AuditError(Problem("no-passage", audit.path.name, said, remedy))
    cited = audit.cited(passage.recording)
    times = [seconds(cited, tick) for tick in cited.pts]
    begin = seconds(cited, passage.start) - wish.lead_in
    end = seconds(cited, passage.end) + wish.run_out
    return max(0, bisect_right(times, begin) - 1), max(0, bisect_left(times, end) - 1)
