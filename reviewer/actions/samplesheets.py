"""What several judges gave to several routines, read from their sheets."""

from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import NamedTuple

from reviewer.actions.samples import QUANTITIES, Sample, letter
from reviewer.actions.sheets import Sheet, read_sheet
from reviewer.auditing.faults import Routine, lay_together
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


class Source(NamedTuple):
    """A case or a marks document; its routine and its judge where they are named."""

    path: Path
    routine: str | None = None
    judge: str | None = None


class Judged(NamedTuple):
    """A sheet of one routine, and the letter that each of its judges has in the sample."""

    routine: str
    sheet: Sheet
    letters: Mapping[str, str]


def sheets_sample(sources: Sequence[Source]) -> Sample:
    """The sheets of several routines; a DocumentError with every problem.

    A routine that is not named is known by its recording. A sheet of several judges speaks for their scores
    and faults; its start value and final score are those of a panel, and stay out.
    """
    read = [(source, read_sheet(source.path)) for source in sources]
    problems = [problem for source, sheet in read for problem in _unplaced(source, sheet)]
    if problems:
        raise DocumentError(problems)
    return sample_of([_judged(source, sheet) for source, sheet in read])


def sample_of(judged: Sequence[Judged]) -> Sample:
    """The sample of sheets that were read."""
    problems = list(_twice(judged))
    if problems:
        raise DocumentError(problems)
    by_routine: dict[str, list[Judged]] = defaultdict(list)
    given: dict[str, dict[tuple[str, str], Points]] = {one: {} for one in QUANTITIES}
    for one in judged:
        by_routine[one.routine].append(one)
        for quantity, judge, points in _given(one):
            given[quantity][one.routine, judge] = points
    warnings = [problem for one in judged for problem in one.sheet.doubts()]
    warnings += [problem for own in by_routine.values() for problem in _editions(own)]
    return Sample(given, tuple(_laid(own) for own in by_routine.values()), tuple(warnings))


def _unplaced(source: Source, sheet: Sheet) -> Iterator[Problem]:
    if source.routine is None and not sheet.places:
        remedy = message("Name its routine, such as 12=FILE, or 12/A=FILE with the judge's letter.")
        yield Problem("no-routine", sheet.name, message("This sheet names no recording."), remedy)
    if source.judge is not None and len(sheet.sheet.judges) > 1:
        said = message("{count} judges score on this sheet.", count=len(sheet.sheet.judges))
        yield Problem("several-judges", sheet.name, said, message("Leave the judge's letter out."))


def _judged(source: Source, sheet: Sheet) -> Judged:
    own = [one.judge for one in sheet.sheet.judges]
    letters = {name: letter(source.judge or name, sheet.name) for name in own}
    return Judged(source.routine or next(iter(sheet.places)), sheet, letters)


def _twice(judged: Sequence[Judged]) -> Iterator[Problem]:
    seen: set[tuple[str, str]] = set()
    for one in judged:
        for judge in one.letters.values():
            if (one.routine, judge) in seen:
                said = message("Another sheet of this routine is by judge {judge}, too.", judge=judge)
                remedy = message("Give each judge a letter of their own, such as 12/B=FILE.")
                yield Problem("judge-twice", one.sheet.name, said, remedy)
            seen.add((one.routine, judge))


def _given(one: Judged) -> Iterator[tuple[str, str, Points]]:
    sheet = one.sheet.sheet
    for own in sheet.judges:
        yield "score", one.letters[own.judge], own.score
    if len(sheet.judges) == 1:
        judge = one.letters[sheet.judges[0].judge]
        yield "start_value", judge, sheet.start_value
        yield "final_score", judge, sheet.final_score


def _editions(own: Sequence[Judged]) -> Iterator[Problem]:
    named = sorted({one.sheet.book.id for one in own})
    if len(named) > 1:
        said = message(
            "The sheets of this routine are by different editions: {named}.", named=", ".join(named)
        )
        yield Problem("other-rule-book", own[0].sheet.name, said, message("See that this is meant."))


def _laid(own: Sequence[Judged]) -> Routine:
    sheets = [one.sheet for one in own]
    return lay_together([(one.sheet.side(*sheets), one.letters) for one in own])
