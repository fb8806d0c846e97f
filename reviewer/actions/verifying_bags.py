"""Deriving a bag again, layer by layer: files, chain, rule book, report, signatures."""

import shutil
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from itertools import zip_longest
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import TypeVar

from reviewer import casefile, exchange
from reviewer.actions import packing
from reviewer.actions.reporting import CASE, FINDING
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying import chain_differences, check_case
from reviewer.actions.verifying_reports import (
    FILES,
    Chain,
    Wanted,
    case_in,
    check_report,
    finding_in,
    name_missing,
)
from reviewer.reports import Difference, in_words
from reviewer.terms.problems import ReviewerError

_CASE, _BOOK, _REPORT = (
    f"{exchange.PAYLOAD}/{name}" for name in (packing.CASE, packing.BOOK, packing.REPORT)
)
_Read = TypeVar("_Read")


def verify_bag(bag: Path, review: Review, wanted: Wanted, signer: Path | None) -> None:
    """Derive a bag again from what lies in it, its own recordings taken beside those that are given.

    A layer that is damaged is named, and the others are still looked at.
    """
    faults = exchange.check_bag(bag)
    review.step("files", (Difference("file", one.where, one.listed, one.found) for one in faults))
    with _aside(bag) as (folder, own):
        chain = _read(folder, _CASE, _case_of, review)
        try:
            _check_layers(folder, chain, review, Wanted([*own, *wanted.recordings], wanted.pictures))
        except ReviewerError as fault:
            _name(fault, folder, review)
    if chain is not None:
        review.step("chain", _packed_after(bag, chain[0]))
    _check_signatures(bag, review, chain[0] if chain else (), signer)


@contextmanager
def _aside(bag: Path) -> Iterator[tuple[Path, list[Path]]]:
    """The plain files of a bag copied aside, so that no link is followed and nothing is written into it.

    Its recordings are large and only read, so they stay where they are.
    """
    kept = f"{exchange.PAYLOAD}/{packing.RECORDINGS}/"
    own = []
    with TemporaryDirectory(prefix="reviewer-") as folder:
        for name in sorted(exchange.plain_files(bag)):
            if name.startswith(kept):
                own.append(bag / name)
            elif name in (_CASE, _BOOK) or name.startswith(f"{_REPORT}/"):
                place = Path(folder) / name
                place.parent.mkdir(parents=True, exist_ok=True)
                shutil.copyfile(bag / name, place)
        yield Path(folder), own


def _check_layers(folder: Path, own: Chain | None, review: Review, wanted: Wanted) -> None:
    """The report by the case, or by the case beside it where the bag's own cannot be read; else the case."""
    report = folder / _REPORT
    if own is None and not (folder / _CASE).is_file():
        _name_absent(review)
    if not any((report / name).is_file() for name in FILES):
        _check_bare(folder, own, review, wanted)
        return
    name_missing(report, f"{_REPORT}/", review)
    beside = _read(folder, f"{_REPORT}/{CASE}", lambda path: case_in(path.parent), review)
    stored = _read(folder, f"{_REPORT}/{FINDING}", lambda path: finding_in(path.parent), review)
    chain = own or beside
    review.step("rule_book", _book_apart(folder / _BOOK, chain[0] if chain else ()))
    if own is None:
        review.skip("case", f"the bag holds no case that can be read; {CASE} beside the report stands for it")
    elif beside is not None and not casefile.check_chain(own[0]):
        review.step("chain", _chain_apart(beside[0], own[0]))
    check_report(report, stored, chain, review, wanted)


def _check_bare(folder: Path, own: Chain | None, review: Review, wanted: Wanted) -> None:
    """A bag without a report."""
    if own is None:
        review.skip("chain", "the bag holds no case")
        return
    review.step("rule_book", _book_apart(folder / _BOOK, own[0]))
    check_case(*own, review, wanted.recordings)


def _name_absent(review: Review) -> None:
    if _CASE not in {one.where for one in review.differences}:
        review.step("files", [Difference("file", _CASE, "(absent)", "a case")])


def _case_of(path: Path) -> Chain:
    return casefile.read_events(path), casefile.read_books(path)


def _read(folder: Path, name: str, read: Callable[[Path], _Read], review: Review) -> _Read | None:
    """What a file of the bag says; None where it is not there, or cannot be read, which is named."""
    if not (folder / name).is_file():
        return None
    try:
        return read(folder / name)
    except ReviewerError as fault:
        _name(fault, folder, review, name)
        return None


