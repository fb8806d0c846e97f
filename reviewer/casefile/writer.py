"""One writer at a time, named. The operating system lets go of the hold when a process ends, however it ends."""

import json
import os
import sys
from pathlib import Path
from typing import BinaryIO

from reviewer.casefile.errors import refusal


class Hold:
    """The right to write to a case, held on a small file beside it until `release`."""

    def __init__(self, case: Path, author: str) -> None:
        self._place = case.with_name(case.name + ".writing")
        self._file: BinaryIO = self._place.open("a+b")
        if not _locked(self._file):
            self._file.seek(0)
            holder = _holder(self._file.read())
            self._file.close()
            raise refusal(
                "case-held",
                str(case),
                f"{holder} is writing to this case, and only one may.",
                "Close it there, or open it here to read only.",
            )
        self._file.truncate(0)
        self._file.write(json.dumps({"author": author, "process": os.getpid()}).encode())
        self._file.flush()

    def release(self) -> None:
        """Let others write."""
        if not self._file.closed:
            self._place.unlink(missing_ok=True)
            self._file.close()


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


def _holder(said: bytes) -> str:
    try:
        known = json.loads(said)
        return f"Author {known['author']} (process {known['process']})"
    except (ValueError, KeyError, TypeError):
        return "Somebody"
