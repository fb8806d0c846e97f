"""What can go wrong with a case that a person cannot mend in the data."""

from reviewer.terms.problems import Problem, ReviewerError


class CaseError(ReviewerError):
    """A case cannot be made, opened, or written to."""


def refusal(code: str, where: str, message: str, remedy: str) -> CaseError:
    """A `CaseError` with one problem."""
    return CaseError(Problem(code, where, message, remedy))
