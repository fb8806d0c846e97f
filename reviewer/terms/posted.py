"""A row of a published table of results."""

from dataclasses import dataclass

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
