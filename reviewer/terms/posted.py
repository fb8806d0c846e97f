"""What was posted: a row of a published table of results, and a panel's own sheet of one routine."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Self

from reviewer.terms.exact import Points


@dataclass(frozen=True, slots=True)
class PostedRow:
    """One score as it was published.

    Attributes:
        difficulty: nought in a book whose judges begin at the start value.
        marks: the judges' scores, where they were published.
        execution: the published average of the judges, or None where only their scores were published.
        penalty: neutral deductions, not negative.
    """

    difficulty: Points
    marks: tuple[Points, ...]
    execution: Points | None
    penalty: Points


@dataclass(frozen=True, slots=True)
class WrittenDeduction:
    """What a judge of the panel wrote down for one fault.

    Attributes:
        judge: the judge's letter.
        element: place of the element in the routine, from 1, or the id of its mark; None for the whole of it.
        code: the edition's code of the fault.
        amount: what was taken, not negative.
    """

    judge: str
    element: str | None
    code: str
    amount: Points

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a sheet's ``deductions``; ValueError or KeyError for what is none."""
        judge, code = _name(data["judge"]), _name(data["code"])
        element = data.get("element")
        return cls(judge, None if element is None else _name(element), code, _points(data["amount"]))

    def to_json(self) -> dict[str, str]:
        """One of a sheet's ``deductions``."""
        of = {} if self.element is None else {"element": self.element}
        return {"judge": self.judge} | of | {"code": self.code, "amount": str(self.amount)}


@dataclass(frozen=True, slots=True)
class PostedSheet:
    """What a panel posted of one routine, as far as it was kept; None and empty where it was not.

    Attributes:
        start_value: or the difficulty, where an edition adds it after the average.
        judges: letters, each with the score given.
        neutral: what was taken from the average, not negative.
        average, final: as posted.
        deductions: what the judges wrote down.
    """

    start_value: Points | None = None
    judges: tuple[tuple[str, Points], ...] = ()
    neutral: Points | None = None
    average: Points | None = None
    final: Points | None = None
    deductions: tuple[WrittenDeduction, ...] = ()

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From the ``sheet`` of an event; ValueError, TypeError or KeyError for what is none."""
        strays = set(data) - {*_FIGURES, "judges", "deductions"}
        judges = tuple((_name(one["judge"]), _points(one["score"])) for one in data.get("judges", ()))
        if strays or len({judge for judge, _ in judges}) < len(judges):
            raise ValueError("a posted sheet has figures, judges each once, and deductions")
        figures = {name: _points(data[name]) for name in _FIGURES if name in data}
        written = tuple(WrittenDeduction.from_json(one) for one in data.get("deductions", ()))
        return cls(judges=judges, deductions=written, **figures)

    def to_json(self) -> dict[str, Any]:
        """The ``sheet`` of an event: what was not kept is left out."""
        figures = {name: str(value) for name in _FIGURES if (value := getattr(self, name)) is not None}
        judges = [{"judge": judge, "score": str(score)} for judge, score in self.judges]
        written = [one.to_json() for one in self.deductions]
        lists = {"judges": judges, "deductions": written}
        return figures | {name: some for name, some in lists.items() if some}


_FIGURES = ("start_value", "neutral", "average", "final")


def _name(said: object) -> str:
    if not isinstance(said, str) or not said.strip():
        raise ValueError(f"{said!r} is no name")
    return said


@lru_cache(maxsize=4096)  # of a meet's ten thousand sheets most figures are the same few
def _points(said: object) -> Points:
    found = Points.parse(said) if isinstance(said, str) else None
    if found is None or found < Points(0):
        raise ValueError(f"{said!r} is no number of points, not below nought")
    return found
