"""At an auditor's: a bag of tasks laid out to be worked on, and packed again to go home."""

import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from reviewer import casefile, exchange
from reviewer.actions.audit import AuditError
from reviewer.actions.meetsending import CASES, close_bag, fill_bag
from reviewer.actions.packing import RECORDINGS, made_beside, placed, refuse_damaged, refuse_unclear
from reviewer.casefile import Case
from reviewer.exchange.gate import refusal
from reviewer.exchange.meetbags import HOME, OUT, Carried, MeetBag, read_meet_bag
from reviewer.terms.consents import INQUIRY
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem, ReviewerError


class Arrived(NamedTuple):
    """A case that came in a bag: its chain, which holds, and its rule books."""

    task: Carried
    events: tuple[casefile.Event, ...]
    books: dict[str, str]


class Returned(NamedTuple):
    """``reviewer.meet-returned/1``, and why cases stayed behind."""

    document: dict[str, Any]
    left: tuple[Problem, ...]


@contextmanager
def bag_at(path: Path) -> Iterator[Path]:
    """The folder of a bag of tasks, also one packed as a ZIP file; a DocumentError where it is not whole."""
    remedy = message("Nothing was taken from it. Ask for a copy that is whole.")
    if path.is_file() and exchange.is_zip(path):
        with TemporaryDirectory(prefix="reviewer-") as folder:
            bag = exchange.unpack(path, Path(folder))
            refuse_damaged(bag, remedy)
            yield bag
        return
    if not path.is_dir() or not exchange.is_bag(path):
        made = message("Name a folder made with `reviewer meet send` or `reviewer meet return`.")
        said = message("This is not a bag.") if path.exists() else message("There is no such folder.")
        raise DocumentError(Problem("not-a-bag", str(path), said, made))
    refuse_damaged(path, remedy)
    yield path


def listed_in(bag: Path) -> MeetBag:
    """The list of tasks in a bag, whichever way it goes."""
    return read_meet_bag(bag / exchange.PAYLOAD)


def cases_in(bag: Path, said: MeetBag) -> tuple[Arrived, ...]:
    """The cases of a bag that is as listed; an AuditError where a chain does not hold, naming its events."""
    found, problems = [], list[Problem]()
    for one in said.tasks:
        try:
            found.append(_arrived(bag, one))
        except ReviewerError as fault:
            problems += fault.problems
    if problems:
        raise AuditError(problems)
    return tuple(found)


def unpack_tasks(path: Path, folder: Path) -> dict[str, Any]:
    """Lay a bag's tasks out in a new folder, recordings beside the cases: ``reviewer.meet-unpacked/1``."""
    refuse_unclear(folder, None)
    with bag_at(path) as bag:
        said = read_meet_bag(bag / exchange.PAYLOAD, OUT)
        cases = cases_in(bag, said)
        with made_beside(folder) as made:
            for one in cases:
                _lay_out(bag, one, made, folder)
            for book in (bag / exchange.PAYLOAD).glob("rule-book*.yaml"):
                shutil.copyfile(book, made / book.name)
            said.write(made)
    return {
        "format": "reviewer.meet-unpacked/1",
        "auditor": said.auditor,
        "tasks": [
            {
                "start": one.start,
                "case": str(folder / one.case),
                "blind": one.blind,
                "recordings": [name for _, name in one.recordings],
            }
            for one in said.tasks
        ],
    }


def pack_return(folder: Path, bag: Path, *, today: str, unchanged: Sequence[str] = ()) -> Returned:
    """Pack the cases of a folder of tasks to go home, without recordings.

    What is not ready stays, and is named with its reason; an AuditError where nothing is ready. ``unchanged``
    names routines that were looked at and are to stay as they were sent.
    """
    refuse_unclear(bag, None)
    said = read_meet_bag(folder, OUT)
    cases, left = dict[Carried, Case](), list[Problem]()
    with ExitStack() as opened:
        for one in said.tasks:
            try:
                case = opened.enter_context(casefile.open_case(folder / one.case, None))
            except ReviewerError as fault:
                left += fault.problems
                continue
            wrong = tuple(_unready(one, case, today, one.start in unchanged))
            left += wrong
            cases |= {} if wrong else {one: case}
        if not cases:
            raise AuditError(left)
        manifest = _packed(bag, said.auditor, cases)
        document = {
            "format": "reviewer.meet-returned/1",
            "auditor": said.auditor,
            "tasks": [_told(one, case) for one, case in cases.items()],
            "left": [one.to_json() for one in left],
            "manifest_sha256": manifest,
        }
    return Returned(document, tuple(left))


