"""An auditor's tasks on their way out: a bag with a case for each, and the recordings it is about."""

import shlex
import shutil
from collections.abc import Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer import __version__, casefile, exchange, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.meetholding import SENT, held_meet, meet_case
from reviewer.actions.opening import open_case
from reviewer.actions.packing import BOOK, RECORDINGS, made_beside, plain_suffix, refuse_unclear
from reviewer.actions.second import second_of
from reviewer.casefile import Event
from reviewer.exchange.gate import refusal
from reviewer.exchange.meetbags import OUT, Carried, MeetBag
from reviewer.exchange.meets import write_meet
from reviewer.terms.consents import INQUIRY
from reviewer.terms.meets import Meet, Task
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

CASES = "cases"
"""The folder of the cases in a bag."""
_Chain = tuple[Sequence[Event], Mapping[str, str]]


def send(
    folder: Path, auditor: str, bag: Path, *, today: str, recordings: bool = True, again: bool = False
) -> dict[str, Any]:
    """Pack an auditor's tasks that were not sent yet: ``reviewer.meet-sent/1``.

    ``again`` packs those that were sent and are not home as well, as they were sent. Consent must cover the
    inquiry; where one case may not leave, none does, and all are named. No name, text or path goes along.
    """
    refuse_unclear(bag, None)
    with held_meet(folder) as meet, ExitStack() as opened:
        tasks = _waiting(meet, auditor, again)
        _refuse_absent(folder, tasks)
        audits = [opened.enter_context(_opened(folder, meet, one)) for one in tasks]
        _refuse_unready(tasks, audits, today, recordings)
        chains = [_chain(folder, task, audit) for task, audit in zip(tasks, audits, strict=True)]
        carried = [
            Carried(task.start, task.blind, events[-1].hash, _films(task, audit) if recordings else ())
            for task, audit, (events, _) in zip(tasks, audits, chains, strict=True)
        ]
        with made_beside(bag) as made:
            fill_bag(made, MeetBag(OUT, auditor, tuple(carried)), chains)
            _copy_films(made / exchange.PAYLOAD, carried, audits)
            close_bag(made)
            manifest, files = exchange.digest(made / exchange.MANIFEST), len(exchange.plain_files(made))
            write_meet(folder, _sent(meet, tasks, carried))
    return {
        "format": "reviewer.meet-sent/1",
        "auditor": auditor,
        "tasks": [{"start": one.start, "blind": one.blind} for one in carried],
        "files": files,
        "recordings": sum(len(one.recordings) for one in carried),
        "rides_along": [_riders(*one) for one in zip(carried, audits, strict=True) if one[0].recordings],
        "manifest_sha256": manifest,
    }


def fill_bag(made: Path, said: MeetBag, chains: Sequence[_Chain]) -> None:
    """Write the cases of some tasks, their rule books and the list of them; nothing that may be erased."""
    payload = made / exchange.PAYLOAD
    (payload / CASES).mkdir(parents=True)
    for one, (events, books) in zip(said.tasks, chains, strict=True):
        casefile.write_copy(payload / CASES / one.case, events, books)
    texts = {text for _, books in chains for text in books.values()}
    for number, text in enumerate(sorted(texts), start=1):
        name = BOOK if len(texts) == 1 else f"{Path(BOOK).stem}-{number}{Path(BOOK).suffix}"
        (payload / name).write_bytes(text.encode())
    said.write(payload)


def close_bag(made: Path) -> None:
    """List what was written."""
    info = {
        "Bag-Software-Agent": f"reviewer {__version__}",
        "External-Description": "Routines of a meet to be audited: cases, a list of them, and the rule book.",
    }
    exchange.list_files(made, info)


def _waiting(meet: Meet, auditor: str, again: bool) -> tuple[Task, ...]:
    place = {one.name: at for at, one in enumerate(meet.starts)}
    own = sorted(
        (one for one in meet.queue if one.auditor == auditor), key=lambda one: place.get(one.start, 0)
    )
    found = tuple(one for one in own if one.sent is None or (again and one.home is None))
    if not own:
        said = message("Auditor {auditor} has no task in this meet.", auditor=repr(auditor[:40]))
        known = ", ".join(sorted({one.auditor for one in meet.queue}))
        remedy = message("`reviewer meet assign` gives tasks.")
        if known:
            remedy = message("Name one of: {columns}.", columns=known)
        raise DocumentError(Problem("no-auditor", "AUDITOR", said, remedy))
    if not found:
        said = message("All tasks of auditor {auditor} were sent.", auditor=auditor)
        remedy = message("Where a bag was lost, --again packs those that are not home yet.")
        raise DocumentError(Problem("nothing-to-send", f"auditor {auditor}", said, remedy))
    return found


def _opened(folder: Path, meet: Meet, task: Task) -> Audit:
    """The meet's case of a task, its recordings where they lay last or where the meet has them."""
    path = meet_case(folder, task.start)
    audit = open_case(path, author=None)
    missing = {one.sha256 for one in audit.state.recordings} - set(audit.recording_paths)
    if missing and meet.recordings is not None:
        named = next(one.recordings for one in meet.starts if one.name == task.start)
        for film in (folder / meet.recordings / name for name in named):
            digest = video.fingerprint(film) if film.is_file() else ""
            if digest in missing:
                audit.recording_paths[digest] = film
    return audit


