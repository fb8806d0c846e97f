"""A rule-book file written whole or not at all, and never over one that is there unless it is amended."""

import os
import shutil
from collections.abc import Iterator
from contextlib import contextmanager
from errno import EACCES
from pathlib import Path
from tempfile import mkstemp

from reviewer.rules.book import RuleBookError
from reviewer.terms.messages import message, reason
from reviewer.terms.problems import Problem


def write_new(path: Path, text: str) -> None:
    """Write a file that is not there yet; RuleBookError when it is, or when it cannot be written."""
    with _faults_of(path):
        path.open("xb").close()
        try:
            _replace(path, text)
        except BaseException:
            path.unlink(missing_ok=True)
            raise


def write_over(path: Path, text: str) -> None:
    """Put the text in the place of a file that is there, in one step; else RuleBookError."""
    with _faults_of(path):
        _replace(path, text)


def _replace(path: Path, text: str) -> None:
    place = path.resolve()
    if not place.stat().st_mode & 0o222:
        raise PermissionError(EACCES, "it is protected from writing", str(path))
    number, beside = mkstemp(dir=place.parent, prefix=f".{place.name}.")
    try:
        with open(number, "wb") as file:
            file.write(text.encode("utf-8"))
            file.flush()
            os.fsync(file.fileno())
        shutil.copymode(place, beside)
        os.replace(beside, place)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise


@contextmanager
def _faults_of(path: Path) -> Iterator[None]:
    try:
        yield
    except OSError as error:
        if path.is_dir():
            problem = Problem(
                "folder",
                str(path),
                message("This is a folder, not a file."),
                message("Name a file to write."),
            )
        elif isinstance(error, FileExistsError):
            what = message("The file is there already and stays as it is.")
            problem = Problem(
                "exists", str(path), what, message("Choose another name, or move the old file away.")
            )
        else:
            what = message("The file cannot be written: {reason}.", reason=reason(error))
            problem = Problem(
                "unwritable", str(path), what, message("Check the path, its rights and the free space.")
            )
        raise RuleBookError(problem) from None
