"""The score sheet: a ledger whose every line names its clause, its marks and its reason."""

from dataclasses import dataclass

from reviewer.terms.exact import Points
from reviewer.terms.messages import Message
from reviewer.terms.problems import Problem

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
class Decision:
    """A choice that the marks leave open and that moves the final score."""

    marks: tuple[str, ...]
    why: Message


@dataclass(frozen=True, slots=True)
class Reachable:
    """The final scores that the rule book allows on these marks.

    Attributes:
        scores: every reachable score, rising (empty where only bounds are known).
        low, high: least and greatest.
        exact: False when low and high are bounds only.
        decisions: what spans the scores.
    """

    scores: tuple[Points, ...]
    low: Points
    high: Points
    exact: bool
    decisions: tuple[Decision, ...]


@dataclass(frozen=True, slots=True)
class ScoreSheet:
    """The score as a ledger, derived from marks and one edition of a rule book.

    Attributes:
        rule_book: id and SHA-256 of the edition.
        start_value: after the start-value lines.
        value_parts: how many elements are credited, also above the number needed.
        judges: each judge's score.
        panel_average: by the book's panel rule.
        final_score: after neutral deductions and the courtesy line.
        reachable: the scores that the marks leave open.
        lines: the ledger, in stage order.
        not_earned: credit withheld.
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
    problems: tuple[Problem, ...] = ()