def _arrived(bag: Path, one: Carried) -> Arrived:
    name = f"{exchange.PAYLOAD}/{CASES}/{one.case}"
    with TemporaryDirectory(prefix="reviewer-") as aside:
        copy = Path(shutil.copyfile(_there(bag, name), Path(aside) / one.case))
        try:
            events, books = casefile.read_events(copy), casefile.read_books(copy)
        except casefile.CaseError as fault:
            raise AuditError(placed(fault.problems, Path(aside), name.rpartition("/")[0])) from None
    wrong = [replace(own, where=f"{name}: {own.where}") for own in casefile.check_chain(events)]
    if any(sha256(text.encode()).hexdigest() != digest for digest, text in books.items()):
        said = message("Its rule book was changed after it was kept.")
        wrong.append(Problem("book-changed", name, said, message("Ask for a copy that is whole.")))
    if wrong:
        raise AuditError(wrong)
    return Arrived(one, events, books)


def _lay_out(bag: Path, one: Arrived, made: Path, folder: Path) -> None:
    """A case with its recordings beside it, which remembers where they will lie: none is looked for."""
    films = one.task.recordings
    for _, name in films:
        shutil.copyfile(_there(bag, f"{exchange.PAYLOAD}/{RECORDINGS}/{name}"), made / name)
    places = {digest: str((folder / name).resolve()) for digest, name in films}
    casefile.write_copy(made / one.task.case, one.events, one.books, {"places": places})


def _packed(bag: Path, auditor: str, cases: Mapping[Carried, Case]) -> str:
    """Make the bag that goes home; the fingerprint of its manifest."""
    tasks = tuple(Carried(one.start, one.blind, one.sent) for one in cases)
    with made_beside(bag) as made:
        fill_bag(made, MeetBag(HOME, auditor, tasks), [(one.events, one.books()) for one in cases.values()])
        close_bag(made)
        return exchange.digest(made / exchange.MANIFEST)


def _there(bag: Path, name: str) -> Path:
    """A file of a bag that is as listed; a DocumentError where it has none of this name."""
    if name in exchange.plain_files(bag):
        return bag / name
    said = message("The list of tasks names this file, and the bag does not hold it.")
    raise DocumentError(Problem("no-file", name, said, message("Ask for a copy that is whole.")))


def _unready(one: Carried, case: Case, today: str, unchanged: bool) -> Iterator[Problem]:
    """Why a case does not go home yet."""
    where = str(case.path)
    refused = refusal(case.state.permission, INQUIRY, today, where=where)
    if refused is not None:
        yield refused
    if not any(event.hash == one.sent for event in case.events):
        said = message("This is not the case that was sent: it lacks the event it was sent with.")
        remedy = message("Put the case from the bag in its place: `reviewer meet unpack`.")
        yield Problem("other-case", where, said, remedy)
    elif case.events[-1].hash == one.sent and (one.blind or not unchanged):
        said = message("Nothing was marked in it since it was sent.")
        remedy = message(
            "Mark the routine; where all of it is to stay, say --unchanged {start}.",
            start=one.start,
        )
        if one.blind:
            remedy = message("Mark the routine and seal it, then return it.")
        yield Problem("not-marked", where, said, remedy)
    elif one.blind and case.state.sealed is None:
        said = message("A sheet of blind judging goes home only once it is sealed.")
        remedy = message("Seal it when it is done: `reviewer seal {path}`.", path=where)
        yield Problem("not-sealed", where, said, remedy)


def _told(one: Carried, case: Case) -> dict[str, Any]:
    """What goes home of a task, and how many of its texts stay: notes and reasons, which may hold names."""
    sealed, marks = case.state.sealed is not None, len(case.state.marks)
    return {
        "start": one.start,
        "marks": marks,
        "sealed": sealed,
        "texts_left": len(case.erasable()["texts"]),
    }
