"""What must hold for each thing that an event says."""

import re
from collections.abc import Callable, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise
from typing import Any

from reviewer.terms.consents import USES
from reviewer.terms.covers import Cover
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import FINDINGS, Answer, Inquiry
from reviewer.terms.marks import CREDITS, CastAngle
from reviewer.terms.measures import Measure
from reviewer.terms.rulebook import OTHER, STATED
from reviewer.terms.vocabulary import TAKEN

MOST_FRAMES = 10_000_000
"""Frames of the longest recording a case may cite: 46 hours at 60 a second."""

MOST_ATTEMPTS = 99
"""The highest number an attempt may have."""

CONFERENCES = ("before", "after")
"""When a panel's scores were given: before the judges conferred, or after."""

Check = Callable[[Any], bool]


def is_text(said: Any) -> bool:
    """Text, also empty."""
    return isinstance(said, str)


def is_name(said: Any) -> bool:
    """Text that is not empty."""
    return isinstance(said, str) and bool(said)


def is_whole(said: Any) -> bool:
    """A whole number."""
    return isinstance(said, int) and not isinstance(said, bool)


def is_sha256(said: Any) -> bool:
    """A fingerprint."""
    return isinstance(said, str) and re.fullmatch("[0-9a-f]{64}", said) is not None


def are_hashes(said: Any) -> bool:
    """Fingerprints by name."""
    return isinstance(said, Mapping) and all(map(is_name, said)) and all(map(is_sha256, said.values()))


def parses(parse: Callable[[Any], object]) -> Check:
    """A check that something can be read by ``parse``."""

    def check(said: Any) -> bool:
        try:
            parse(said)
        except (ValueError, TypeError, KeyError, AttributeError):
            return False
        return True

    return check


def is_mark(said: Any) -> bool:
    """Only what reads as a mark and would be written as one: no stray types."""
    if not isinstance(said, Mapping):
        return False
    for key, value in said.items():
        check = _OF_A_MARK.get(key)
        if check is not None and (value is not None or check is are_listed) and not check(value):
            return False
    return all(said.get(key) is not None for key in ("id", "kind", "code"))


def are_listed(said: Any) -> bool:
    """A list of names."""
    return isinstance(said, (list, tuple)) and all(map(is_name, said))


def is_angle(said: Any) -> bool:
    """The angle of a cast, or none."""
    return not said or reads(CastAngle.from_json, said)


def are_points(said: Any) -> bool:
    """Points as text."""
    return isinstance(said, str) and read_as_points(said)


@lru_cache(4096)
def read_as_points(text: str) -> bool:
    """Amounts are few and stand in most marks."""
    return parses(Points.parse)(text)


_OF_A_MARK: Mapping[str, Check] = {
    **dict.fromkeys(("id", "kind", "code", "element", "seen", "judge", "recording", "called"), is_name),
    **dict.fromkeys(("order", "start", "end", "at"), is_whole),
    "roles": are_listed,
    "with": are_listed,
    "angle": is_angle,
    "amount": are_points,
    "clock": parses(Measure.time),
    "length": parses(Measure.length),
    "credit": CREDITS.__contains__,
}
"""What must hold for each key of a mark where it is not None; other keys are not looked at."""


def is_reading(said: Any) -> bool:
    """A reading: its id, and its recording where it is not the first."""
    if not isinstance(said, Mapping) or not is_name(said.get("id")):
        return False
    return said.get("recording") is None or is_sha256(said["recording"])


def is_track(said: Any) -> bool:
    """A reading over time: it has the clicks of several frames, how far it goes, and what was found."""
    clicks = said.get("clicks") if is_reading(said) else None
    return (
        isinstance(clicks, (list, tuple))
        and bool(clicks)
        and all(isinstance(one, Mapping) for one in clicks)
        and is_whole(said.get("span_ms"))
        and isinstance(said.get("track"), Mapping)
    )


def is_length(said: Any) -> bool:
    """A length has the clicks it was measured from, and what was found."""
    return is_reading(said) and all(isinstance(said.get(key), Mapping) for key in ("clicks", "length"))


def is_pool(said: Any) -> bool:
    """A pool names the readings it is made of, and has their common value."""
    if not is_reading(said) or not isinstance(said.get("of"), (list, tuple)):
        return False
    return len(said["of"]) > 1 and all(map(is_name, said["of"])) and isinstance(said.get("pooled"), Mapping)


def is_reading_of_a_rule(said: Any) -> bool:
    """One of the readings a rule leaves open."""
    return said in (STATED, OTHER)


def is_inquiry(said: Any) -> bool:
    """A question: who asks, about what, and what of the sheet it names."""
    if not isinstance(said, Mapping):
        return False
    named = all(is_name(said.get(key)) for key in ("id", "asked_by", "about"))
    return named and reads(Inquiry.from_json, said) and are_names(said, "marks", "clauses")


