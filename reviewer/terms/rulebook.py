"""A rule book as checked data: what one edition says, clause by clause. Codes live in data only."""

from collections.abc import Iterable
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Any, Protocol, Self, TypeVar

from reviewer.terms import provisions as said
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import Message
from reviewer.terms.readings import Requirement

SOURCE_KINDS = ("published", "common practice, no source", "from memory")
"""What a rule value may rest on."""


@dataclass(frozen=True, slots=True)
class Source:
    """What a clause rests on: its kind (one of `SOURCE_KINDS`) and, when published, document and place."""

    kind: str
    text: str = ""

    def __str__(self) -> str:
        return f"{self.kind}: {self.text}" if self.text else self.kind

    @property
    def published(self) -> bool:
        """Whether the value was read in a published document."""
        return self.kind == "published"

    @classmethod
    def parse(cls, text: str) -> Self:
        """Read ``published: place``, ``common practice, no source`` or ``from memory``; else ValueError."""
        kind, _, place = (part.strip() for part in text.partition(":"))
        if kind not in SOURCE_KINDS or (kind == "published") != bool(place):
            raise ValueError(f"{text!r} is no source")
        return cls(kind, place)


@dataclass(frozen=True, slots=True)
class Clause:
    """One clause of the edition.

    Attributes:
        id: unique in the book.
        title: what it says, one sentence.
        rule: its kind, such as ``fault`` or ``requirement``.
        value: its values with their units, as text for people.
        since: date from which it holds, ``YYYY-MM-DD``.
        source: what it rests on.
        line: line of the file it begins on, from 1.
        data: canonical text of everything it says.
    """

    id: str
    title: str
    rule: str
    value: str
    since: str
    source: Source
    line: int
    data: str


@dataclass(frozen=True, slots=True)
class Named:
    """A code and what people call it."""

    code: str
    name: str


class Provision(Protocol):
    """What a clause provides: one of the kinds of `reviewer.terms.provisions`."""

    @property
    def clause(self) -> str:
        """Id of the clause that says it."""
        ...


_Kind = TypeVar("_Kind", bound=Provision)

STATED, OTHER = "stated", "other"
"""The two readings of a clause that the rule leaves open."""


@dataclass(frozen=True, slots=True)
class Interpretation:
    """A clause whose rule leaves a reading open: the one the edition states, and the other.

    Attributes:
        clause: the clause's id.
        question: what is left open.
        stated, other: what each reading says, in sentences.
        provides: what the clause provides in the other reading.
    """

    clause: str
    question: str
    stated: Message
    other: Message
    provides: tuple[Provision, ...]


@dataclass(frozen=True, slots=True)
class CastRule:
    """How a cast is measured and decided, from the clauses that say so."""

    measured: said.CastLine
    limit: said.CastLimit
    tolerance: said.CastTolerance
    guard: said.GuardBand

    @property
    def line(self) -> str:
        """The body line."""
        return self.measured.line

    @property
    def requirement(self) -> Requirement:
        """What a reading is held against."""
        below = self.tolerance.below
        return Requirement(self.at_least, below, self.limit.edge_included, self.tolerance.edge_included)

    @property
    def shoulders_open(self) -> Degrees:
        """The shoulder angle up to which shoulders count as open."""
        return self.measured.shoulders_open

    @property
    def at_least(self) -> Degrees:
        """The elevation that meets the requirement."""
        return self.limit.at_least

    @property
    def guard_per_mille(self) -> int:
        """Thousandths of the standard uncertainty that a value must be clear of a limit."""
        return self.guard.per_mille