def _refuse_absent(folder: Path, tasks: Sequence[Task]) -> None:
    problems = []
    for task in tasks:
        path, kept = meet_case(folder, task.start), _kept(folder, task)
        if not path.is_file():
            said = message("The meet holds no case of this routine yet.")
            remedy = message("Make it with `reviewer meet index`.")
            problems.append(Problem("no-case", str(path), said, remedy))
        elif task.sent is not None and not kept.is_file():
            said = message("The case as it was sent is not here any more, so it cannot be sent again.")
            other = message("Take it from a copy of the meet, or give the routine to another auditor.")
            problems.append(Problem("no-case", str(kept), said, other))
    if problems:
        raise DocumentError(problems)


def _refuse_unready(tasks: Sequence[Task], audits: Sequence[Audit], today: str, recordings: bool) -> None:
    """An AuditError that names every case which may not leave, or not as it is wanted."""
    pairs = zip(tasks, audits, strict=True)
    problems = [problem for task, audit in pairs for problem in _unready(task, audit, today, recordings)]
    if problems:
        raise AuditError(_consent_once(problems))


def _consent_once(problems: Sequence[Problem]) -> Iterator[Problem]:
    """Where consent lacks in many cases, that is said once, with the command that records it in all."""
    lacking = [one for one in problems if one.code == "no-consent"]
    if len(lacking) > 1:
        folder = Path(lacking[0].where).parents[1]
        names = [Path(one.where).stem for one in lacking]
        remedy = message(
            "Ask for it, then record it: `reviewer meet consent {folder} {names} --for {use}`.",
            folder=shlex.quote(str(folder)),
            names=" ".join(names),
            use=INQUIRY,
        )
        where = ", ".join(names)
        yield Problem("no-consent", where, lacking[0].message, remedy)
    yield from (one for one in problems if len(lacking) < 2 or one.code != "no-consent")


def _unready(task: Task, audit: Audit, today: str, recordings: bool) -> Iterator[Problem]:
    where = str(audit.path)
    refused = refusal(audit.permission, INQUIRY, today, where=where)
    if refused is not None:
        yield refused
    missing = [one for one in audit.state.recordings if one.sha256 not in audit.recording_paths]
    if recordings and missing:
        said = message("Recordings of this case are not here: {count}.", count=len(missing))
        remedy = message("Lay them beside the case, or send it with --without-recordings.")
        yield Problem("no-recording", where, said, remedy)
    if audit.state.sealed is not None and not task.blind and task.sent is None:
        said = message("This sheet is sealed: its marks stay as they are, and nobody audits in it.")
        remedy = message("Take the task back with `reviewer meet unassign`, or give it to a blind auditor.")
        yield Problem("sealed", where, said, remedy)


def _kept(folder: Path, task: Task) -> Path:
    """Where a case stays as it was sent."""
    return folder / SENT / f"{task.start}.{task.auditor}.case"


def _chain(folder: Path, task: Task, audit: Audit) -> _Chain:
    """The case as it goes to the auditor, kept in the meet's folder so that it can go again as it went."""
    kept = _kept(folder, task)
    if task.sent is not None:
        return casefile.read_events(kept), casefile.read_books(kept)
    events, books = audit.case.events, audit.case.books()
    if task.blind:
        events, books = _begun_blind(audit, task.auditor)
    kept.parent.mkdir(exist_ok=True)
    kept.unlink(missing_ok=True)
    casefile.write_copy(kept, events, books)
    return events, books


def _begun_blind(audit: Audit, auditor: str) -> tuple[tuple[Event, ...], dict[str, str]]:
    """A case of the auditor's own on the same recordings and edition, of which nobody said anything yet."""
    with (
        TemporaryDirectory(prefix="reviewer-") as aside,
        second_of(audit, Path(aside) / audit.path.name, auditor) as second,
    ):
        return second.case.events, second.case.books()


def _films(task: Task, audit: Audit) -> tuple[tuple[str, str], ...]:
    """Each recording of a case and the plain name it goes by: its file may be named after somebody."""
    digests = [one.sha256 for one in audit.state.recordings]
    films = [(digest, plain_suffix(audit.recording_paths[digest])) for digest in digests]
    numbered = enumerate(films, start=1)
    return tuple((digest, f"{task.start}-{number}{suffix}") for number, (digest, suffix) in numbered)


def _copy_films(payload: Path, carried: Sequence[Carried], audits: Sequence[Audit]) -> None:
    for one, audit in zip(carried, audits, strict=True):
        for digest, name in one.recordings:
            (payload / RECORDINGS).mkdir(exist_ok=True)
            shutil.copyfile(audit.recording_paths[digest], payload / RECORDINGS / name)


def _riders(one: Carried, audit: Audit) -> dict[str, Any]:
    """What the recordings of a task carry beside their pictures: they go byte for byte."""
    found = {rider for digest, _ in one.recordings for rider in video.riders(audit.recording_paths[digest])}
    return {"start": one.start, "carries": sorted(found)}


def _sent(meet: Meet, tasks: Sequence[Task], carried: Sequence[Carried]) -> Meet:
    now = {(task.start, task.auditor): one.sent for task, one in zip(tasks, carried, strict=True)}
    queue = (replace(one, sent=now.get((one.start, one.auditor), one.sent)) for one in meet.queue)
    return replace(meet, queue=tuple(queue))
