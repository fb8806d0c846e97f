"""What a clip is to show, as a person asks for it."""

from dataclasses import dataclass
from fractions import Fraction

from reviewer.actions.audit import AuditError
from reviewer.terms.consents import COACH, INQUIRY, TEACHING
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import ENGLISH

LONGEST = 600
"""Seconds that a lead-in, a run-out, a still frame or a card may last."""
SLOWEST, QUICKEST = Fraction(1, 100), Fraction(4)
CLIP_USES = (TEACHING, COACH, INQUIRY)
"""What a clip may be for."""


@dataclass(frozen=True, slots=True)
class ClipWish:
    """A passage of a case, and how it is shown.

    Attributes:
        mark: id of the mark it is about; its time is the passage, its decisive frame stands still.
        recording: SHA-256 of the recording of ``frames``; None for the mark's, or the first that counts.
        frames: first and last frame, in place of the mark's time.
        lead_in, run_out: seconds before and after a mark's time.
        speed: 1 as it was, 1/4 four times as slow.
        freeze: frame that stands still, in place of the mark's decisive one.
        freeze_for: seconds it stands, besides its own time; 0 for not at all.
        drawn: whether what was measured is drawn over its frames.
        captioned: whether words about the mark stand beneath the picture.
        caption: these words in place of those about the mark.
        beside: SHA-256 of another recording of the case, shown beside it in time; or None.
        language: of the words.
    """

    mark: str | None = None
    recording: str | None = None
    frames: tuple[int, int] | None = None
    lead_in: Fraction = Fraction(1)
    run_out: Fraction = Fraction(1)
    speed: Fraction = Fraction(1)
    freeze: int | None = None
    freeze_for: Fraction = Fraction(0)
    drawn: bool = True
    captioned: bool = True
    caption: str | None = None
    beside: str | None = None
    language: str = ENGLISH


def speed_of(text: str, where: str) -> Fraction:
    """A speed such as ``1/4`` or ``0.25``; an AuditError for another."""
    try:
        found = Fraction(text)
    except (ValueError, ZeroDivisionError):
        found = Fraction(0)
    if not SLOWEST <= found <= QUICKEST or found.denominator > 1000:
        said = message("{text} is no speed a clip can have.", text=repr(text))
        remedy = message(
            "Write one from {slowest} to {quickest}, such as 1, 1/2 or 0.25.",
            slowest=SLOWEST,
            quickest=QUICKEST,
        )
        raise AuditError(Problem("no-speed", where, said, remedy))
    return found


def seconds_of(text: str, where: str) -> Fraction:
    """Seconds as decimal text with at most three places; an AuditError for another."""
    whole, _, places = text.partition(".")
    sound = text.isascii() and whole.isdigit() and len(places) <= 3 and (not places or places.isdigit())
    if not sound or text.endswith(".") or Fraction(text) > LONGEST:
        said = message("{text} is no length of time.", text=repr(text))
        remedy = message("Write seconds from 0 to {longest}, such as 1.5.", longest=LONGEST)
        raise AuditError(Problem("no-seconds", where, said, remedy))
    return Fraction(text)