@dataclass(frozen=True, eq=False)
class RuleBook:
    """One edition, checked: no reference in it leads nowhere. Two books are the same where they are one.

    Attributes:
        id: name of the edition.
        sha256: fingerprint of the file's bytes.
        text: the file.
        title, division, apparatus, season: for people.
        effective: first and last day it holds, ``YYYY-MM-DD``; the last may be None.
        cautions: what a reader must know, such as that this is no official rule book.
        roles, conditions: what may be said of an element.
        clauses: in the order of the file.
        as_stated: what the clauses provide as the edition states them, in the order of the file.
        interpretations: the clauses that leave a reading open, in the order of the file.
        chosen: ids of the clauses taken in their other reading.
    """

    id: str
    sha256: str
    text: str
    title: str
    division: str
    apparatus: str
    season: str
    effective: tuple[str, str | None]
    cautions: tuple[str, ...]
    roles: tuple[Named, ...]
    conditions: tuple[Named, ...]
    clauses: tuple[Clause, ...]
    as_stated: tuple[Provision, ...]
    interpretations: tuple[Interpretation, ...] = ()
    chosen: frozenset[str] = frozenset()

    def all(self, kind: type[_Kind]) -> tuple[_Kind, ...]:
        """Every provision of a kind, in the order of the file."""
        found = self._kinds.get(kind)
        if found is None:
            found = self._kinds[kind] = tuple(one for one in self.provides if isinstance(one, kind))
        return found

    def one(self, kind: type[_Kind]) -> _Kind | None:
        """The provision of a kind that a book has at most once."""
        return next(iter(self.all(kind)), None)

    def read_as(self, others: Iterable[str]) -> "RuleBook":
        """The book with these clauses taken in their other reading and all else as stated.

        KeyError for a clause that leaves nothing open.
        """
        wanted = frozenset(others)
        if wanted == self.chosen:
            return self
        if wanted not in self._readings:
            for clause in wanted:
                self.interpretation(clause)
            self._readings[wanted] = replace(self, chosen=wanted)
        return self._readings[wanted]

    def interpretation(self, clause: str) -> Interpretation:
        """What a clause leaves open; KeyError when it leaves nothing open."""
        return self._open[clause]

    def clause(self, id: str) -> Clause:
        """The clause of this id; KeyError when the book has none."""
        return self._clauses[id]

    def element(self, code: str) -> said.Element:
        """The element of this code; KeyError when the book has none."""
        return self.element_of[code]

    def fault(self, code: str) -> said.Fault:
        """The fault of this code; KeyError when the book has none."""
        return self.fault_of[code]

    def fact(self, code: str) -> said.Fact:
        """The fact of this code; KeyError when the book has none."""
        return self.fact_of[code]

    def named(self, kind: str, code: str) -> said.Element | said.Fault | said.Fact | None:
        """What stands under the code of a mark (``element fault fact``); None where the book has none."""
        if kind == "element":
            return self.element_of.get(code)
        return self.fault_of.get(code) if kind == "fault" else self.fact_of.get(code)

    def source(self, clause: str) -> str:
        """What a clause rests on, as text."""
        return self._sources[clause]

    @cached_property
    def provides(self) -> tuple[Provision, ...]:
        """What the clauses provide, each in the reading chosen for it."""
        others = {clause: self.interpretation(clause).provides for clause in self.chosen}
        found: list[Provision] = []
        for one in self.as_stated:
            found.extend(others.pop(one.clause, ()) if one.clause in self.chosen else (one,))
        return tuple(found)

    @cached_property
    def elements(self) -> tuple[said.Element, ...]:
        """The element list."""
        return self.all(said.Element)

    @cached_property
    def faults(self) -> tuple[said.Fault, ...]:
        """The execution faults."""
        return self.all(said.Fault)

    @cached_property
    def facts(self) -> tuple[said.Fact, ...]:
        """The facts about an exercise."""
        return self.all(said.Fact)

    @cached_property
    def element_of(self) -> dict[str, said.Element]:
        """Elements by code."""
        return {one.code: one for one in self.elements}

    @cached_property
    def fault_of(self) -> dict[str, said.Fault]:
        """Faults by code."""
        return {one.code: one for one in self.faults}

    @cached_property
    def fact_of(self) -> dict[str, said.Fact]:
        """Facts by code."""
        return {one.code: one for one in self.facts}

    @cached_property
    def start(self) -> said.Start:
        """The start value."""
        return _needed(self.one(said.Start))

    @cached_property
    def execution_from(self) -> said.ExecutionFrom | None:
        """What judges' scores begin from, where that is not the start value."""
        return self.one(said.ExecutionFrom)

    @cached_property
    def panel(self) -> said.PanelRule:
        """How the judges' scores become one."""
        return _needed(self.one(said.PanelRule))

    @cached_property
    def panel_sizes(self) -> dict[int, said.PanelSize]:
        """What the book says of panels of so many judges."""
        return {one.judges: one for one in self.all(said.PanelSize)}

    @cached_property
    def courtesy(self) -> said.Courtesy | None:
        """The least score there is."""
        return self.one(said.Courtesy)

    @cached_property
    def ties(self) -> tuple[str, ...]:
        """What decides between equal totals, first to last."""
        found = self.one(said.Ties)
        return found.higher if found else ()

    @cached_property
    def cast(self) -> CastRule:
        """How a cast is measured and decided."""
        return CastRule(
            _needed(self.one(said.CastLine)),
            _needed(self.one(said.CastLimit)),
            _needed(self.one(said.CastTolerance)),
            _needed(self.one(said.GuardBand)),
        )

    @cached_property
    def _clauses(self) -> dict[str, Clause]:
        return {one.id: one for one in self.clauses}

    @cached_property
    def _sources(self) -> dict[str, str]:
        return {one.id: str(one.source) for one in self.clauses}

    @cached_property
    def _open(self) -> dict[str, Interpretation]:
        return {one.clause: one for one in self.interpretations}

    @cached_property
    def _kinds(self) -> dict[type[Any], tuple[Any, ...]]:
        return {}

    @cached_property
    def _readings(self) -> "dict[frozenset[str], RuleBook]":
        return {}


def clause_data(book: RuleBook) -> dict[str, str]:
    """Clause id to the canonical text of everything that clause says."""
    return {clause.id: clause.data for clause in book.clauses}


def _needed(found: _Kind | None) -> _Kind:
    """What every checked book has; KeyError for a book that was never checked."""
    if found is None:
        raise KeyError("this book lacks what every rule book says")
    return found
