"""Packing a case for somebody elsewhere: a bag that anyone can check."""

import os
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import replace
from pathlib import Path
from tempfile import mkdtemp
from typing import Any, NoReturn

from reviewer import __version__, casefile, exchange, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.consenting import may_leave
from reviewer.actions.reporting import write_report
from reviewer.terms.consents import is_day
from reviewer.terms.messages import Message, message, spoken
from reviewer.terms.problems import DocumentError, Problem

CASE, BOOK, REPORT, RECORDINGS = "routine.case", "rule-book.yaml", "report", "recordings"


def pack_case(
    audit: Audit,
    folder: Path,
    *,
    use: str,
    today: str,
    recordings: Sequence[str] = (),
    report: bool = True,
    with_words: bool = False,
    date: str | None = None,
) -> dict[str, Any]:
    """Pack a case, its rule book and its report into a bag: ``reviewer.bag/1``.

    ``recordings`` are those to put in, by SHA-256; ``date`` is written as the day of packing. The same case
    gives the same bytes with one version. Names, free text and file paths stay behind; ``with_words`` carries
    the words of inquiries, answers and reasons in the report. A folder that is there is refused, and nothing
    half written is left.
    """
    may_leave(audit, use, today)
    refuse_unclear(folder, date)
    head = audit.case.events[-1].hash  # before the report, which a writing audit notes in its own case
    with made_beside(folder) as made:
        _fill(audit, made / exchange.PAYLOAD, recordings)
        if report:
            told = audit if with_words else _without_words(audit)
            write_report(told, made / exchange.PAYLOAD / REPORT, use=use, today=today)
        exchange.list_files(made, _info(head, date))
        manifest = exchange.digest(made / exchange.MANIFEST)
        files = len(exchange.plain_files(made))
    return {
        "format": "reviewer.bag/1",
        "manifest_sha256": manifest,
        "files": files,
        "recordings": len(recordings),
        "rides_along": [_riders(audit, digest) for digest in recordings],
        "head": head,
    }


def placed(problems: Sequence[Problem], aside: Path, name: str = "") -> tuple[Problem, ...]:
    """Problems of files copied from a bag to ``aside``, named by their place in it, under ``name``."""
    inside = f"{name}/" if name else ""
    return tuple(replace(one, where=one.where.replace(f"{aside}/", inside)) for one in problems)


def _fill(audit: Audit, payload: Path, recordings: Sequence[str]) -> None:
    payload.mkdir()
    casefile.write_copy(payload / CASE, audit.case.events, audit.case.books())
    (payload / BOOK).write_bytes(audit.book.text.encode())
    for digest in recordings:
        source = audit.recording_paths[digest]
        (payload / RECORDINGS).mkdir(exist_ok=True)
        name = f"recording-{audit.number_of(digest)}{plain_suffix(source)}"
        shutil.copyfile(source, payload / RECORDINGS / name)


def _riders(audit: Audit, digest: str) -> dict[str, Any]:
    """What a packed recording carries beside its pictures; it goes byte for byte, as its fingerprint says."""
    carried = video.riders(audit.recording_paths[digest])
    return {"recording": audit.number_of(digest), "carries": list(carried)}


def _without_words(audit: Audit) -> Audit:
    """The same case without its free texts, of which the chain holds the fingerprints."""
    case = casefile.case_in_memory(audit.case.events, audit.case.books(), audit.path)
    return Audit(case, audit.recording_paths)


def _info(head: str, date: str | None) -> Mapping[str, str]:
    """What a bag says of itself. The file of a recording may be named after somebody, so it is not said."""
    return {
        **({"Bagging-Date": date} if date else {}),
        "Bag-Software-Agent": f"reviewer {__version__}",
        "External-Description": "A score audit: a case, its rule book and its report.",
        exchange.IDENTIFIER: head,
    }


def plain_suffix(path: Path) -> str:
    """The ending of a file's name, where it says nothing but the kind of file."""
    suffix = path.suffix.lower()
    return suffix if suffix[1:].isascii() and suffix[1:].isalnum() else ""


@contextmanager
def made_beside(folder: Path) -> Iterator[Path]:
    """A new folder beside the one wanted, which takes its name when all went well and else is removed."""
    made = Path(mkdtemp(prefix=f".{folder.name}-", dir=folder.parent))
    try:
        yield made
        made.chmod(0o777 & ~_mask())
        if folder.exists():  # on POSIX an empty folder would give way without a word
            _refuse_existing(folder)
        made.rename(folder)
    except BaseException:
        shutil.rmtree(made, ignore_errors=True)
        raise


def _mask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask


def refuse_unclear(folder: Path, date: str | None) -> None:
    """An AuditError where a bag cannot be made in this place, or its day is none."""
    if folder.exists():
        _refuse_existing(folder)
    if not folder.parent.is_dir():
        raise AuditError(
            Problem(
                "no-folder",
                str(folder.parent),
                message("There is no such folder."),
                message("Make it first."),
            )
        )
    if date is not None and not is_day(date):
        raise AuditError(
            Problem(
                "no-day",
                "--date",
                message("{date} is no day.", date=repr(date)),
                message("Write it such as 2026-11-26."),
            )
        )


def _refuse_existing(folder: Path) -> NoReturn:
    said = message("There is a file or folder of this name already.")
    raise AuditError(Problem("bag-exists", str(folder), said, message("Choose another name.")))


def refuse_damaged(bag: Path, remedy: Message) -> None:
    """A DocumentError with every file of a bag that is not as listed."""
    faults = exchange.check_bag(bag)
    if faults:
        raise DocumentError(Problem("bag-damaged", one.where, _unlike(one), remedy) for one in faults)


def _unlike(fault: exchange.FileFault) -> Message:
    if fault.listed == exchange.UNLISTED:
        return message("It is there, and not listed: it was put in afterwards.")
    if fault.found == exchange.ABSENT:
        return message("It is listed, and not there.")
    return message(
        "It is not as listed: {found}, not {listed}.", found=spoken(fault.found), listed=spoken(fault.listed)
    )
