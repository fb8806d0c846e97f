"""The document of a meet, in its folder: read whole, and put in place in one step."""

import json
import os
from collections.abc import Iterator
from contextlib import suppress
from pathlib import Path

from reviewer.terms.meets import Meet
from reviewer.terms.messages import message, reason
from reviewer.terms.parsing import parsed
from reviewer.terms.problems import DocumentError, Problem

NAME = "meet.json"


def read_meet(folder: Path) -> Meet:
    """The meet of a folder; a DocumentError where there is none, or it cannot be read."""
    path = folder / NAME
    try:
        return Meet.from_json(parsed(path.read_bytes()))
    except FileNotFoundError:
        said, remedy = message("This folder holds no meet."), message("Begin one with `reviewer meet begin`.")
        raise DocumentError(Problem("no-meet", str(folder), said, remedy)) from None
    except OSError as fault:
        said = message("It cannot be read: {reason}.", reason=reason(fault))
        raise DocumentError(
            Problem("cannot-read", str(path), said, message("See that you may read it."))
        ) from None
    except (ValueError, TypeError, KeyError) as fault:
        said = message("This is no meet as this program writes it: {reason}.", reason=reason(fault))
        remedy = message("Put the file back as it was, or begin the meet anew.")
        raise DocumentError(Problem("no-meet", str(path), said, remedy)) from None


def write_meet(folder: Path, meet: Meet) -> None:
    """Put a meet in place of what its folder holds; what was there stays until the new one is whole."""
    made = folder / f".{NAME}-{os.getpid()}"  # no temporary file, which only its owner may read
    try:
        with made.open("wb") as file:
            file.writelines(line.encode() for line in _lines(meet))
            file.flush()
            os.fsync(file.fileno())
        made.replace(folder / NAME)
    except BaseException:
        with suppress(OSError):
            made.unlink()
        raise


def _lines(meet: Meet) -> Iterator[str]:
    """The document with a line for each routine, choice and task: read by people, and quickly written."""
    first, last = "{", ""
    for name, said in sorted(meet.to_json().items()):
        yield f"{last}{first}\n {json.dumps(name)}: "
        if isinstance(said, list) and said:
            yield "[\n  " + ",\n  ".join(map(_line, said)) + "\n ]"
        else:
            yield _line(said)
        first, last = "", ","
    yield "\n}\n"


_line = json.JSONEncoder(ensure_ascii=False, allow_nan=False, sort_keys=True).encode
