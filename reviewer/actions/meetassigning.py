"""Who audits which of the chosen routines: evenly, and by lot, so that nobody picks."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from pathlib import Path
from secrets import token_hex
from typing import Any

from reviewer import casefile
from reviewer.actions.meetchoosing import chosen
from reviewer.actions.meetholding import held_meet, meet_case, starts_named
from reviewer.actions.meetsamples import seeded
from reviewer.auditing import lots
from reviewer.exchange.meets import write_meet
from reviewer.terms.codes import no_code
from reviewer.terms.meets import Meet, Task
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


@dataclass(frozen=True, slots=True)
class Wish:
    """How routines are to be given to auditors.

    Attributes:
        auditors: their letters or codes.
        seed: of the lots; None for one that is made up.
        double: how many of the routines get two auditors, blind of each other.
        blind: whether none sees what was posted.
        only: names of routines to give; every one that is chosen, where none is named.
        not_for: auditor to names of routines that this one must not audit.
    """

    auditors: tuple[str, ...]
    seed: str | None = None
    double: int = 0
    blind: bool = False
    only: tuple[str, ...] = ()
    not_for: Mapping[str, Sequence[str]] = field(default_factory=dict)


def assign(folder: Path, wish: Wish) -> dict[str, Any]:
    """Give every chosen routine that nobody has yet to an auditor: ``reviewer.meet-assigned/1``.

    A DocumentError where that cannot be done as wished, with every reason; nothing is given then.
    """
    _refuse(_unsound(wish))
    seed = token_hex(4) if wish.seed is None else seeded(wish.seed)
    with held_meet(folder) as meet:
        _refuse(_written_otherwise(meet, wish))
        waiting = _waiting(meet, wish)
        if wish.double > len(waiting):
            said = message("Routines that wait for an auditor: {count}.", count=len(waiting))
            remedy = message("Ask for no more than these twice, or choose more first.")
            raise DocumentError(Problem("no-sample", "--double", said, remedy))
        twice = set(lots.simple(waiting, wish.double, seed))
        allowed = _allowed(meet, wish, waiting, twice)
        given = tuple(_given(meet, replace(wish, seed=seed), allowed, twice))
        _refuse_own(folder, given)
        write_meet(folder, replace(meet, queue=(*meet.queue, *given)))
    tasks = [one.to_json() for one in given]
    return {"format": "reviewer.meet-assigned/1", "seed": seed, "tasks": tasks}


def unassign(folder: Path, start: str, auditor: str) -> Task:
    """Take a task back from an auditor, to whom it was not sent yet."""
    with held_meet(folder) as meet:
        name = starts_named(meet, [start])[0].name
        task = next((one for one in meet.queue if (one.start, one.auditor) == (name, auditor)), None)
        if task is None:
            said = message("Auditor {auditor} has no such task.", auditor=auditor)
            remedy = message("`reviewer meet queue` lists them.")
            raise DocumentError(Problem("no-task", name, said, remedy))
        if task.sent is not None:
            said = message("This was sent to auditor {auditor} already.", auditor=auditor)
            remedy = message("Let it come home, or give the routine to another auditor as well.")
            raise DocumentError(Problem("sent", name, said, remedy))
        write_meet(folder, replace(meet, queue=tuple(one for one in meet.queue if one != task)))
        return task


def _refuse(problems: Iterable[Problem]) -> None:
    found = tuple(problems)
    if found:
        raise DocumentError(found)


def _written_otherwise(meet: Meet, wish: Wish) -> Iterator[Problem]:
    """Auditors who are in the queue already, in letters of the other case: files are named after them."""
    known = {task.auditor.casefold(): task.auditor for task in meet.queue}
    for one in wish.auditors:
        other = known.get(one.casefold(), one)
        if other != one:
            said = message("Auditor {auditor} is in the queue as {other}.", auditor=one, other=other)
            remedy = message("Write the code as it is there, or give another one.")
            yield Problem("no-auditors", "--auditors", said, remedy)


def _unsound(wish: Wish) -> Iterator[Problem]:
    for one in wish.auditors:
        problem = no_code(one, "--auditors")
        if problem is not None:
            yield problem
    folded = [one.casefold() for one in wish.auditors]
    if not folded or len(set(folded)) < len(folded):
        said = message("Auditors are named once each, and at least one, in letters of either case.")
        yield Problem("no-auditors", "--auditors", said, message("Write them such as K,L,M."))
    if wish.double and len(folded) < 2:
        said = message("One auditor alone audits nothing twice.")
        yield Problem("one-judge", "--double", said, message("Name two auditors or more."))
    for one in wish.not_for:
        if one not in wish.auditors:
            said = message("Auditor {auditor} is none of those named.", auditor=repr(one))
            yield Problem("no-auditor", "--not-for", said, message("Write it such as K:12,17."))


def _waiting(meet: Meet, wish: Wish) -> tuple[str, ...]:
    """The chosen routines that nobody has, of those that are asked for."""
    known, taken = chosen(meet), {task.start for task in meet.queue}
    chosen_ones = set(known)
    asked = [one.name for one in starts_named(meet, wish.only)] or list(known)
    strays = [name for name in asked if name not in chosen_ones]
    if strays:
        said, remedy = message("This routine is not chosen."), message("Choose it: `reviewer meet choose`.")
        raise DocumentError(Problem("not-chosen", name, said, remedy) for name in strays)
    return tuple(name for name in asked if name not in taken)


def _allowed(meet: Meet, wish: Wish, waiting: Sequence[str], twice: set[str]) -> dict[str, tuple[str, ...]]:
    """The auditors that may have each routine; a DocumentError where they are too few."""
    barred = {
        auditor: {one.name for one in starts_named(meet, names)} for auditor, names in wish.not_for.items()
    }
    allowed = {
        name: tuple(one for one in wish.auditors if name not in barred.get(one, ())) for name in waiting
    }
    few = [name for name, own in allowed.items() if len(own) < 1 + (name in twice)]
    if few:
        said = message("Too few auditors are left for this routine.")
        remedy = message("Name more of them, or bar fewer with --not-for.")
        raise DocumentError(Problem("no-auditor", name, said, remedy) for name in few)
    return allowed


def _given(meet: Meet, wish: Wish, allowed: Mapping[str, Sequence[str]], twice: set[str]) -> Iterator[Task]:
    """The tasks. Whoever has fewest comes next, of those who have as few the one with the lowest lot.

    Those that two get come first, and before others those that few may have: so loads stay as even as can be.
    """
    seed = wish.seed or ""
    loads = {one: sum(task.auditor == one for task in meet.queue) for one in wish.auditors}
    order = sorted(allowed, key=lambda name: (name not in twice, len(allowed[name]), lots.lot(seed, name)))
    for name in order:
        ranked = sorted(allowed[name], key=lambda one: (loads[one], lots.lot(seed, f"{name}\n{one}")))
        for auditor in ranked[: 1 + (name in twice)]:
            loads[auditor] += 1
            yield Task(name, auditor, wish.blind or name in twice, seed)


def _refuse_own(folder: Path, given: Sequence[Task]) -> None:
    """Who began or marked the meet's case of a routine does not judge it blind."""
    own: dict[str, list[str]] = {}
    for task in given:
        if task.blind and task.auditor in _authors(meet_case(folder, task.start)):
            own.setdefault(task.auditor, []).append(task.start)
    problems = []
    for auditor, names in own.items():
        said = message("Judge {judge} began or marked cases of this meet, and sees them.", judge=auditor)
        remedy = message("Give a blind auditor another letter, or --not-for these.")
        problems.append(Problem("same-judge", ", ".join(names), said, remedy))
    if problems:
        raise DocumentError(problems)


def _authors(path: Path) -> set[str]:
    """Who began or marked a case; nobody, where there is none yet."""
    if not path.exists():
        return set()
    events = casefile.read_events(path)
    wrote = {event.author for event in events if event.kind.startswith("mark-")}
    return wrote | {events[0].author} if events else wrote
