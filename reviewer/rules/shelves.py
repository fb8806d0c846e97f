"""The editions that travel with the program, and the way from a name to a file."""

from pathlib import Path

from reviewer.rules.book import RuleBookError
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

_EDITIONS = Path(__file__).parent / "editions"


def shipped() -> tuple[Path, ...]:
    """The files of the shipped editions, by name."""
    return tuple(sorted(_EDITIONS.glob("*.yaml")))


def find(id_or_path: str) -> Path:
    """The file of a shipped edition's id, or the path itself when a file is there; else RuleBookError."""
    for path in shipped():
        if path.stem == id_or_path:
            return path
    path = Path(id_or_path)
    if path.is_file():
        return path
    known = ", ".join(path.stem for path in shipped())
    raise RuleBookError(
        Problem(
            "unknown-rule-book",
            id_or_path,
            message("There is no shipped rule book of that name and no such file."),
            message("Name one of {known}, or the path of a rule-book file.", known=known),
        )
    )
