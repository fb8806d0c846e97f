"""Where something is written to: never over a case, over what it is read from, or where a folder stands."""

from collections.abc import Iterable
from pathlib import Path

from reviewer.casefile import is_case
from reviewer.terms.messages import message, noted
from reviewer.terms.problems import DocumentError, Problem

_TAKEN_BY_CASE = noted("{path} is a case, and a folder is to be written.")
_TAKEN_BY_FILE = noted("{path} is a file, and a folder is to be written.")


def write_file(path: Path, content: bytes, read: Iterable[Path] = ()) -> None:
    """Write a file, in place of what stands there; DocumentError for a place where none can be.

    A case is never written over, nor is any file of ``read``, such as the recording.
    """
    _refuse(_no_file(path, read))
    path.write_bytes(content)


def put_whole(path: Path, content: bytes) -> None:
    """Write a file whole or not at all, as where the disk is full; what stood there stays until then.

    An OSError names the file.
    """
    beside = path.with_name(f".{path.name}.unfinished")
    try:
        beside.write_bytes(content)
        beside.replace(path)
    except OSError as error:
        beside.unlink(missing_ok=True)
        raise OSError(error.errno, error.strerror, str(path)) from error


def refuse_no_new_file(path: Path, read: Iterable[Path], *, replace: bool) -> None:
    """DocumentError for a place where no file can be made, told before anything is derived for it.

    With ``replace``, a file that is there may go.
    """
    _refuse(_no_file(path, read))
    if path.exists() and not replace:
        said = message("There is a file of this name.")
        remedy = message("Name another one, or say `--replace`.")
        raise DocumentError(Problem("file-exists", str(path), said, remedy))


def refuse_no_folder(path: Path) -> None:
    """DocumentError for a place where no folder can be made, told before anything is derived for it."""
    _refuse(_no_folder(path))


def _refuse(problem: Problem | None) -> None:
    if problem is not None:
        raise DocumentError(problem)


def _no_file(path: Path, read: Iterable[Path]) -> Problem | None:
    where, beside = str(path), path.parent
    if path.is_dir():
        said = message("This is a folder, and a file is to be written.")
        return Problem("is-folder", where, said, message("Name a file in it."))
    if path.exists() and any(one.exists() and path.samefile(one) for one in read):
        said = message("This is what it is made from, which stays as it is.")
        return Problem("is-source", where, said, message("Name another file."))
    if _is_case(path):
        return Problem(
            "is-case",
            where,
            message("This is a case, and no case is written over."),
            message("Name another file."),
        )
    if not beside.is_dir():
        said = message("There is no folder {folder}.", folder=beside)
        return Problem("no-folder", where, said, message("Make it first, or name a file elsewhere."))
    return None


def _no_folder(path: Path) -> Problem | None:
    taken = next((one for one in (path, *path.parents) if one.exists() and not one.is_dir()), None)
    if taken is None:
        return None
    said = message(_TAKEN_BY_CASE if _is_case(taken) else _TAKEN_BY_FILE, path=taken)
    return Problem("is-file", str(path), said, message("Name a folder, a new one or one that is there."))


def _is_case(path: Path) -> bool:
    return path.is_file() and is_case(path)
