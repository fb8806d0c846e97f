"""A rule case: marks in, lines out, as a judge wrote it down. What is not expected is not compared."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.measures import Measure
from reviewer.terms.posted import PostedRow

Expected = str | tuple["Expected", ...] | Mapping[str, "Expected"]
"""What a case expects, as the file says it: text, lists and fields."""


@dataclass(frozen=True, slots=True)
class PanelAsked:
    """Judges' scores to be made one; ``neutral`` is what is taken from their average."""

    scores: Mapping[str, Points]
    neutral: Points
    difficulty: Points
    reference: Points | None


@dataclass(frozen=True, slots=True)
class InquiryAsked:
    """An inquiry as it is filed.

    Attributes:
        asked_by, about: words of the rule book, such as ``coach`` and ``start value``.
        after: time since the score was shown.
        recording: whether it rests on a recording.
        result: what it would do to the score, or None.
    """

    asked_by: str
    about: str
    after: Measure
    recording: bool
    result: str | None = None


@dataclass(frozen=True, slots=True)
class RuleCase:
    """One case: of the four things asked it has one, ``marks`` where the others are None.

    Attributes:
        name: a sentence about judging.
        where: file and line.
        about: ids of the clauses it speaks of.
        chosen: clause ids taken in their other reading.
        marks: what was marked.
        panel, inquiry, rows: what is asked in place of a score.
        expected: what must come out, by the name of the figure.
    """

    name: str
    where: str
    about: tuple[str, ...]
    chosen: tuple[str, ...]
    marks: tuple[Mark, ...]
    panel: PanelAsked | None
    inquiry: InquiryAsked | None
    rows: tuple[PostedRow, ...] | None
    expected: Mapping[str, Expected] = field(default_factory=dict)
