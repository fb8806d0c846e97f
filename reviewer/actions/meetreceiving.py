"""An auditor's cases come home: held against what was sent, then taken, all of a bag or none of it."""

import os
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass, replace
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any, NamedTuple

from reviewer import casefile, exchange
from reviewer.actions.audit import AuditError
from reviewer.actions.bagsigning import signers_of
from reviewer.actions.meetholding import held_meet, meet_case, task_case
from reviewer.actions.meetunpacking import Arrived, bag_at, cases_in
from reviewer.actions.merging import merge_cases
from reviewer.exchange.gate import withdrawn
from reviewer.exchange.meetbags import HOME, read_meet_bag
from reviewer.exchange.meets import write_meet
from reviewer.terms.meets import Meet, Task
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem, ReviewerError

TAKEN, MERGED, KNOWN, OLDER = "taken", "merged", "nothing new", "older"
"""What comes of a case: it goes on from ours; both went on; it came before; a newer one came before it."""


class Received(NamedTuple):
    """``reviewer.meet-received/1``, and why cases were left out."""

    document: dict[str, Any]
    refused: tuple[Problem, ...]


@dataclass(frozen=True, slots=True)
class _Coming:
    """One case of a bag at its place at home.

    Attributes:
        task: of the meet.
        arrived: what came.
        place: where it is kept at home.
        ours: the events there; empty where none is yet.
    """

    task: Task
    arrived: Arrived
    place: Path
    ours: tuple[casefile.Event, ...]

    @property
    def head(self) -> str:
        """Hash of the last event that came."""
        return self.arrived.events[-1].hash

    @property
    def new(self) -> tuple[casefile.Event, ...]:
        """What came beyond what is at home, or beyond what was sent where nothing is there yet."""
        events, known = self.arrived.events, {event.hash for event in self.ours}
        if not known:
            sent = next(event.number for event in events if event.hash == self.task.sent)
            return events[sent:]
        return tuple(event for event in events if event.hash not in known)

    @property
    def outcome(self) -> str:
        """What is to be done with it."""
        ours, theirs = ({event.hash for event in some} for some in (self.ours, self.arrived.events))
        if theirs <= ours:
            return KNOWN if self.task.home is None or self.task.home in theirs else OLDER
        return TAKEN if ours <= theirs else MERGED


def receive(
    folder: Path, path: Path, *, author: str, signer: Path | None = None, only: Sequence[str] = ()
) -> Received:
    """Take the cases of a bag into a meet. An AuditError or DocumentError where anything is wrong with one:
    then nothing is taken, and every fault is named.

    A case that went on here as well is merged, by ``author``; one whose consent was withdrawn is left out.
    ``signer`` is a public key that the bag must be signed with; a signature that does not hold is refused.
    ``only`` names the routines to take, where not all of the bag's are wanted.
    """
    with held_meet(folder) as meet, bag_at(path) as bag, TemporaryDirectory(prefix="reviewer-") as aside:
        said = read_meet_bag(bag / exchange.PAYLOAD, HOME)
        cases = cases_in(bag, said)
        signers = signers_of(bag, cases, signer)
        coming = _belonging(folder, meet, said.auditor, _asked(cases, only))
        locked = {one.task.start: _locked(folder, one) for one in coming}
        refused = tuple(problem for problem in locked.values() if problem is not None)
        wanted = [one for one in coming if locked[one.task.start] is None]
        made, merges = _made(folder, wanted, Path(aside), author)
        _put_in_place(wanted, made)
        write_meet(folder, _at_home(meet, wanted))
    document = {
        "format": "reviewer.meet-received/1",
        "auditor": said.auditor,
        "signers": list(signers),
        "cases": [_told(one) | merges.get(one.place, {}) for one in wanted],
        "refused": [problem.to_json() for problem in refused],
    }
    return Received(document, refused)


def _asked(cases: Sequence[Arrived], only: Sequence[str]) -> tuple[Arrived, ...]:
    """The cases of these routines, or all; an AuditError where the bag holds none of a name."""
    known = {one.task.start.casefold(): one for one in cases}
    strays = [name for name in only if name.casefold() not in known]
    if strays:
        said, remedy = (
            message("The bag holds no case of this routine."),
            message("Name one of: {columns}.", columns=", ".join(one.task.start for one in cases)),
        )
        raise AuditError(Problem("unknown-start", repr(name), said, remedy) for name in strays)
    wanted = [name.casefold() for name in only] or list(known)
    return tuple(one for name, one in known.items() if name in wanted)


def _belonging(folder: Path, meet: Meet, auditor: str, cases: Sequence[Arrived]) -> tuple[_Coming, ...]:
    """Each case with its task; an AuditError where one was not sent, is another, or may not come home yet."""
    tasks = {one.start: one for one in meet.queue if one.auditor == auditor}
    problems = [problem for one in cases for problem in _foreign(one, tasks.get(one.task.start), auditor)]
    if problems:
        raise AuditError(problems)
    found = []
    for one in cases:
        task = tasks[one.task.start]
        place = task_case(folder, task)
        ours = casefile.read_events(place) if place.is_file() else ()
        found.append(_Coming(task, one, place, ours))
    return tuple(found)


