"""The angle of a mark in words, and what becomes of a call made at full speed when it is measured."""

from collections.abc import Iterator

from reviewer.terms.intervals import expanded, tenths, told
from reviewer.terms.marks import CastAngle, Mark
from reviewer.words import Saying


def angle_words(angle: CastAngle, say: Saying) -> str:
    """The angle or the verdict with its means, and what was called at full speed before."""
    found = say("{angle} by {means}", angle=_size(angle, say), means=say.word(angle.by))
    if angle.at_full_speed is None:
        return found
    called = say("called {angle} at full speed", angle=_size(angle.at_full_speed, say))
    return f"{found}, {called}"


def seen_words(mark: Mark, say: Saying) -> Iterator[str]:
    """What an angle found now does to how the mark was seen, in a sentence; nothing where it does nothing."""
    later = mark.found_later(CastAngle("protractor"))
    if later.angle is not None and later.angle.at_full_speed is not None:
        called = _size(later.angle.at_full_speed, say)
        yield say("What was called at full speed stays beside it: {angle}.", angle=called)
    elif later.seen != mark.seen:
        yield say("{mark} is seen slowed down from now on.", mark=mark.id)


def _size(angle: CastAngle, say: Saying) -> str:
    if angle.value is None:
        return say.word(angle.verdict or "")
    if angle.uncertainty is None:
        return f"{tenths(angle.value)}°"
    return told(angle.value, expanded(angle.uncertainty), "°")
