"""A rule book arranged as a judge reads it: chapters in the order of judging, each clause in sentences."""

import json
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from typing import Any

from reviewer.rules.credit_words import ELEMENT_CELLS
from reviewer.rules.pages import Chapter, OpenReading, Page, Part, Row, Said, Table, open_words
from reviewer.rules.wording import WORDING
from reviewer.rules.words import OFTEN, STATUS, Data, Names, amount, number
from reviewer.terms.messages import Message, Translate, as_written, message, noted
from reviewer.terms.rulebook import SOURCE_KINDS, Clause, Interpretation, RuleBook

CHAPTERS = {
    noted("Start value"): (
        "start",
        "execution from",
        "value parts",
        "element values",
        "counting elements",
        "restricted element",
    ),
    noted("Requirements"): ("requirement",),
    noted("Connections"): ("connection", "role bonus"),
    noted("Elements"): ("elements", "one element", "part of"),
    noted("Mount and dismount"): ("no role",),
    noted("Credit withheld"): ("withheld", "judge decides"),
    noted("Cast angle"): ("cast line", "cast limit", "cast tolerance", "guard band"),
    noted("Execution"): ("fault",),
    noted("Landings, caps and what a fall swallows"): ("cap", "swallow", "one error", "time limit"),
    noted("Panel"): ("panel", "panel size", "spread", "reference"),
    noted("Neutral deductions"): ("few value parts", "fact"),
    noted("Courtesy"): ("courtesy",),
    noted("Equal totals"): ("ties",),
    noted("Inquiry"): ("inquiry",),
    noted("Notes"): ("note",),
}
"""Chapters in the order of judging, and the kinds of clause in each."""
_FIRST_FITS = "The first clause here that fits an element gives the reason; all that fit apply."


def page(book: RuleBook) -> Page:
    """The book as a judge would read it."""
    said = _Saying(book)
    chapters = (said.chapter(title, kinds) for title, kinds in CHAPTERS.items())
    return Page(
        book=book,
        rests_on=_rests_on(book),
        chapters=tuple(chapter for chapter in chapters if chapter.clauses),
        clauses=tuple(map(said.clause, book.clauses)),
        sources={sign: source for source, sign in said.signs.items()},
    )


def sentences(book: RuleBook, translate: Translate = as_written) -> dict[str, tuple[str, ...]]:
    """What each clause says, by its id, in English or a language; names are as the book has them."""
    said = _Saying(book)
    return {
        one.id: tuple(each.words(translate) for each in said.words(one, said.data[one.id]))
        for one in book.clauses
    }


def open_readings(book: RuleBook) -> tuple[Interpretation, ...]:
    """The clauses that leave a reading open, each reading in sentences."""
    said = _Saying(book)
    clauses = {one.id: one for one in book.clauses}
    return tuple(
        replace(one, stated=stated, other=other)
        for one in book.interpretations
        for stated, other in [said.readings(clauses[one.clause])]
    )


def _rests_on(book: RuleBook) -> dict[str, int]:
    kinds = [clause.source.kind for clause in book.clauses]
    return {kind: kinds.count(kind) for kind in SOURCE_KINDS}


