"""Deriving again whatever is handed in: a case, the folder of a report, or a bag, packed or not."""

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer import exchange
from reviewer.actions.audit import AuditError
from reviewer.actions.opening import several
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying import verify_case
from reviewer.actions.verifying_bags import verify_bag
from reviewer.actions.verifying_meets import is_meet_report, verify_meet_report
from reviewer.actions.verifying_reports import FILES, Wanted, verify_folder
from reviewer.exchange.meetbags import QUEUE
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def verify(
    path: Path,
    *,
    recording: Path | Sequence[Path] | None = None,
    pictures: bool = False,
    signer: Path | None = None,
    meet: Path | None = None,
) -> dict[str, Any]:
    """Derive it again and name every difference: ``reviewer.verify/1``. ``signer`` is a public key.

    ``meet``: the folder of the meet that a report of one is derived again from.
    """
    review, wanted = Review(), Wanted(several(recording), pictures)
    if path.is_file() and exchange.is_zip(path):
        with TemporaryDirectory(prefix="reviewer-") as folder:
            verify_bag(exchange.unpack(path, Path(folder)), review, wanted, signer)
    elif path.is_dir() and (path / exchange.PAYLOAD / QUEUE).is_file():
        said = message("This bag holds an auditor's tasks, not one case with its report.")
        remedy = message("`reviewer meet unpack` or `reviewer meet receive` checks it.")
        raise AuditError(Problem("tasks-bag", str(path), said, remedy))
    elif path.is_dir() and exchange.is_bag(path):
        verify_bag(path, review, wanted, signer)
    elif signer is not None:
        said = message("Only a bag carries signatures, and this is none.")
        raise AuditError(
            Problem("not-a-bag", str(path), said, message("Name a folder made with `reviewer pack`."))
        )
    elif path.is_dir() and is_meet_report(path):
        verify_meet_report(path, meet, review)
    elif path.is_dir():
        _refuse_other(path)
        verify_folder(path, review, wanted)
    else:
        verify_case(path, review, wanted.recordings)
    return review.document()


def _refuse_other(folder: Path) -> None:
    if not any((folder / name).is_file() for name in FILES):
        said = message("This folder is neither a report nor a bag, and a case is a file.")
        remedy = message("Name a folder made with `reviewer report` or `reviewer pack`, or a case.")
        raise AuditError(Problem("nothing-to-verify", str(folder), said, remedy))
