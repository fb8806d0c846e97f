"""The sheet of each audited routine of a meet: in which case it stands, and what of it is scored again."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from pathlib import Path

from reviewer import casefile
from reviewer.actions.audit import Audit, others_in
from reviewer.actions.meetholding import SETTLED, auditors_case, meet_case
from reviewer.actions.meetrescoring import Job, bare
from reviewer.actions.settling import open_lines
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.meets import Choice, Meet, Start
from reviewer.terms.problems import Problem, ReviewerError


@dataclass(frozen=True, slots=True)
class Sheet:
    """A routine to be scored again, the case that it stands in, and when that was last written to."""

    job: Job
    case: str
    at: str


def sheets_of(folder: Path, meet: Meet, spoken: Choice | None, problems: list[Problem]) -> Iterator[Sheet]:
    """The case of each routine that holds marks; what cannot be read is noted and left out."""
    blind = _blind(folder, meet)
    for start in meet.starts:
        for path in _cases_of(folder, start, blind.get(start.name, {})):
            try:
                sheet = _sheet(path, folder, start, stratum_of(start, spoken))
            except ReviewerError as fault:
                problems += (replace(one, where=f"{path.name}: {one.where}") for one in fault.problems)
                continue
            if sheet is not None:
                yield sheet
                break


def unsettled(folder: Path, meet: Meet, found: Iterable[Sheet]) -> Iterator[tuple[str, str]]:
    """The routines of which one of two auditors' sheets counts, since they are not settled yet; and whose."""
    blind = _blind(folder, meet)
    for one in found:
        own = blind.get(one.job.name, {})
        whose = [auditor for auditor, path in own.items() if path == folder / one.case]
        if whose and len(own) > 1:
            yield one.job.name, whose[0]


def stratum_of(start: Start, spoken: Choice | None) -> str:
    """The part of the meet that a lot drew a routine from; empty where it drew from the whole."""
    return start.groups.get(spoken.by, "") if spoken is not None and spoken.by else ""


def _cases_of(folder: Path, start: Start, blind: Mapping[str, Path]) -> Iterable[Path]:
    """Where a routine may have been audited: settled, at home, or blind, in the order of the lots."""
    own = (auditors_case(folder, start.name, SETTLED), meet_case(folder, start.name))
    return (*(path for path in own if path.is_file()), *blind.values())


def _blind(folder: Path, meet: Meet) -> Mapping[str, Mapping[str, Path]]:
    """The cases that came home from blind auditors, by routine and auditor, in the order of the queue."""
    found: dict[str, dict[str, Path]] = {}
    for task in meet.queue:
        path = auditors_case(folder, task.start, task.auditor)
        if path.is_file():
            found.setdefault(task.start, {})[task.auditor] = path
    return found


def _sheet(path: Path, folder: Path, start: Start, stratum: str) -> Sheet | None:
    """A routine to be scored again; None where nothing is marked, all is not audited or settled, or consent
    is gone."""
    with casefile.open_case(path, None) as case:
        state = case.state
        if state.consent == WITHDRAWN or state.limited_to or not state.marks:
            return None
        audit, names = Audit(case), dict[str, str]()
        if open_lines(audit):
            return None
        marks = tuple(bare(mark, names) for mark in audit.counting_marks)
        others = others_in(audit.book, state.interpretations)
        job = Job(start.name, stratum, audit.book.text, others, marks, audit.judges_of(marks), start.posted)
        return Sheet(job, path.relative_to(folder).as_posix(), case.events[-1].at)
