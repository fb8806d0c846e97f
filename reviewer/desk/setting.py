"""What the protractor is set to: what it measures, against what, and what is known of athlete and bars."""

from __future__ import annotations

from dataclasses import dataclass, replace

from reviewer import measuring
from reviewer.terms.bodylines import BENDS, LEGS, LEVEL, LINES, LOWEST, SHOULDER_OPEN
from reviewer.terms.exact import Degrees, Millimetres, Pixels
from reviewer.terms.readings import NORMS, Clicks, Dimensions, Requirement
from reviewer.terms.rulebook import RuleBook

SPANS_MS = (250, 500, 1000, 2000)
"""How far joints may be followed to each side of a clicked frame."""


@dataclass(frozen=True, slots=True)
class Setting:
    """As the judge has set it.

    Attributes:
        line: what is measured, or empty for the edition's own line.
        against: what a line is held against.
        height: of the athlete, or None where nobody said.
        bars: measures of the apparatus, and the rail that is worked on.
        blur: px by which limbs are smeared, or None.
        span_ms: how far joints are followed.
    """

    line: str = ""
    against: str = LEVEL
    height: Millimetres | None = None
    bars: Dimensions = NORMS
    blur: Pixels | None = None
    span_ms: int = SPANS_MS[0]

    def line_in(self, book: RuleBook | None) -> str:
        """What is measured; the edition says which line a cast is measured by."""
        return self.line or (book.cast.line if book else LINES[0])

    def limit_in(self, book: RuleBook | None) -> Requirement | None:
        """The limit that belongs to what is measured: only a cast's own line has one."""
        own = book is not None and self.line_in(book) == book.cast.line
        return book.cast.requirement if book is not None and own and self.is_elevation(book) else None

    def is_elevation(self, book: RuleBook | None) -> bool:
        """Whether a line's elevation is measured."""
        return measuring.is_elevation(self.line_in(book), self.against)

    def is_of_a_line(self, book: RuleBook | None) -> bool:
        """Whether a line is measured, which may be held against others."""
        line = self.line_in(book)
        return line in LOWEST or (line not in BENDS and line != LEGS and not measuring.is_length(line))

    def is_length(self, book: RuleBook | None) -> bool:
        """Whether millimetres are measured."""
        return measuring.is_length(self.line_in(book))

    def measuring(self, line: str) -> Setting:
        """Set to measure something else, against the horizontal again."""
        return replace(self, line=line, against=LEVEL)

    def as_in(self, clicks: Clicks) -> Setting:
        """What an earlier reading knew of athlete and bars."""
        return replace(self, height=clicks.height, bars=clicks.dimensions)

    def as_kept(self, clicks: Clicks, book: RuleBook | None) -> Setting:
        """What an earlier reading measured, and knew."""
        own = Setting().line_in(book) == clicks.line
        line = "" if own else clicks.line
        return replace(self.as_in(clicks), line=line, against=clicks.against, blur=clicks.blur)


def shoulders_open(book: RuleBook | None) -> Degrees:
    """The shoulder angle up to which the edition counts shoulders as open."""
    return book.cast.shoulders_open if book else SHOULDER_OPEN
