"""Which element a fault belongs to by its time: when it is moved, and when elements are marked around it."""

from collections.abc import Sequence
from typing import Protocol

from reviewer.terms.marks import Mark
from reviewer.words import Saying


class Places(Protocol):
    """Marks, and where they lie on the recording on the screen."""

    say: Saying

    @property
    def marks(self) -> Sequence[Mark]:
        """In routine order."""

    def mark(self, mark_id: str | None) -> Mark | None:
        """A mark by id."""

    def moment_here(self, mark: Mark) -> int | None:
        """The tick a mark is shown at."""

    def tick_here(self, recording: str | None, pts: int | None) -> int | None:
        """A recording's tick in the time of the one on the screen."""

    def element_at(self, pts: int | None) -> Mark | None:
        """The element that covers a tick, else the last begun."""

    def key(self, does: str) -> str:
        """The first key of an action."""


def home_of(places: Places, fault: Mark) -> str | None:
    """Id of the element a fault belongs to by its time: its own while that lasts or has no time itself."""
    pts, own = places.moment_here(fault), places.mark(fault.element)
    begun = None if own is None else places.moment_here(own)
    if pts is None or (own is not None and (begun is None or _lasts(places, own, begun, pts))):
        return fault.element
    found = places.element_at(pts)
    timed = found is not None and places.moment_here(found) is not None
    return found.id if found is not None and timed else fault.element


def _lasts(places: Places, element: Mark, begun: int, pts: int) -> bool:
    end = places.tick_here(element.recording, element.end)
    return end is not None and begun <= pts <= end


def home_after(places: Places, before: Mark, after: Mark) -> str | None:
    """Id of the element of a fault that was moved; one that a judge gave it stays within the same element."""
    home = home_of(places, after)
    return after.element if home == home_of(places, before) else home


def home_words(places: Places, before: Mark) -> str:
    """That a moved fault belongs to another element now; empty where it does not."""
    now = places.mark(before.id)
    element = places.mark(now.element) if now is not None else None
    if now is None or element is None or now.element == before.element:
        return ""
    return places.say("It belongs to {element} now.", element=f"{element.code} {element.id}")


def straying(places: Places, mark: Mark) -> tuple[Mark, ...]:
    """The faults within an element that belong to none or to one elsewhere; of a fault, itself if it does."""
    faults = [one for one in places.marks if one.kind == "fault"]
    if mark.kind == "element":
        return tuple(one for one in faults if one.element != mark.id and home_of(places, one) == mark.id)
    return tuple(one for one in faults if one.id == mark.id and home_of(places, one) != one.element)


def offer_words(places: Places, mark: Mark | None) -> str:
    """Which faults within an element belong elsewhere, and the key that attaches them; empty for none."""
    strays = straying(places, mark) if mark is not None else ()
    if not strays:
        return ""
    named = ", ".join(f"{one.code} {one.id}" for one in strays)
    key = places.key("attach")
    return places.say(
        "Within it lies what belongs elsewhere: {faults}. {key} attaches it.", faults=named, key=key
    )
