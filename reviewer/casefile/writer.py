"""One writer at a time, named.

The hold is a lock of the operating system on a small file beside the case, so it ends with its process,
however that ends. The file alone means nothing: one left behind is taken over.
"""

import json
import os
import sys
from contextlib import suppress
from pathlib import Path
from typing import BinaryIO

from reviewer.casefile.errors import CaseError, refusal
from reviewer.terms.messages import Message, message, reason
from reviewer.terms.parsing import parsed


class Hold:
    """The right to write to a case, until `release`; a CaseError says who has it already."""

    def __init__(self, case: Path, author: str) -> None:
        self._place = case.with_name(case.name + ".writing")
        try:
            self._file = _taken(self._place)
            if self._file is None:
                raise _held(case, self._place)
            self._file.truncate(0)
            self._file.write(json.dumps({"author": author, "process": os.getpid()}).encode())
            self._file.flush()
        except OSError as fault:
            raise refusal(
                "cannot-write",
                str(case),
                message("Nothing can be written beside this case: {reason}.", reason=reason(fault)),
                message("Copy it to a folder you may write to, or open it to read only."),
            ) from None

    def release(self) -> None:
        """Let others write."""
        if self._file is not None:
            with suppress(OSError):  # Windows keeps a file that is open; then it is left behind, unlocked
                self._place.unlink()
            self._file.close()
            self._file = None


def _taken(place: Path) -> BinaryIO | None:
    """The locked file, or None where another process holds it."""
    while True:
        file = place.open("a+b")
        if not _locked(file):
            file.close()
            return None
        with suppress(FileNotFoundError):
            if os.path.samestat(os.fstat(file.fileno()), place.stat()):
                return file
        file.close()  # its holder removed it between our opening and our lock: begin again


def _locked(file: BinaryIO) -> bool:
    try:
        if sys.platform == "win32":
            import msvcrt

            # A byte far past the name, so that others may still read who holds it.
            file.seek(1 << 20)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
            file.seek(0)
        else:
            import fcntl

            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        return False
    return True


def _held(case: Path, place: Path) -> CaseError:
    return refusal(
        "case-held",
        str(case),
        message("{holder} is writing to this case, and only one may.", holder=_holder(place)),
        message("Close it there, or open it here to read only."),
    )


def _holder(place: Path) -> Message:
    try:
        known = parsed(place.read_bytes())
        return message("{author} (process {process})", author=known["author"], process=known["process"])
    except (OSError, ValueError, KeyError, TypeError):
        return message("Somebody")
