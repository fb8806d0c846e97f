"""What can be wrong: with the user's data (a `Problem`), or past a person's mending (a `ReviewerError`)."""

from collections.abc import Iterable
from dataclasses import dataclass

from reviewer.terms.messages import Message, Translate, as_written, noted

DONE, NO, BAD_INPUT, UNDECIDED = 0, 1, 2, 3
"""Exit codes of every command: done or yes; no; bad input; cannot be decided or checked."""


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong, where it stands, and what mends it.

    Attributes:
        code: short stable word for programs, such as ``unknown-element``.
        where: file and place in it, such as ``marks.json: marks[3].code``.
        message: what is wrong and why it matters, one sentence.
        remedy: what to do about it, one sentence.
    """

    code: str
    where: str
    message: Message
    remedy: Message

    def __str__(self) -> str:
        return f"{self.where}: {self.message} {self.remedy}"

    def to_json(self, translate: Translate = as_written) -> dict[str, str]:
        """The problem as the contract writes it: in English for programs, in a report in its language."""
        return {
            "code": self.code,
            "where": self.where,
            "message": self.message.words(translate),
            "remedy": self.remedy.words(translate),
        }


NOTHING_WRITTEN = noted("{said} Nothing was written.")


def in_itself(found: Problem) -> Message:
    """What a problem says, without what came of it."""
    said = dict(found.message.arguments).get("said")
    if found.message.template == NOTHING_WRITTEN and isinstance(said, Message):
        return said
    return found.message


class ReviewerError(Exception):
    """Root of all errors that a user sees; carries the problems and the exit code of the command."""

    exit_code = BAD_INPUT

    def __init__(self, problems: Problem | Iterable[Problem]) -> None:
        self.problems = (problems,) if isinstance(problems, Problem) else tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


class DocumentError(ReviewerError):
    """A document handed in (marks, clicks, report) is not what it claims to be."""


class CannotCheckError(ReviewerError):
    """What was asked cannot be decided or checked with what is here."""

    exit_code = UNDECIDED
