"""The score sheet as rows to read: every line, the sub-totals between them, what was not earned, problems."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from reviewer.desk.calls import short
from reviewer.terms.exact import Points
from reviewer.terms.sheets import Line, ScoreSheet

STAGE_WORDS = {
    "start-value": "Start value",
    "execution": "Execution",
    "neutral": "From the average",
    "courtesy": "Courtesy",
}


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the sheet.

    Attributes:
        kind: ``line``, ``total``, ``not earned``, ``not taken``, ``remark`` or ``problem``.
        points: what moved or what stands, as text; empty where nothing does.
        words: the reason, or the total's name.
        beneath: stage, clause and source, said smaller.
        marks: ids of the marks behind it.
    """

    kind: str
    points: str
    words: str
    beneath: str = ""
    marks: tuple[str, ...] = ()


def rows_of(sheet: ScoreSheet, whereabouts: Callable[[str], str] = str) -> tuple[Row, ...]:
    """The whole sheet: what is wrong, the ledger to the final score, what was not earned or taken, remarks.

    ``whereabouts`` says of a mark's id where it lies.
    """
    rows = (*_problems(sheet), *_ledger(sheet), *_withheld(sheet), *_untaken(sheet), *_remarks(sheet))
    return tuple(_placed(row, whereabouts) for row in rows)


def reachable_words(sheet: ScoreSheet) -> str:
    """Which final scores the marks leave open."""
    low, high = sheet.reachable.low, sheet.reachable.high
    if low == high:
        return "No other score can be reached on these marks."
    bounds = "" if sheet.reachable.exact else " (bounds only)"
    return f"Can be reached: {low} to {high}{bounds}"


def posted_words(sheet: ScoreSheet, posted: Points | None) -> str:
    """The panel's score held against what can be reached."""
    if posted is None:
        return "No posted score entered."
    reach = sheet.reachable
    if posted in reach.scores:
        return f"Posted {posted}: can be reached on these marks."
    if reach.scores:
        nearest = min(reach.scores, key=lambda score: abs((score - posted).thousandths))
        return f"Posted {posted}: cannot be reached; the nearest is {nearest}."
    inside = reach.low <= posted <= reach.high
    return f"Posted {posted}: {'lies within the bounds' if inside else 'lies outside the bounds'}."


def _placed(row: Row, whereabouts: Callable[[str], str]) -> Row:
    if not row.marks or row.kind == "problem":
        return row
    shown = ", ".join(whereabouts(mark) for mark in row.marks[:3])
    more = f" and {len(row.marks) - 3} more" if len(row.marks) > 3 else ""
    return replace(row, beneath=f"{shown}{more} · {row.beneath}")


def _ledger(sheet: ScoreSheet) -> Iterator[Row]:
    yield from _stage(sheet, "start-value")
    yield Row("total", str(sheet.start_value), "Start value", _parts(sheet.value_parts))
    for judge in sheet.judges:
        yield from _stage(sheet, "execution", judge.judge)
        yield Row("total", str(judge.score), f"Score of judge {judge.judge}")
    yield from _stage(sheet, "execution")
    if len(sheet.judges) != 1 or sheet.panel_average != sheet.judges[0].score:
        yield Row("total", str(sheet.panel_average), "Average of the panel")
    yield from _stage(sheet, "neutral")
    yield from _stage(sheet, "courtesy")
    yield Row("total", str(sheet.final_score), "Final score")
    if sheet.full_speed is not None:
        without = ", ".join(sheet.full_speed.left_out)
        yield Row("total", str(sheet.full_speed.final_score), "Seen at full speed", f"without {without}")


def _stage(sheet: ScoreSheet, stage: str, judge: str | None = None) -> Iterator[Row]:
    return (_row(line) for line in sheet.lines if line.stage == stage and line.judge == judge)


def _row(line: Line) -> Row:
    beneath = f"{STAGE_WORDS.get(line.stage, line.stage)} · {line.clause} · {line.source}"
    points = f"{'+' if line.points.thousandths > 0 else ''}{short(line.points)}".replace("-", "−")
    return Row("line", points, line.why.words(), beneath, line.marks)


def _withheld(sheet: ScoreSheet) -> Iterator[Row]:
    for one in sheet.not_earned:
        yield Row("not earned", "", one.why.words(), f"Not earned: {one.reason} · {one.clause}", one.marks)


def _untaken(sheet: ScoreSheet) -> Iterator[Row]:
    for one in sheet.not_taken:
        yield Row("not taken", "", one.why.words(), f"Not taken · {one.clause}", one.marks)


def _remarks(sheet: ScoreSheet) -> Iterator[Row]:
    for one in sheet.notes:
        yield Row("remark", "", one.why.words(), f"To mind · {one.clause or 'no clause'}", one.marks)


def _problems(sheet: ScoreSheet) -> Iterator[Row]:
    for problem in sheet.problems:
        yield Row("problem", "", problem.message, f"{problem.where} · {problem.remedy}", (problem.where,))


def _parts(number: int) -> str:
    return f"{number} value part{'' if number == 1 else 's'} credited"
