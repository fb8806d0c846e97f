"""An inquiry: who asks, about what, in what words; and how it was answered."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

from reviewer.terms.exact import Points
from reviewer.terms.measures import Measure

STANDS, CHANGES, UNDECIDED = "stands", "changes", "cannot be decided"
FINDINGS = (STANDS, CHANGES, UNDECIDED)
"""What may be found: the posted score stands, it changes, or this recording cannot settle it."""
ASKERS = ("athlete", "club", "coach", "delegation", "federation", "gymnast", "judge", "jury", "parent")
"""In what part somebody asks, beside the words of an edition."""
INFORMATIONAL, MAY_CHANGE = "informational", "may change the result"


@dataclass(frozen=True, slots=True)
class Inquiry:
    """What was asked.

    Attributes:
        id: unique in its case, such as ``q1``.
        asked_by, about: words of the rule book, such as ``coach`` and ``start value``.
        after: time since the score was shown, or None where nobody said.
        marks: ids of the elements or faults it is about.
        clauses: ids of the clauses it names.
        words: SHA-256 of the question in the words it was put, or None.
    """

    id: str
    asked_by: str
    about: str
    after: Measure | None = None
    marks: tuple[str, ...] = ()
    clauses: tuple[str, ...] = ()
    words: str | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From a case's event; ValueError for what is no time."""
        return cls(
            data["id"],
            data["asked_by"],
            data["about"],
            Measure.time(data["after"]) if data.get("after") is not None else None,
            tuple(data.get("marks", ())),
            tuple(data.get("clauses", ())),
            data.get("words"),
        )

    def to_json(self) -> dict[str, Any]:
        """As a case keeps it."""
        written: dict[str, Any] = {"id": self.id, "asked_by": self.asked_by, "about": self.about}
        written |= {"marks": list(self.marks), "clauses": list(self.clauses)}
        written |= {} if self.after is None else {"after": str(self.after)}
        return written if self.words is None else written | {"words": self.words}


@dataclass(frozen=True, slots=True)
class Answer:
    """What was found.

    Attributes:
        inquiry: id of the inquiry.
        finding: one of `FINDINGS`.
        score: what the score is to be where it changes, else None.
        marks, readings: ids of what the finding rests on.
        words: SHA-256 of what the judge says beside, or None.
    """

    inquiry: str
    finding: str
    score: Points | None = None
    marks: tuple[str, ...] = ()
    readings: tuple[str, ...] = ()
    words: str | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From a case's event; ValueError for what are no points."""
        return cls(
            data["inquiry"],
            data["finding"],
            Points.parse(data["score"]) if data.get("score") is not None else None,
            tuple(data.get("marks", ())),
            tuple(data.get("readings", ())),
            data.get("words"),
        )

    def to_json(self) -> dict[str, Any]:
        """As a case keeps it."""
        written: dict[str, Any] = {"inquiry": self.inquiry, "finding": self.finding}
        written |= {"marks": list(self.marks), "readings": list(self.readings)}
        written |= {} if self.score is None else {"score": str(self.score)}
        return written if self.words is None else written | {"words": self.words}
