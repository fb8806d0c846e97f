"""What is known of the audited routines of a meet, and the figures that it comes to."""

from collections.abc import Mapping
from dataclasses import dataclass

from reviewer.auditing.intervals import Figure
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, noted

FEW_FOR_A_PERSON = 10
"""Routines below which nothing is concluded about a judge: common practice, no source. At ten the interval of
a bias still reaches 0.7 spreads to either side, that of a spread from 0.7 to 1.8 times what was found."""
FEW_THAT_DIFFER = 10
"""Routines that differ, among more that do not, below which intervals are said to be too narrow: in simulated
meets those of the mean then held what is true in 93 of 100, and where three differed in 86. Student's
interval is not meant for so many noughts; no correction for skewness that was tried helped everywhere."""
NO_RANKING = noted(
    "Judges stand in the order of their letters: no ranking is meant, and none can be read from it."
)
AUDITED, FULL_SPEED, MEDIAN = "audited", "audited at full speed", "median of the panel"
"""What judges' scores are held against."""


@dataclass(frozen=True, slots=True)
class AuditedRoutine:
    """One routine as posted and as audited.

    Attributes:
        name: unique among those handed in.
        stratum: the part of the meet that it was drawn from; empty for a simple sample.
        posted_start, posted_final: None where not posted.
        audited_start, audited_final: as the auditor's marks come to.
        reachable: whether the posted final score is among those that the audited marks allow; None where that
            cannot be told, or no score was posted.
        judges: each panel judge's posted score, by letter.
        audited: what the auditor's marks come to as a judge's score, before neutral deductions.
        at_full_speed: the same, of what was seen at full speed alone.
        final_at_full_speed: the final score of that.
        misapplied: clauses that explain a wrong start value or neutral deduction, True for certain, False for
            possibly.
    """

    name: str
    stratum: str
    posted_start: Points | None
    audited_start: Points
    posted_final: Points | None
    audited_final: Points
    reachable: bool | None
    judges: Mapping[str, Points]
    audited: Points
    at_full_speed: Points
    final_at_full_speed: Points
    misapplied: Mapping[str, bool]


@dataclass(frozen=True, slots=True)
class Whole:
    """The meet that the audited routines are part of.

    Attributes:
        strata: how many routines it has in each stratum; of a simple sample, all of them by the empty name.
        by_lot: whether the routines were drawn by lot. Only then does an interval speak of the meet.
    """

    strata: Mapping[str, int]
    by_lot: bool


@dataclass(frozen=True, slots=True)
class Led:
    """A figure, and the routines that it leads to.

    Attributes:
        figure: a share, or points; ``number`` is how many routines it rests on, ``least`` is not told.
        routines: of a share those that have it, by name; of anything else those that differ, the largest
            difference first.
    """

    figure: Figure
    routines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Difference:
    """Posted less audited, in points: its mean, and its standard deviation over the routines of the meet."""

    mean: Led
    spread: Led


@dataclass(frozen=True, slots=True)
class Stratum:
    """A part of the meet: how many routines it has, and how many of them were audited."""

    name: str
    of: int
    audited: int


@dataclass(frozen=True, slots=True)
class ClauseFigures:
    """How often a clause was misapplied: certainly, and certainly or possibly; shares of audited routines."""

    clause: str
    certain: Led
    possible: Led


@dataclass(frozen=True, slots=True)
class JudgeFigures:
    """One judge's scores less the audited ones.

    Attributes:
        judge: the letter.
        number: of audited routines that this judge scored.
        audited: against all that the auditor saw.
        at_full_speed: against what was seen at full speed alone, as the panel saw it.
        enough: whether there are `FEW_FOR_A_PERSON` routines at least.
        says: what may be concluded, in words.
    """

    judge: str
    number: int
    audited: Difference
    at_full_speed: Difference
    enough: bool
    says: Message


@dataclass(frozen=True, slots=True)
class JudgeError:
    """One judge's errors as multiples of what is usual at that level.

    Attributes:
        judge: the letter.
        relative_error: root of the mean square; 0 is without error, 1 the average judge of these panels.
        tendency: mean; above 0 is above the control score.
    """

    judge: str
    relative_error: Led
    tendency: Led


@dataclass(frozen=True, slots=True)
class ErrorCurve:
    """How far judges usually lie from the control score, by the level of the routine: the published model.

    The usual error at a level is ``error * factor ** (level - middle)``, levels in points.

    Attributes:
        against: the control score: `AUDITED`, `FULL_SPEED` or `MEDIAN`.
        number: of routines.
        scores: how many scores of judges it rests on.
        lowest, middle, highest: the least, the median and the greatest control score; None where not fitted.
        error: the usual error at the middle, in points; None where not fitted.
        factor: by which it is multiplied for each point of the control score more; None where not fitted.
        judges: in the order of letters; empty where not fitted.
        why: why it was not fitted; None where it was.
    """

    against: str
    number: int
    scores: int
    lowest: Points | None
    middle: Points | None
    highest: Points | None
    error: float | None
    factor: float | None
    judges: tuple[JudgeError, ...]
    why: Message | None

    def at(self, level: Points) -> float | None:
        """The usual error at a level, in points."""
        if self.error is None or self.factor is None or self.middle is None:
            return None
        return float(self.error * self.factor ** ((level - self.middle).thousandths / 1000))


@dataclass(frozen=True, slots=True)
class MeetFigures:
    """What the audited routines say of a meet.

    Attributes:
        of: how many routines the meet has.
        audited: how many were audited.
        by_lot: whether they were drawn by lot; otherwise no figure has an interval.
        strata: by name.
        wrong_start: share whose posted start value is not the audited one.
        unreachable: share whose posted final score the audited marks do not allow.
        final, start: posted less audited.
        final_at_full_speed: posted final score less that of what was seen at full speed alone.
        clauses: in the order of their ids.
        judges: in the order of letters, never by merit.
        curves: the error model, by control score.
        remarks: what these figures do not speak of.
    """

    of: int
    audited: int
    by_lot: bool
    strata: tuple[Stratum, ...]
    wrong_start: Led
    unreachable: Led
    final: Difference
    start: Difference
    final_at_full_speed: Difference
    clauses: tuple[ClauseFigures, ...]
    judges: tuple[JudgeFigures, ...]
    curves: tuple[ErrorCurve, ...]
    remarks: tuple[Message, ...]
