"""Signing a bag, of one case or of an auditor's tasks, and who signed one that came."""

import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer import casefile, exchange
from reviewer.actions.audit import AuditError
from reviewer.actions.meetunpacking import Arrived, cases_in, listed_in
from reviewer.actions.packing import CASE, placed, refuse_damaged
from reviewer.exchange.meetbags import QUEUE
from reviewer.terms.canonical import canonical
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


def make_key(path: Path) -> dict[str, Any]:
    """Make a key to sign with; the private file is for its owner only: ``reviewer.key/1``."""
    public, signer = exchange.make_key(path)
    return {"format": "reviewer.key/1", "private": str(path), "public": str(public), "signer": signer}


def sign_bag(bag: Path, key: Path) -> dict[str, Any]:
    """Sign a bag that is whole: ``reviewer.signed/1``. What is not as listed is refused."""
    private = exchange.read_private(key)
    if not bag.is_dir() or not exchange.is_bag(bag):
        remedy = message("Name a folder made with `reviewer pack`.")
        raise DocumentError(Problem("not-a-bag", str(bag), message("This is not a bag."), remedy))
    refuse_damaged(bag, message("Sign only what is whole: pack the case again."))
    of_tasks = (bag / exchange.PAYLOAD / QUEUE).is_file()
    head, events = head_of(cases_in(bag, listed_in(bag))) if of_tasks else _head_of_case(bag)
    said = exchange.statement(bag, head, events)
    place = exchange.sign(bag, private, said)
    return {
        "format": "reviewer.signed/1",
        "signature": place.name,
        "signer": exchange.fingerprint(private.public_key()),
        "head": said["head"],
    }


def head_of(cases: Sequence[Arrived]) -> tuple[str, int]:
    """What is signed of the chains of a bag of tasks: one hash over their last events; how many events."""
    heads = [[one.task.start, one.events[-1].hash] for one in cases]
    return casefile.hash_of(canonical(heads)), sum(len(one.events) for one in cases)


def signers_of(bag: Path, cases: Sequence[Arrived], wanted: Path | None) -> tuple[str, ...]:
    """Fingerprints of those who signed a bag of tasks.

    An AuditError where a signature does not hold for this bag, or where that of the ``wanted`` public key is
    not among them.
    """
    now, found, problems = exchange.statement(bag, *head_of(cases)), list[str](), list[Problem]()
    for path in exchange.signatures(bag):
        one = exchange.read_signature(path)
        if one is None or not one.sound or dict(one.signed) != now:
            said = message("This signature does not hold for this bag.")
            problems.append(Problem("signature", path.name, said, _ASK))
        else:
            found.append(one.signer)
    signer = exchange.fingerprint(exchange.read_public(wanted)) if wanted is not None else None
    if signer is not None and signer not in found:
        said = message("The bag carries no signature by this key that holds.")
        problems.append(Problem("signature", wanted.name if wanted else "", said, _ASK))
    if problems:
        raise AuditError(problems)
    return tuple(found)


_ASK = message("Nothing was taken. Ask whoever sent it for a bag that is signed as it is.")


def _head_of_case(bag: Path) -> tuple[str, int]:
    """The last event of a bag's case, and how many there are; an AuditError where its chain does not hold."""
    with _case_of(bag) as case:
        try:
            events = casefile.read_events(case)
        except casefile.CaseError as fault:
            raise AuditError(placed(fault.problems, case.parent, exchange.PAYLOAD)) from None
    problems = casefile.check_chain(events)
    if problems:
        raise AuditError(problems)
    return events[-1].hash, len(events)


@contextmanager
def _case_of(bag: Path) -> Iterator[Path]:
    """A bag's case, copied aside: opening it there writes nothing into the bag, whatever lies beside it."""
    with TemporaryDirectory(prefix="reviewer-") as aside:
        yield Path(shutil.copyfile(bag / exchange.PAYLOAD / CASE, Path(aside) / CASE))
