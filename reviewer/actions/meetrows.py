"""A meet routine by routine: what was posted, its recording, why it was chosen, who has it, and its cases."""

from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from reviewer.actions.meetholding import meet_case, task_case
from reviewer.actions.meetqueue import state_of
from reviewer.actions.meetshowing import unclear_recordings
from reviewer.exchange.meets import read_meet
from reviewer.terms.meets import Choice, Meet, Start, Task
from reviewer.terms.problems import DocumentError


@dataclass(frozen=True, slots=True)
class Doing:
    """What one auditor has to do with a routine.

    Attributes:
        auditor: the code.
        blind: whether nothing is shown of what was posted or marked.
        state: ``to do``, ``sent`` or ``home``.
        case: where the auditor's case lies once it is home; None before.
    """

    auditor: str
    blind: bool
    state: str
    case: Path | None


@dataclass(frozen=True, slots=True)
class MeetRow:
    """One routine.

    Attributes:
        start: as the list of starts has it.
        chosen: how it was chosen, each way once; empty where it was not.
        doing: by auditor.
        case: its own case; None where none is made.
        unclear: recordings that may be of it, where it has none.
    """

    start: Start
    chosen: tuple[str, ...]
    doing: tuple[Doing, ...]
    case: Path | None
    unclear: tuple[str, ...] = ()


def meet_rows(folder: Path) -> tuple[MeetRow, ...]:
    """Every routine in the order of the meet; a DocumentError where there is none."""
    meet = read_meet(folder)
    ways, tasks, unclear = _ways(meet.choices), _tasks(meet), _unclear(folder, meet)
    return tuple(
        MeetRow(
            start,
            tuple(ways.get(start.name, ())),
            tuple(_doing(folder, one) for one in tasks.get(start.name, ())),
            _there(meet_case(folder, start.name)),
            unclear.get(start.name, ()),
        )
        for start in meet.starts
    )


def _unclear(folder: Path, meet: Meet) -> dict[str, tuple[str, ...]]:
    """Nothing where the recordings are away, as on a disk that is not plugged in: the rest is shown."""
    try:
        return unclear_recordings(folder, meet)
    except DocumentError:
        return {}


def _ways(choices: Sequence[Choice]) -> dict[str, dict[str, None]]:
    found: dict[str, dict[str, None]] = {}
    for choice in choices:
        for name in choice.starts:
            found.setdefault(name, {})[choice.how] = None
    return found


def _tasks(meet: Meet) -> dict[str, list[Task]]:
    found: dict[str, list[Task]] = {}
    for one in sorted(meet.queue, key=lambda task: task.auditor):
        found.setdefault(one.start, []).append(one)
    return found


def _doing(folder: Path, task: Task) -> Doing:
    case = _there(task_case(folder, task)) if task.home is not None else None
    return Doing(task.auditor, task.blind, state_of(task), case)


def _there(case: Path) -> Path | None:
    return case if case.is_file() else None
