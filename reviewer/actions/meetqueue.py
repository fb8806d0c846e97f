"""The queue of a meet at a glance: who has what, what came home, what can be compared, what is next."""

import shlex
from collections.abc import Iterator, Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import casefile
from reviewer.actions.meetchoosing import chosen
from reviewer.actions.meetholding import SETTLED, auditors_case, meet_case, task_case
from reviewer.actions.opening import open_case
from reviewer.actions.settling import open_lines
from reviewer.exchange.meets import read_meet
from reviewer.terms.meets import Meet, Task
from reviewer.terms.problems import ReviewerError

TO_DO, SENT, HOME = "to do", "sent", "home"


def meet_queue(folder: Path) -> dict[str, Any]:
    """``reviewer.meet-queue/1``: every task with its state, the auditors' loads, and what is next."""
    meet = read_meet(folder)
    order = {one.name: place for place, one in enumerate(meet.starts)}
    meet = replace(
        meet, queue=tuple(sorted(meet.queue, key=lambda one: (order.get(one.start, 0), one.auditor)))
    )
    known, twice = chosen(meet), _twice(meet)
    given = {one.start for one in meet.queue}
    doubles = [_double(folder, start, own) for start, own in twice.items()]
    waiting = [name for name in known if name not in given]
    return {
        "format": "reviewer.meet-queue/1",
        "of": len(meet.starts),
        "chosen": len(known),
        "waiting": waiting,
        "marked_here": _marked_here(folder, meet, known),
        "tasks": [_task(folder, one, one.start in twice) for one in meet.queue],
        "auditors": _loads(meet),
        "doubles": doubles,
        "agreement": _agreement(folder, [own for own in twice.values() if _all_home(own)]),
        "next": [*_next(folder, meet, waiting, doubles)],
    }


def state_of(task: Task) -> str:
    """Whether a task is still to be sent, out, or home."""
    return HOME if task.home is not None else SENT if task.sent is not None else TO_DO


def _twice(meet: Meet) -> dict[str, list[Task]]:
    found: dict[str, list[Task]] = {}
    for one in meet.queue:
        found.setdefault(one.start, []).append(one)
    return {start: own for start, own in found.items() if len(own) > 1}


def _all_home(tasks: Sequence[Task]) -> bool:
    return all(one.home is not None for one in tasks)


def _task(folder: Path, task: Task, double: bool) -> dict[str, Any]:
    """One task; of a case that is home, whether its sheet is sealed."""
    case = task_case(folder, task)
    at_home = task.home is not None and case.is_file()
    sealed = casefile.fold(casefile.read_events(case)).sealed is not None if at_home else None
    return {
        "start": task.start,
        "auditor": task.auditor,
        "blind": task.blind,
        "double": double,
        "seed": task.seed,
        "state": state_of(task),
        "case": str(case) if at_home else None,
        "sealed": sealed,
    }


def _loads(meet: Meet) -> list[dict[str, Any]]:
    found = []
    for auditor in sorted({one.auditor for one in meet.queue}):
        states = [state_of(one) for one in meet.queue if one.auditor == auditor]
        counts = {name.replace(" ", "_"): states.count(name) for name in (TO_DO, SENT, HOME)}
        found.append({"auditor": auditor, **counts})
    return found


def _double(folder: Path, start: str, tasks: Sequence[Task]) -> dict[str, Any]:
    """A routine that two audit blind; once both are home, the commands that hold their sheets together."""
    sheets = [shlex.quote(str(task_case(folder, one))) for one in tasks]
    settled = auditors_case(folder, start, SETTLED)
    commands = [
        f"reviewer compare {' '.join(sheets)}",
        f"reviewer settle begin {' '.join(sheets)} -o {shlex.quote(str(settled))}",
    ]
    both, there = _all_home(tasks), settled.is_file()
    return {
        "start": start,
        "auditors": [one.auditor for one in tasks],
        "both_home": both,
        "settled": str(settled) if there else None,
        "open": _open_lines(settled) if there else None,
        "commands": commands if both else [],
    }


def _open_lines(settled: Path) -> int | None:
    """How many lines of a settlement are open; None where it cannot be read."""
    try:
        with open_case(settled, author=None) as audit:
            return len(open_lines(audit))
    except ReviewerError:
        return None


def _marked_here(folder: Path, meet: Meet, known: Sequence[str]) -> list[str]:
    """Chosen routines that were audited in the meet's own case; no task of them is blind, or was sent."""
    away = {one.start for one in meet.queue if one.blind or one.sent is not None}
    cases = ((name, meet_case(folder, name)) for name in known if name not in away)
    return [name for name, case in cases if case.is_file() and _has_marks(case)]


def _has_marks(case: Path) -> bool:
    return bool(casefile.fold(casefile.read_events(case)).marks)


def _agreement(folder: Path, doubles: Sequence[Sequence[Task]]) -> str | None:
    """The command that says how far auditors agree on all routines that are home twice."""
    sheets = [
        f"{one.start}/{one.auditor}={shlex.quote(str(task_case(folder, one)))}"
        for own in doubles
        for one in own
    ]
    return f"reviewer agreement {' '.join(sheets)}" if sheets else None


def _next(
    folder: Path, meet: Meet, waiting: Sequence[str], doubles: Sequence[dict[str, Any]]
) -> Iterator[str]:
    place = shlex.quote(str(folder))
    if not meet.choices:
        yield f"Choose routines: `reviewer meet choose {place} --number N --seed S`."
    if waiting:
        yield (
            f"Routines that nobody has yet: {len(waiting)}. Give them to auditors: "
            f"`reviewer meet assign {place} --auditors K,L`."
        )
    for one in _loads(meet):
        if one["to_do"]:
            name = one["auditor"]
            yield f"Send auditor {name} {_tasks(one['to_do'])}: `reviewer meet send {place} {name} -o BAG`."
    out = [f"{one['auditor']} ({one['sent']})" for one in _loads(meet) if one["sent"]]
    if out:
        yield f"To come home from {', '.join(out)}: `reviewer meet receive {place} BAG`."
    ready = [one["start"] for one in doubles if one["both_home"] and one["settled"] is None]
    if ready:
        yield f"Home twice, to be compared and settled: {', '.join(ready)}."
    unfinished = [f"{one['start']} ({one['open']})" for one in doubles if one["open"]]
    if unfinished:
        yield f"Settlements with open lines: {', '.join(unfinished)}."


def _tasks(number: int) -> str:
    return "1 task" if number == 1 else f"{number} tasks"
