"""A small invented meet, its cases without marks and without recordings."""

from collections.abc import Sequence
from pathlib import Path

from reviewer import actions
from reviewer.exchange.meets import read_meet, write_meet
from reviewer.terms.exact import Points
from reviewer.terms.meets import Meet, Start, Task
from reviewer.terms.posted import PostedSheet
from tests.actions import small_routine

TODAY = "2026-11-26"
BOOK = "demo-bars-2"


def points(text: str | None) -> Points | None:
    return None if text is None else Points.parse(text)


def sheet(
    *scores: str, start: str | None = None, average: str | None = None, final: str | None = None
) -> PostedSheet:
    """What a panel posted: its judges P, Q, R, and no neutral deduction."""
    judges = tuple(zip("PQR", map(Points.parse, scores), strict=False))
    return PostedSheet(points(start), judges, Points(0), points(average), points(final))


def meet_of(folder: Path, starts: Sequence[Start]) -> Path:
    """A meet of these routines, without cases."""
    folder.mkdir(parents=True)
    write_meet(folder, Meet(BOOK, None, "*{start}*", tuple(starts)))
    return folder


def begun(folder: Path, number: int = 4, *, consent: str = "given", recording: Path | None = None) -> Path:
    """A meet of routines 1, 2, ... whose start value and final score were posted, with a case for each."""
    posted = sheet("9.500", "9.600", start="10.000", average="9.550", final="9.550")
    starts = [Start(str(one), one + 1, f"G-{one}", posted=posted) for one in range(1, number + 1)]
    meet_of(folder, starts)
    (folder / "cases").mkdir()
    for one in starts:
        case = folder / "cases" / f"{one.name}.case"
        with actions.start_case(
            case, author="A", athlete_code=one.athlete, consent=consent, rule_book=BOOK, recording=recording
        ) as audit:
            actions.enter_posted_sheet(audit, posted)
    return folder


def given(folder: Path, auditors: str, **wish: object) -> tuple[Task, ...]:
    """Choose every routine of a meet and give it to auditors; the tasks."""
    actions.choose_by_hand(folder, [one.name for one in read_meet(folder).starts])
    actions.assign(folder, actions.Wish(tuple(auditors), "seed", **wish))  # type: ignore[arg-type]
    return read_meet(folder).queue


def out(folder: Path, auditor: str, to: Path) -> Path:
    """Send an auditor's tasks and lay them out; the folder to work in."""
    actions.send(folder, auditor, to / f"bag-{auditor}", today=TODAY)
    actions.unpack_tasks(to / f"bag-{auditor}", to / f"tasks-{auditor}")
    return to / f"tasks-{auditor}"


def mark(case: Path, author: str, *, seal: bool = False) -> Path:
    """Put the small routine into a case."""
    with actions.open_case(case, author=author) as audit:
        for one in small_routine.MARKS:
            judge = {"judge": author} if one["kind"] == "fault" else {}
            actions.place_mark(audit, **(one | judge))
        if seal:
            actions.seal(audit)
    return case


def back(tasks: Path, bag: str) -> Path:
    """Pack what is ready in an auditor's folder."""
    actions.pack_return(tasks, tasks.parent / bag, today=TODAY)
    return tasks.parent / bag
