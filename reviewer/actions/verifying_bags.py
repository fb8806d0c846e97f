"""Deriving a bag again, layer by layer: files, chain, rule book, report, signatures."""

import shutil
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from itertools import zip_longest
from pathlib import Path
from tempfile import TemporaryDirectory

from reviewer import casefile, exchange
from reviewer.actions import packing
from reviewer.actions.reporting import CASE, FINDING, PAGE, PAPER
from reviewer.actions.reviewing import Review
from reviewer.actions.verifying import case_in, chain_differences, check_case, check_report
from reviewer.reports import Difference
from reviewer.terms.problems import ReviewerError

_CASE, _BOOK, _REPORT = (
    f"{exchange.PAYLOAD}/{name}" for name in (packing.CASE, packing.BOOK, packing.REPORT)
)


def verify_bag(
    bag: Path, review: Review, recordings: Sequence[Path], pictures: bool, signer: Path | None
) -> None:
    """Derive a bag again from what lies in it, its own recordings taken beside those that are given.

    A layer that is damaged is named, and the others are still looked at.
    """
    faults = exchange.check_bag(bag)
    review.step("files", (Difference("file", one.where, one.listed, one.found) for one in faults))
    with _aside(bag) as (folder, own):
        events = _check_layers(folder, review, [*own, *recordings], pictures)
    _check_signatures(bag, review, events, signer)


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


def _check_layers(
    folder: Path, review: Review, recordings: Sequence[Path], pictures: bool
) -> tuple[casefile.Event, ...]:
    """The chain, and what is derived from it; returns its events, none where they cannot be read."""
    events: tuple[casefile.Event, ...] = ()
    try:
        if not (folder / _CASE).is_file():
            review.skip("chain", "the bag holds no case")
            return ()
        events, books = casefile.read_events(folder / _CASE), casefile.read_books(folder / _CASE)
        review.step("rule_book", _book_apart(folder / _BOOK, events))
        report = folder / _REPORT
        if all((report / name).is_file() for name in (PAGE, PAPER, FINDING, CASE)):
            if not casefile.check_chain(events):
                review.step("chain", _chain_apart(report, events))
            check_report(report, events, books, review, recordings, pictures)
        else:
            check_case(events, books, review, recordings)
    except ReviewerError as fault:
        review.step("files", (Difference("file", one.where, one.message, "whole") for one in fault.problems))
    return events


def _book_apart(path: Path, events: Sequence[casefile.Event]) -> Iterator[Difference]:
    """The rule book beside the case is the one the case was scored by."""
    chosen = [one.payload["sha256"] for one in events if one.kind == "rule-book-chosen"]
    found = exchange.digest(path) if path.is_file() else "(absent)"
    if chosen and found not in chosen:
        yield Difference("rule", _BOOK, found, chosen[-1])


def _chain_apart(report: Path, events: Sequence[casefile.Event]) -> Iterator[Difference]:
    """The chain beside the report is sound, and that of the case but for the reports written at its end.

    Of two sound chains that part, the first event in which they do is named.
    """
    beside, _ = case_in(report)
    found = chain_differences(beside, f"{_REPORT}/{CASE}: event ")
    yield from found
    for number, (own, there) in enumerate(zip_longest(events, beside), start=1):
        left_out = own is not None and there is None and own.kind == "report-written"
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
        was = str(found.signed.get(name, "(absent)"))[:200]
        yield Difference("signature", f"{path.name}: {name}", was, str(now[name]))
    if not apart:
        signers.add(found.signer)
