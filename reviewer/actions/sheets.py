"""A sheet as it is held against others: a case or a marks document, by its own edition or by another."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from reviewer import auditing, rules, scoring
from reviewer.actions.audit import others_in
from reviewer.actions.documents import read_marks
from reviewer.actions.opening import open_case
from reviewer.actions.scores import book_for, unheard
from reviewer.casefile import Place, common_base, is_case
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet

MOST_MARKS = 1000
"""Of the largest sheet that is compared; a routine has some fifteen elements, a judge some thirty faults."""


@dataclass(frozen=True, slots=True)
class Sheet:
    """Marks of one routine, and what they score.

    Attributes:
        name: of the file.
        marks: of the attempt that counts, on one line of time.
        places: where the times of each recording belong, by its SHA-256; empty where none is named.
        book: the edition, read as chosen.
        chosen: clause id to the reading chosen.
        judges: letters of judges who score also where they deduct nothing.
        sheet: the score.
        posted: the score the panel posted, or None.
        panel: each judge's posted score as text, by when it was given.
        origin: hash of its case's first event, None for a document.
        path: as it was named.
        second_of: the same of the case that it judges again, blind.
        sealed: whether its marks can change no more.
    """

    name: str
    marks: tuple[Mark, ...]
    places: Mapping[str, Place]
    book: RuleBook
    chosen: Mapping[str, str]
    judges: tuple[str, ...]
    sheet: ScoreSheet
    posted: Points | None
    panel: Mapping[str, Mapping[str, str]]
    origin: str | None = None
    second_of: str | None = None
    sealed: bool = False
    path: str = ""

    def doubts(self) -> Iterator[Problem]:
        """What of it cannot be scored, and every reading chosen that changes nothing in this edition."""
        for one in (*self.sheet.problems, *unheard(self.chosen, self.book)):
            yield replace(one, where=f"{self.name}: {one.where}")

    def trial(self) -> auditing.Trial:
        """Its marks, to be tried with some of them otherwise."""
        return scoring.Trial(self.marks, self.book, [one.judge for one in self.sheet.judges])

    def side(self, *others: "Sheet") -> auditing.Side:
        """Made ready to be compared with others; its times count where all are on the same recordings."""
        shared = bool(self.places) and all(_whereabouts(one) == _whereabouts(self) for one in others)
        return auditing.side(self.marks, self.sheet, common_base(self.places) if shared else None)


def read_sheet(path: Path, rule_book: str | None = None) -> Sheet:
    """The sheet of a case or a marks document, by another edition if one is named.

    A DocumentError refuses more than `MOST_MARKS`: sheets are paired mark by mark.
    """
    if is_case(path):
        return _of_case(path, rule_book)
    read = read_marks(path)
    _refuse_many(path, read.marks)
    book = book_for(read, rule_book)
    sheet = scoring.score(read.marks, book, read.judges)
    return Sheet(
        path.name, read.marks, read.places, book, read.interpretations, read.judges, sheet, read.posted, {}
    )


def _of_case(path: Path, rule_book: str | None) -> Sheet:
    with open_case(path, author=None) as audit:
        state, book = audit.state, audit.book
        if rule_book is not None:
            book = rules.load(rules.find(rule_book))
            book = book.read_as(others_in(book, state.interpretations))
        marks = audit.counting_marks
        _refuse_many(path, marks)
        sheet = audit.scored_by(book)
        return Sheet(
            path.name,
            marks,
            state.places,
            book,
            state.interpretations,
            audit.judges_of(marks),
            sheet,
            audit.posted,
            state.panel,
            audit.case.events[0].hash,
            state.second_of,
            state.sealed is not None,
            str(path),
        )


def _refuse_many(path: Path, marks: Sequence[Mark]) -> None:
    if len(marks) > MOST_MARKS:
        said = message(
            "This sheet has {count} marks; more than {most} are not compared.",
            count=len(marks),
            most=MOST_MARKS,
        )
        remedy = message("See that it is of one routine, or hand in one judge's marks.")
        raise DocumentError(Problem("too-many-marks", path.name, said, remedy))


def _whereabouts(sheet: Sheet) -> Mapping[str, tuple[int, object]]:
    """Where the times of each recording belong, whatever their ticks."""
    if len(sheet.places) == 1:
        return dict.fromkeys(sheet.places, (1, 0))
    return {name: (place.line, place.shift) for name, place in sheet.places.items()}
