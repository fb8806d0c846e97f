"""What is past its date: cases whose consent has ended or was withdrawn, and all that was made of them.

Files are known by their content, so that a recording, clip or report that was moved or copied within the
folder is found; what was copied elsewhere cannot be. A coach's page is known by the document beside it, which
names an event of the case.
"""

import json
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.coachpage import DOCUMENT, PAGE, PAPER
from reviewer.actions.opening import open_case
from reviewer.actions.preferences import small_pictures_folder
from reviewer.actions.remembering import recall
from reviewer.actions.shelfkeeping import cases_below
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.messages import message, noted
from reviewer.terms.problems import Problem, ReviewerError

RECORDING, CLIP, REPORT, SMALL = noted("recording"), noted("clip"), noted("report"), noted("small pictures")
COACHED = noted("page for a coach")


@dataclass(frozen=True, slots=True)
class Leftover:
    """A file that goes: what it is, and where it lies."""

    what: str
    path: Path


@dataclass(frozen=True, slots=True)
class Expired:
    """A case past its date.

    Attributes:
        case: its file, which stays as a ledger: marks, evidence and chain, by codes.
        why: ``withdrawn``, or the last day that consent held.
        files: what goes.
        texts: how many names, free texts and places of files go out of the case.
        remembered: whether this machine remembers where the case was left.
        kept: recordings of it that stay, since a case that is not past its date shows them too.
        missing: SHA-256 of clips that are not where they were written: whoever has them is to delete them.
    """

    case: Path
    why: str
    files: tuple[Leftover, ...]
    texts: int
    remembered: bool
    kept: tuple[Path, ...]
    missing: tuple[str, ...]

    @property
    def is_cleared(self) -> bool:
        """Whether nothing is left of it but its ledger."""
        return not self.files and not self.texts and not self.remembered


def expired_in(folder: Path, today: str) -> tuple[tuple[Expired, ...], tuple[Problem, ...]]:
    """The cases below a folder that are past their date on a day, and what could not be read.

    AuditError where there is no folder.
    """
    if not folder.is_dir():
        said = message("There is no such folder.")
        raise AuditError(Problem("no-folder", str(folder), said, message("Name a folder that holds cases.")))
    due: list[Path] = []
    held: set[str] = set()
    problems: list[Problem] = []
    for name in cases_below(folder):
        try:
            with open_case(folder / name, author=None) as audit:
                if _why(audit, today) is None:
                    held |= {one.sha256 for one in audit.state.recordings}
                else:
                    due.append(folder / name)
        except ReviewerError as fault:
            problems += fault.problems
    below = _by_content(folder) if due else {}
    return tuple(_expired(path, today, below, held) for path in due), tuple(problems)


def _expired(path: Path, today: str, below: dict[str, list[Path]], held: set[str]) -> Expired:
    with open_case(path, author=None) as audit:
        own = {one.sha256 for one in audit.state.recordings}
        places = _places(audit, below)
        gone = [Leftover(RECORDING, one) for digest in own - held for one in places.get(digest, ())]
        clips = _clips(audit)
        for what, digests in ((CLIP, clips), (REPORT, _reports(audit))):
            gone += [Leftover(what, one) for digest in digests for one in places.get(digest, ())]
        gone += [Leftover(COACHED, one) for one in _coached(audit, below)]
        gone += [Leftover(SMALL, one) for digest in sorted(own - held) for one in _small(digest)]
        recalled = {path.resolve(), *(one.path for one in gone if one.what == RECORDING)}
        return Expired(
            path,
            _why(audit, today) or "",
            tuple(dict.fromkeys(gone)),
            sum(len(kept) for kept in audit.case.erasable().values()),
            any(Path(one.path).resolve() in recalled for one in recall().recent),
            tuple(one for digest in sorted(own & held) for one in places.get(digest, ())),
            tuple(digest for digest in clips if digest not in places),
        )


def _why(audit: Audit, today: str) -> str | None:
    consent = audit.permission
    if consent.word == WITHDRAWN:
        return WITHDRAWN
    return consent.until if consent.is_over(today) else None


def _places(audit: Audit, below: dict[str, list[Path]]) -> dict[str, list[Path]]:
    """Where each thing lies, by content: below the folder, or where the case last saw it."""
    found = {digest: list(paths) for digest, paths in below.items()}
    for digest, place in audit.case.erasable()["places"].items():
        path = Path(place)
        known = {one.resolve() for one in found.get(digest, ())}
        if path.is_file() and path.resolve() not in known and video.fingerprint(path) == digest:
            found.setdefault(digest, []).append(path)
    return found


def _by_content(folder: Path) -> dict[str, list[Path]]:
    """Every file below a folder but cases and what is hidden, by the SHA-256 of its bytes."""
    found: dict[str, list[Path]] = {}
    for path in sorted(folder.rglob("*")):
        hidden = any(part.startswith(".") for part in path.relative_to(folder).parts)
        if path.is_file() and not path.is_symlink() and not hidden and path.suffix.lower() != ".case":
            found.setdefault(video.fingerprint(path), []).append(path)
    return found


def _clips(audit: Audit) -> list[str]:
    return [event.payload["sha256"] for event in audit.case.events if event.kind == "clip-written"]


def _reports(audit: Audit) -> Iterator[str]:
    """The files of reports: their stills show her, their case holds her marks."""
    for event in audit.case.events:
        if event.kind == "report-written":
            yield from event.payload["files"].values()


def _coached(audit: Audit, below: dict[str, list[Path]]) -> Iterator[Path]:
    """The pages for a coach below the folder that show this case, alone or among others."""
    own = {event.hash for event in audit.case.events}
    for document in sorted(path for paths in below.values() for path in paths if path.name == DOCUMENT):
        if own & set(_heads(document)):
            beside = (document.with_name(name) for name in (PAGE, PAPER, DOCUMENT))
            yield from (path for path in beside if path.is_file())


def _heads(document: Path) -> Iterator[str]:
    """The events at which a coach's page was made, of each routine on it."""
    try:
        found = json.loads(document.read_bytes())
        yield from (str(one["head"]) for one in (found["case"], *found.get("routines", ())) if "head" in one)
    except (OSError, ValueError, TypeError, KeyError, AttributeError):
        return  # another program's file of that name


def _small(digest: str) -> Iterable[Path]:
    return sorted(small_pictures_folder().glob(f"{digest}-*"))


def expired_document(
    found: Iterable[Expired], problems: Iterable[Problem], *, deleted: bool
) -> dict[str, Any]:
    """``reviewer.expired/1``: what goes, or went, case by case."""
    return {
        "format": "reviewer.expired/1",
        "deleted": deleted,
        "cases": [
            {
                "case": str(one.case),
                "why": one.why,
                "files": [{"what": file.what, "path": str(file.path)} for file in one.files],
                "texts": one.texts,
                "remembered": one.remembered,
                "kept": [str(path) for path in one.kept],
                "clips_elsewhere": list(one.missing),
            }
            for one in found
        ],
        "problems": [one.to_json() for one in problems],
    }
