"""Deriving again whatever is handed in: a case, the folder of a report, or a bag, packed or not."""

from collections.abc import Sequence
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer import exchange
from reviewer.actions.audit import AuditError
from reviewer.actions.opening import several
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying import verify_case, verify_folder
from reviewer.actions.verifying_bags import verify_bag
from reviewer.terms.problems import Problem


def verify(
    path: Path,
    *,
    recording: Path | Sequence[Path] | None = None,
    pictures: bool = False,
    signer: Path | None = None,
) -> dict[str, Any]:
    """Derive it again and name every difference: ``reviewer.verify/1``. ``signer`` is a public key."""
    review = Review()
    recordings = several(recording)
    if path.is_file() and exchange.is_zip(path):
        with TemporaryDirectory(prefix="reviewer-") as folder:
            verify_bag(exchange.unpack(path, Path(folder)), review, recordings, pictures, signer)
    elif path.is_dir() and exchange.is_bag(path):
        verify_bag(path, review, recordings, pictures, signer)
    elif signer is not None:
        said = "Only a bag carries signatures, and this is none."
        raise AuditError(Problem("not-a-bag", str(path), said, "Name a folder made with `reviewer pack`."))
    elif path.is_dir():
        verify_folder(path, review, recordings, pictures)
    else:
        verify_case(path, review, recordings)
    return review.document()