def _name(fault: ReviewerError, folder: Path, review: Review, name: str = "") -> None:
    """Name what cannot be read by its place in the bag, in the file of this name where that is known."""
    for one in packing.placed(fault.problems, folder):
        _, found, rest = one.where.partition(Path(name).name) if name else ("", "", "")
        where = f"{name}{rest}" if found else one.where
        review.step("files", [Difference("file", where, str(one.message), "whole")])


def _packed_after(bag: Path, events: Sequence[casefile.Event]) -> Iterator[Difference]:
    """The case ends with the event that the bag says it was packed after."""
    named = exchange.said_of(bag, exchange.IDENTIFIER)
    last = events[-1].hash if events else "no event"
    if named == (last,):
        return
    numbers = {one.hash: one.number for one in events}
    said = "; ".join(named) or "(absent)"
    if said in numbers:
        stored, derived = f"packed after event {numbers[said]}", f"the case goes on to event {len(events)}"
    elif len(named) == 1:
        stored = f"the bag was packed after event {said}, which is gone"
        derived = f"the case ends with event {len(events)}, {last}"
    else:
        stored, derived = said, last
    yield Difference("event", f"{exchange.INFO}: {exchange.IDENTIFIER}", stored, derived)


def _book_apart(path: Path, events: Sequence[casefile.Event]) -> Iterator[Difference]:
    """The rule book beside the case is the one the case was scored by."""
    chosen = [one.payload["sha256"] for one in events if one.kind == "rule-book-chosen"]
    found = exchange.digest(path) if path.is_file() else "(absent)"
    if chosen and found not in chosen:
        yield Difference("rule", _BOOK, found, chosen[-1])


def _chain_apart(beside: Sequence[casefile.Event], events: Sequence[casefile.Event]) -> Iterator[Difference]:
    """The chain beside the report is sound, and that of the case but for what left the case at its end.

    Of two sound chains that part, the first event in which they do is named.
    """
    found = chain_differences(tuple(beside), f"{_REPORT}/{CASE}: event ")
    yield from found
    for number, (own, there) in enumerate(zip_longest(events, beside), start=1):
        left_out = own is not None and there is None and own.kind in casefile.LEFT
        if not found and own != there and not left_out:
            was, is_ = (one.hash if one is not None else "(absent)" for one in (there, own))
            yield Difference("event", f"{_REPORT}/{CASE}: event {number}", was, is_)
            return


def _check_signatures(
    bag: Path, review: Review, events: Sequence[casefile.Event], signer: Path | None
) -> None:
    """Every signature holds for these very files and this chain; the wanted signer's is among them."""
    wanted = exchange.fingerprint(exchange.read_public(signer)) if signer else None
    carried = exchange.signatures(bag)
    signers: set[str] = set()
    differences = [one for path in carried for one in _signature_apart(bag, path, events, signers)]
    if wanted is not None and wanted not in signers:
        others = ", ".join(sorted(signers)) or "none that holds"
        differences.append(Difference("signature", f"signer {wanted}", others, "a signature by this key"))
    if carried or wanted:
        review.step("signature", differences)
    if not carried and wanted is None:
        review.skip("signature", "the bag carries none")
    elif wanted is None:
        review.skip("signer", f"signed by {', '.join(sorted(signers)) or 'nobody'}; name a key with --signer")


def _signature_apart(
    bag: Path, path: Path, events: Sequence[casefile.Event], signers: set[str]
) -> Iterator[Difference]:
    """What of a signature does not hold; who made one that does is added to ``signers``."""
    found = exchange.read_signature(path)
    if found is None:
        yield Difference("signature", path.name, "cannot be read", "a signature")
        return
    if not found.sound:
        yield Difference("signature", path.name, "forged or changed", f"a signature by {found.signer}")
        return
    now = exchange.statement(bag, events[-1].hash if events else "", len(events))
    apart = [name for name, is_ in now.items() if found.signed.get(name) != is_]
    for name in apart:
        was = in_words(found.signed.get(name, "(absent)"))
        yield Difference("signature", f"{path.name}: {name}", was, in_words(now[name]))
    if not apart:
        signers.add(found.signer)