def is_answer(said: Any) -> bool:
    """An answer to an inquiry."""
    if not isinstance(said, Mapping) or said.get("finding") not in FINDINGS:
        return False
    named = is_name(said.get("inquiry")) and are_names(said, "marks", "readings")
    return named and reads(Answer.from_json, said)


def are_names(said: Mapping[str, Any], *keys: str) -> bool:
    """Whether lists hold ids, and the words beside are the fingerprint of a text."""
    lists = [said.get(key, ()) for key in keys]
    worded = said.get("words") is None or is_sha256(said["words"])
    return worded and all(isinstance(one, (list, tuple)) and all(map(is_name, one)) for one in lists)


def reads(read: Callable[[Mapping[str, Any]], Any], said: Mapping[str, Any]) -> bool:
    """Whether ``read`` takes what is said."""
    try:
        read(said)
    except (AttributeError, KeyError, TypeError, ValueError):
        return False
    return True


def is_conference(said: Any) -> bool:
    """When a panel gave its scores."""
    return said in CONFERENCES


def are_scores(said: Any) -> bool:
    """Judges' scores as text."""
    return (
        isinstance(said, Mapping)
        and bool(said)
        and all(map(is_name, said))
        and all(map(parses(Points.parse), said.values()))
    )


def are_among(known: Sequence[str]) -> Check:
    """A check for lists of known words."""

    def check(said: Any) -> bool:
        return isinstance(said, (list, tuple)) and all(one in known for one in said)

    return check


def is_attempt(said: Any) -> bool:
    """The number of an attempt."""
    return is_whole(said) and 1 <= said <= MOST_ATTEMPTS


def is_size(said: Any) -> bool:
    """A whole number from 0."""
    return is_whole(said) and said >= 0


def are_runs(said: Any) -> bool:
    """Ticks as runs of equal steps."""
    return isinstance(said, (list, tuple)) and bool(said) and all(map(is_run, said))


def is_run(said: Any) -> bool:
    """A start, a step and a count."""
    return isinstance(said, (list, tuple)) and len(said) == 3 and all(map(is_whole, said)) and said[2] > 0


def agrees(payload: Mapping[str, Any]) -> bool:
    """Whether the runs of ticks never fall, begin and end as said and make as many frames as said."""
    runs = payload["pts_runs"]
    ends = [start + step * (count - 1) for start, step, count in runs]
    rising = all(step >= 0 for _, step, _ in runs)
    apart = all(end <= after[0] for end, (_, after) in zip(ends, pairwise(runs), strict=False))
    whole = payload["frames"] == sum(count for _, _, count in runs) <= MOST_FRAMES
    return (
        rising and apart and whole and (payload["first_pts"], payload["last_pts"]) == (runs[0][0], ends[-1])
    )


def are_sheets(said: Any) -> bool:
    """The two sealed sheets of a settlement: whose case, its head, and its marks as they stood."""
    return isinstance(said, (list, tuple)) and len(said) == 2 and all(map(is_sheet, said))


def is_sheet(said: Any) -> bool:
    """Whose case, its head, and its marks as they stood."""
    if not isinstance(said, Mapping) or not isinstance(said.get("marks"), (list, tuple)):
        return False
    named = is_name(said.get("judge")) and all(is_sha256(said.get(key)) for key in ("case", "head"))
    return named and all(map(is_mark, said["marks"]))


def are_marks(said: Any) -> bool:
    """A list of marks."""
    return isinstance(said, (list, tuple)) and all(map(is_mark, said))


def is_taken(said: Any) -> bool:
    """Whose view of a line was taken."""
    return said in TAKEN


def are_pairs(said: Any) -> bool:
    """Pairs of ids of marks."""
    pairs = isinstance(said, (list, tuple)) and all(isinstance(one, (list, tuple)) for one in said)
    return pairs and all(len(one) == 2 and all(map(is_name, one)) for one in said)


def are_judges(said: Any) -> bool:
    """Judges by the id of a fault."""
    return isinstance(said, Mapping) and all(map(is_name, said)) and all(map(is_name, said.values()))


def is_cover(said: Any) -> bool:
    """A cover, or the word that a head is out of sight."""
    return said is None or reads(Cover.from_json, said)


def is_list(said: Any) -> bool:
    """A list of anything."""
    return isinstance(said, (list, tuple))


def is_moment(said: Any) -> bool:
    """A tick, or none."""
    return said is None or is_whole(said)


def is_use(said: Any) -> bool:
    """What something that leaves a case is for."""
    return said in USES


def are_stretches(said: Any) -> bool:
    """Frames of recordings, from first to last."""
    return isinstance(said, (list, tuple)) and all(map(is_stretch, said))


def is_stretch(said: Any) -> bool:
    """First and last frame of a recording."""
    whole = isinstance(said, Mapping) and all(is_size(said.get(key)) for key in ("first", "last"))
    return whole and is_sha256(said.get("recording")) and said["first"] <= said["last"]
