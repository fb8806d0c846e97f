"""What can go wrong with a case that a person cannot mend in the data."""

from reviewer.terms.codes import no_code
from reviewer.terms.messages import Message
from reviewer.terms.problems import Problem, ReviewerError


class CaseError(ReviewerError):
    """A case cannot be made, opened, or written to."""


def refusal(code: str, where: str, said: Message, remedy: Message) -> CaseError:
    """A `CaseError` with one problem."""
    return CaseError(Problem(code, where, said, remedy))


def refuse_name(author: str) -> None:
    """A `CaseError` where who writes is called by what may be a name: the chain keeps it for good."""
    problem = no_code(author, "author")
    if problem is not None:
        raise CaseError(problem)