class _Saying:
    """One book being put into sentences."""

    def __init__(self, book: RuleBook) -> None:
        self.book = book
        self.data: dict[str, dict[str, Any]] = {one.id: json.loads(one.data) for one in book.clauses}
        self.names = Names(book, self.data.values())
        self.signs = _signs(book)

    def chapter(self, title: str, kinds: tuple[str, ...]) -> Chapter:
        clauses = [clause for clause in self.book.clauses if clause.rule in kinds]
        parts = [*_INTRODUCED.get(title, _Saying.nothing)(self)]
        for kind in kinds:
            alike = [clause for clause in clauses if clause.rule == kind]
            parts += _ARRANGED.get(kind, _Saying.each)(self, alike) if alike else []
        return Chapter(title, tuple(clause.id for clause in clauses), tuple(parts))

    def each(self, clauses: list[Clause]) -> list[Part]:
        return [self.clause(clause) for clause in clauses]

    def nothing(self) -> list[Part]:
        return []

    def clause(self, clause: Clause) -> Said:
        data = self.data[clause.id]
        examples = (str(one.get("name", "")) for one in data.get("examples", ()))
        words = tuple(map(str, self.words(clause, data)))
        return Said(clause, words, self.reading(clause), tuple(examples))

    def words(self, clause: Clause, data: Data) -> tuple[Message, ...]:
        return tuple(WORDING[clause.rule](data, self.names))

    def reading(self, clause: Clause) -> OpenReading | None:
        data = self.data[clause.id]
        if "left-open" not in data:
            return None
        return OpenReading(data["left-open"].get("question", ""), *map(str, self.readings(clause)))

    def readings(self, clause: Clause) -> tuple[Message, Message]:
        """What a clause says as it is stated, and in its other reading: the sentences that differ."""
        data = self.data[clause.id]
        fields = {key: value for key, value in data["left-open"].items() if key != "question"}
        stated, other = self.words(clause, data), self.words(clause, {**data, **fields})
        differ = [
            [one for one in words if one not in beside]
            for words, beside in ((stated, other), (other, stated))
        ]
        if not all(differ):
            return _on_end(stated), _on_end(other)
        return _on_end(differ[0]), _on_end(differ[1])

    def faults(self, clauses: list[Clause]) -> list[Part]:
        columns = ("Fault", "Points", "How often", "Clause", "Since", "Source")
        return [_table(columns, map(self.fault, clauses))]

    def fault(self, clause: Clause) -> Row:
        data = self.data[clause.id]
        often = OFTEN.get(data["scope"], data["scope"])
        return self.row(clause, data["name"], str(amount(data)), often)

    def facts(self, clauses: list[Clause]) -> list[Part]:
        columns = ("Fact", "Points", "Only when", "Clause", "Since", "Source")
        return [_table(columns, map(self.fact, clauses))]

    def fact(self, clause: Clause) -> Row:
        data = self.data[clause.id]
        only = f"more than {data['more-than']}" if "more-than" in data else ""
        return self.row(clause, data["name"], number(data["takes"]), only)

    def row(self, clause: Clause, name: str, *cells: str) -> Row:
        said = self.clause(clause)
        beneath = [] if clause.title == name else [clause.title]
        if said.reading:
            beneath += open_words(said.reading)
        beneath += [f"Example: {one}" for one in said.examples]
        ends = (clause.id, clause.since, self.signs[str(clause.source)])
        return Row((name, *cells, *ends), tuple(beneath))

    def element_lists(self, clauses: list[Clause]) -> list[Part]:
        parts: list[Part] = []
        statuses = [*STATUS, *dict.fromkeys(self.data[clause.id]["status"] for clause in clauses)]
        for status in dict.fromkeys(statuses):
            alike = [clause for clause in clauses if self.data[clause.id]["status"] == status]
            parts += [STATUS.get(status, status)] if alike else []
            for clause in alike:
                said = replace(self.clause(clause), words=())
                parts += [said, self.element_table(self.data[clause.id]["elements"])]
        return parts

    def element_table(self, elements: list[Data]) -> Table:
        rows = (Row(tuple(str(cell(one, self.names)) for cell in ELEMENT_CELLS.values())) for one in elements)
        return _table(tuple(ELEMENT_CELLS), rows)

    def withheld(self, clauses: list[Clause]) -> list[Part]:
        return [_FIRST_FITS, *self.each(clauses)]

    def roles(self) -> list[Part]:
        """Which elements may take each role, by their status."""
        return [sentence for role in self.book.roles for sentence in self.role(role.code)]

    def role(self, role: str) -> list[str]:
        found: dict[str, list[str]] = {}
        for one in self.book.elements:
            if role in one.may_be:
                found.setdefault(one.status, []).append(one.name)
        name = str(self.names.of("roles", role)).capitalize()
        return [f"{name}, {status}: {'; '.join(names)}." for status, names in found.items()]


def _table(columns: tuple[str, ...], rows: Iterable[Row]) -> Table:
    """A table without the columns that hold nothing."""
    every = tuple(rows)
    filled = [place for place in range(len(columns)) if any(row.cells[place] for row in every)]
    kept = (Row(tuple(row.cells[place] for place in filled), row.beneath) for row in every)
    return Table(tuple(columns[place] for place in filled), tuple(kept))


def _signs(book: RuleBook) -> dict[str, str]:
    """Source to its sign in tables: C, M, and P1, P2 for documents in the order they are first named."""
    signs = {"common practice, no source": "C", "from memory": "M"}
    documents = dict.fromkeys(str(clause.source) for clause in book.clauses if clause.source.published)
    signs |= {source: f"P{place}" for place, source in enumerate(documents, start=1)}
    used = {str(clause.source) for clause in book.clauses}
    return {source: sign for source, sign in signs.items() if source in used}


def _on_end(said: Sequence[Message]) -> Message:
    """Sentences, one after the other."""
    found = said[0] if said else Message("")
    for one in said[1:]:
        found = message("{these} {that}", these=found, that=one)
    return found


_ARRANGED: dict[str, Callable[[_Saying, list[Clause]], Iterable[Part]]] = {
    "elements": _Saying.element_lists,
    "fault": _Saying.faults,
    "fact": _Saying.facts,
    "withheld": _Saying.withheld,
}
_INTRODUCED: dict[str, Callable[[_Saying], list[Part]]] = {"Mount and dismount": _Saying.roles}