def _foreign(one: Arrived, task: Task | None, auditor: str) -> Iterator[Problem]:
    """What keeps a case from coming home as a task of this auditor."""
    where = one.task.case
    if task is None or task.sent is None:
        said = message("This routine was not sent to auditor {auditor} from this meet.", auditor=auditor)
        remedy = message(
            "Nothing was taken. Name the meet it was sent from; `reviewer meet queue` lists them."
        )
        yield Problem("not-sent", where, said, remedy)
    elif task.sent not in {event.hash for event in one.events}:
        said = message("This is not the case that was sent: it lacks the event it was sent with.")
        remedy = message(
            "Nothing was taken. Ask auditor {auditor} for the case from the bag.", auditor=auditor
        )
        yield Problem("other-case", where, said, remedy)
    elif task.blind and casefile.fold(one.events).sealed is None:
        said = message("A sheet of blind judging goes home only once it is sealed.")
        remedy = message("Nothing was taken. Ask auditor {auditor} to seal and return it.", auditor=auditor)
        yield Problem("not-sealed", where, said, remedy)


def _locked(folder: Path, one: _Coming) -> Problem | None:
    """Why nothing may be made of a case any more: consent was withdrawn meanwhile, here or there."""
    ours = meet_case(folder, one.task.start)
    chains = [casefile.read_events(ours)] if ours.is_file() else []
    for events in (*chains, one.ours, one.arrived.events):
        found = withdrawn(casefile.fold(events).permission, one.arrived.task.case)
        if found is not None:
            return found
    return None


def _made(
    folder: Path, wanted: Sequence[_Coming], aside: Path, author: str
) -> tuple[dict[Path, Path], dict[Path, dict[str, Any]]]:
    """The new file for each place at home that changes, and what was found where two were merged.

    An AuditError names all that cannot be joined.
    """
    made, merges, problems = dict[Path, Path](), dict[Path, dict[str, Any]](), list[Problem]()
    for one in wanted:
        new = aside / one.place.name
        try:
            if one.outcome == MERGED:
                merges[one.place] = {"merge": _merge(one, new, author)}
            elif one.outcome == TAKEN:
                _carry_on(one, new, meet_case(folder, one.task.start))
            else:
                continue
            made[one.place] = new
        except ReviewerError as fault:
            problems += fault.problems
    if problems:
        raise AuditError(problems)
    return made, merges


def _carry_on(one: _Coming, new: Path, meets: Path) -> None:
    """What came, with what lies beside the chain at home; a first one gets the places of recordings."""
    books, beside = one.arrived.books, dict[str, dict[str, str]]()
    if one.ours:
        with casefile.open_case(one.place, None) as case:
            books, beside = books | case.books(), case.erasable()
    elif meets.is_file():
        with casefile.open_case(meets, None) as case:
            beside = {"places": case.erasable()["places"]}
    casefile.write_copy(new, one.arrived.events, books, beside)


def _merge(one: _Coming, new: Path, author: str) -> dict[str, Any]:
    if one.task.blind:
        said = message(
            "Auditor {auditor} returned another sheet of this routine before.", auditor=one.task.auditor
        )
        remedy = message("Nothing was taken. Ask which of the two holds: a sealed sheet stays as it is.")
        raise AuditError(Problem("two-sheets", one.arrived.task.case, said, remedy))
    theirs = new.with_name(f"theirs-{new.name}")
    casefile.write_copy(theirs, one.arrived.events, one.arrived.books)
    found = merge_cases(one.place, theirs, new, author=author)
    return {name: found[name] for name in ("renamed", "same", "judges", "conflicts", "remarks")}


def _put_in_place(wanted: Sequence[_Coming], made: dict[Path, Path]) -> None:
    """Put every new file in its place, where nobody writes meanwhile, and nobody wrote since it was read."""
    with ExitStack() as holds:
        for one in wanted:
            if one.place in made:
                one.place.parent.mkdir(exist_ok=True)
                holds.callback(casefile.Hold(one.place, "reviewer").release)
                _refuse_changed(one)
        for place, new in made.items():
            _replace(place, new)


def _replace(place: Path, new: Path) -> None:
    """In one step, and on disk before: a copy that is broken off leaves what was there."""
    beside = place.with_name(f".{place.name}-new")
    with beside.open("wb") as file:
        file.write(new.read_bytes())
        file.flush()
        os.fsync(file.fileno())
    beside.replace(place)


def _refuse_changed(one: _Coming) -> None:
    now = casefile.read_events(one.place) if one.place.is_file() else ()
    if now != one.ours:
        said = message("This case was written to just now.")
        raise AuditError(Problem("case-held", str(one.place), said, message("Receive the bag again.")))


def _at_home(meet: Meet, wanted: Sequence[_Coming]) -> Meet:
    heads = {one.task: one.head for one in wanted if one.outcome != OLDER}
    return replace(meet, queue=tuple(replace(one, home=heads.get(one, one.home)) for one in meet.queue))


def _told(one: _Coming) -> dict[str, Any]:
    new = one.new
    state = casefile.fold(one.arrived.events)
    return {
        "start": one.task.start,
        "case": str(one.place),
        "outcome": one.outcome,
        "events": len(new) if one.outcome in (TAKEN, MERGED) else 0,
        "marks": len(state.marks),
        "sealed": state.sealed is not None,
        "by": sorted({event.author for event in new}),
    }
