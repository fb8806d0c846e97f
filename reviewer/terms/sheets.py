"""The score sheet: a ledger whose every line names its clause, its marks and its reason."""

from dataclasses import dataclass

from reviewer.terms.exact import Points
from reviewer.terms.marks import CastAngle
from reviewer.terms.messages import Message
from reviewer.terms.problems import Problem

PARTS = ("start-value", "execution", "neutral")
"""The parts of a score that an audit may be limited to."""
STAGES = ("start-value", "execution", "neutral", "courtesy")
"""Stages whose lines carry points, in the order they are taken."""


@dataclass(frozen=True, slots=True)
class Line:
    """One movement of points. Losses are negative.

    Attributes:
        clause: id of the rule-book clause.
        stage: one of `STAGES`.
        judge: the judge's letter for a line of one judge's score, else None.
        points: what moved.
        marks: ids of the marks that caused it.
        why: the reason, for people.
        source: what the clause rests on: a published place, ``common practice, no source`` or
            ``from memory``.
    """

    clause: str
    stage: str
    judge: str | None
    points: Points
    marks: tuple[str, ...]
    why: Message
    source: str


@dataclass(frozen=True, slots=True)
class NotEarned:
    """Credit that was withheld, and why: ``reason`` is one of the contract's closed list."""

    clause: str
    marks: tuple[str, ...]
    reason: str
    why: Message


@dataclass(frozen=True, slots=True)
class JudgeScore:
    """One judge's score: start value less that judge's deductions."""

    judge: str
    score: Points


@dataclass(frozen=True, slots=True)
class NotTaken:
    """A marked fault that costs nothing, or less than marked, because another clause says so."""

    clause: str
    judge: str | None
    marks: tuple[str, ...]
    why: Message


NOTES = (
    "one-error",
    "not-on-top",
    "cannot-tell",
    "role-not-allowed",
    "credit-given",
    "time-limit",
    "panel-size",
    "spread",
    "not-counting",
    "requirement-missing",
    "only-slowed",
    "length-within",
    "judge-unsaid",
)
"""What a sheet may remark without moving points."""


@dataclass(frozen=True, slots=True)
class Note:
    """A remark that moves no points: ``code`` is one of `NOTES`, ``clause`` what it rests on, or None."""

    code: str
    clause: str | None
    marks: tuple[str, ...]
    why: Message


@dataclass(frozen=True, slots=True)
class Spreading:
    """How far apart the counting judges' scores lie, and how far they may; by the clause of the band."""

    spread: Points
    allowed: Points
    clause: str

    @property
    def within(self) -> bool:
        """Whether they lie close enough."""
        return self.spread <= self.allowed


FACT, JUDGEMENT, READING = "fact", "judgement", "reading"
"""What a decision is about: what can be asked (facts, start value, neutral deductions), judgement of
execution, or the reading of a clause that the rule leaves open."""


@dataclass(frozen=True, slots=True)
class Decision:
    """A choice that the marks or the rules leave open: ``kind`` is `FACT`, `JUDGEMENT` or `READING`.

    ``clause`` is the clause left open, for a reading.
    """

    marks: tuple[str, ...]
    why: Message
    kind: str = JUDGEMENT
    clause: str | None = None


@dataclass(frozen=True, slots=True)
class Range:
    """Final scores that some choices allow.

    Attributes:
        scores: every one of them, rising (empty where only bounds are known).
        low, high: least and greatest.
        exact: False when low and high are bounds only: no score lies outside, not every one is reached.
    """

    scores: tuple[Points, ...]
    low: Points
    high: Points
    exact: bool


@dataclass(frozen=True, slots=True)
class Reachable(Range):
    """The final scores that the rule book, read as chosen, allows on these marks; what spans them."""

    decisions: tuple[Decision, ...]


@dataclass(frozen=True, slots=True)
class PanelHeld:
    """A posted score held against what a panel of so many judges may come to.

    Attributes:
        judges: how many.
        reached: whether it may; None where that cannot be told.
        nearest: the nearest score to which it may.
    """

    judges: int
    reached: bool | None
    nearest: Points


@dataclass(frozen=True, slots=True)
class Room:
    """The reachable scores taken apart.

    Attributes:
        facts: with execution as marked, and all that can be asked left open.
        judgement: with all that can be asked as scored, and execution left open.
        readings: with every reading that the rules leave open as well; None where none touches these marks.
        open_readings: those that touch these marks.
    """

    facts: Range
    judgement: Range
    readings: Range | None
    open_readings: tuple[Decision, ...]


@dataclass(frozen=True, slots=True)
class CastDecided:
    """How a cast that decides was counted, and what that rests on.

    Attributes:
        mark: the element's id.
        state: how it was counted: ``met``, ``within``, ``short`` or ``not seen``.
        left_open: every state its angle or verdict leaves open, the gymnast's best first.
        angle: the angle or verdict, by eye or by protractor; None where nothing was said.
    """

    mark: str
    state: str
    left_open: tuple[str, ...]
    angle: CastAngle | None


@dataclass(frozen=True, slots=True)
class FullSpeed:
    """The score of what could be seen at full speed: without the marks that only slow motion shows.

    ``reachable`` are the scores that the rest leaves open: what a panel at full speed may have given.
    """

    judges: tuple[JudgeScore, ...]
    final_score: Points
    left_out: tuple[str, ...]
    reachable: Range


@dataclass(frozen=True, slots=True)
class Totals:
    """What marks come to, without the ledger."""

    start_value: Points
    final_score: Points


@dataclass(frozen=True, slots=True)
class ScoreSheet:
    """The score as a ledger, derived from marks and one edition of a rule book.

    Attributes:
        rule_book: id and SHA-256 of the edition.
        start_value: after the start-value lines; the difficulty in a book that adds it after the average.
        value_parts: how many elements are credited, also above the number needed.
        judges: each judge's score.
        panel_average: by the book's panel rule.
        final_score: after neutral deductions and the courtesy line.
        reachable: the scores that the marks leave open.
        lines: the ledger, in stage order.
        not_earned: credit withheld.
        chosen: ids of the clauses taken in their other reading, sorted.
        spread: how far apart the judges lie, or None with one judge or no band.
        not_taken: marked faults that cost nothing or less than marked.
        notes: remarks that move no points.
        casts: how each cast that decides was counted.
        full_speed: the score without what only slow motion shows, or None where nothing was seen so.
        problems: what in the marks cannot be scored as it stands; empty for a sound sheet.
    """

    rule_book: tuple[str, str]
    start_value: Points
    value_parts: int
    judges: tuple[JudgeScore, ...]
    panel_average: Points
    final_score: Points
    reachable: Reachable
    lines: tuple[Line, ...]
    not_earned: tuple[NotEarned, ...]
    chosen: tuple[str, ...] = ()
    spread: Spreading | None = None
    not_taken: tuple[NotTaken, ...] = ()
    notes: tuple[Note, ...] = ()
    casts: tuple[CastDecided, ...] = ()
    full_speed: FullSpeed | None = None
    problems: tuple[Problem, ...] = ()
