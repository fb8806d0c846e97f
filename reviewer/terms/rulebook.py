"""A rule book as checked data: what one edition says, clause by clause. Codes live in data only."""

from dataclasses import dataclass
from typing import Self, TypeVar

from reviewer.terms.exact import Degrees, Points

_Thing = TypeVar("_Thing")

STATUSES = ("listed", "lower division", "restricted", "unlisted")
"""What a division may say of an element."""
SCOPES = ("each", "element", "exercise")
"""How often a fault is taken: each time, once an element, once an exercise."""
REASONS = (
    "spotted",
    "repeated",
    "restricted",
    "unlisted",
    "lower-division",
    "below-tolerance",
    "fell-before-completion",
    "not-feet-first",
    "third-mount-part",
    "one-foot-at-a-time",
    "not-seen",
)
"""Every reason for which credit may be withheld."""
TESTS = ("condition", "status", "cast", "parts", "times")
"""What may withhold credit: a condition said of the element, its status, its cast, its place among the
parts of one role, or how often it has earned."""
CAST_FAULTS = ("short", "not seen")
"""What a cast may lack: the tolerance's lower edge, or anybody who saw it."""
ROUNDINGS = ("truncate", "half up")
"""How an average that does not come out is brought to thousandths."""
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


@dataclass(frozen=True, slots=True)
class Element:
    """An element: its status in this division, the roles it may have, the requirements it may fulfil.

    ``angle`` is ``decides`` where the cast's angle decides its credit, ``noted`` where an angle may be given
    without deciding anything, and ``none`` where an angle has no sense.
    """

    code: str
    name: str
    status: str
    may_be: tuple[str, ...]
    fulfils: tuple[str, ...]
    angle: str
    clause: str


@dataclass(frozen=True, slots=True)
class Fault:
    """An execution fault: permitted amounts, rising; one amount when ``flat``; ``scope`` of `SCOPES`."""

    code: str
    name: str
    amounts: tuple[Points, ...]
    flat: bool
    scope: str
    clause: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact about the exercise and what it costs from the average, often nothing."""

    code: str
    name: str
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Amount:
    """Points and the clause that says so."""

    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Count:
    """A number of something, what each one missing costs, and the clause that says so."""

    number: int
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Required:
    """A special requirement: met by an element in ``role`` or, without a role, by one that fulfils ``code``.

    Elements in one of ``not_in`` roles do not count.
    """

    code: str
    name: str
    role: str | None
    not_in: tuple[str, ...]
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Withheld:
    """When credit is withheld: ``test`` is one of `TESTS`, ``value`` what to find, ``number`` its limit."""

    test: str
    value: str
    number: int
    reason: str
    value_part: bool
    requirement: bool
    clause: str


@dataclass(frozen=True, slots=True)
class OneElement:
    """Neighbours of these codes, up to ``number`` in a row, are one element unless ``parted_by`` is said."""

    elements: tuple[str, ...]
    number: int
    parted_by: str
    clause: str


@dataclass(frozen=True, slots=True)
class PartOf:
    """A short cast of these codes directly before one of ``into`` is part of it, not an element between."""

    elements: tuple[str, ...]
    into: tuple[str, ...]
    clause: str


@dataclass(frozen=True, slots=True)
class NoRole:
    """What it costs when nobody takes ``role``, or only an element of one of these statuses."""

    role: str
    statuses: tuple[str, ...]
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Swallow:
    """The fault ``by`` on an element in ``role`` leaves nothing of these faults there, unless a condition."""

    by: str
    faults: tuple[str, ...]
    role: str
    unless: tuple[str, ...]
    clause: str


@dataclass(frozen=True, slots=True)
class Cap:
    """These faults together cost at most so much."""

    faults: tuple[str, ...]
    at_most: Points
    clause: str


@dataclass(frozen=True, slots=True)
class CastRule:
    """How a cast is measured and decided.

    Attributes:
        line: body line, one of `reviewer.terms.readings.LINES`.
        at_least: elevation that meets the requirement; the limit itself meets it.
        tolerance: how far below it credit is still given, its edge included.
        guard_per_mille: how many thousandths of the standard uncertainty a value must be clear of a limit
            to be decided (1645 = 1.645 u).
        points: what a best cast within the tolerance costs, once an exercise, in each judge's score.
        spared: faults not taken from such a cast on top of that.
        limit_clause, clause, spared_clause: the clauses of the limit, the tolerance and the sparing.
    """

    line: str
    at_least: Degrees
    tolerance: Degrees
    guard_per_mille: int
    points: Points
    spared: tuple[str, ...]
    limit_clause: str
    clause: str


@dataclass(frozen=True, slots=True)
class Panel:
    """Average of all judges, or from ``drop_from`` judges on without the highest and the lowest."""

    drop_from: int
    rounding: str
    clause: str


@dataclass(frozen=True, slots=True)
class Spread:
    """From this average upwards the counting judges' scores may lie so far apart."""

    average: Points
    allowed: Points
    clause: str


@dataclass(frozen=True, slots=True)
class RuleBook:
    """One edition, checked: no reference in it leads nowhere.

    Attributes:
        id: name of the edition.
        sha256: fingerprint of the file's bytes.
        text: the file.
        title, division, season: for people.
        cautions: what a reader must know, such as that this is no official rule book.
        roles, conditions: what may be said of an element.
        clauses: in the order of the file.
        withheld: in the order of the file; the first that fits gives the reason.
    """

    id: str
    sha256: str
    text: str
    title: str
    division: str
    season: str
    cautions: tuple[str, ...]
    roles: tuple[Named, ...]
    conditions: tuple[Named, ...]
    elements: tuple[Element, ...]
    faults: tuple[Fault, ...]
    facts: tuple[Fact, ...]
    clauses: tuple[Clause, ...]
    start: Amount
    value_parts: Count
    few_parts: Count | None
    requirements: tuple[Required, ...]
    restricted: Amount | None
    withheld: tuple[Withheld, ...]
    one_element: tuple[OneElement, ...]
    part_of: tuple[PartOf, ...]
    no_role: tuple[NoRole, ...]
    swallows: tuple[Swallow, ...]
    caps: tuple[Cap, ...]
    cast: CastRule
    panel: Panel
    spreads: tuple[Spread, ...]
    courtesy: Amount | None

    def clause(self, id: str) -> Clause:
        """The clause of this id; KeyError when the book has none."""
        return _first(self.clauses, "id", id)

    def element(self, code: str) -> Element:
        """The element of this code; KeyError when the book has none."""
        return _first(self.elements, "code", code)

    def fault(self, code: str) -> Fault:
        """The fault of this code; KeyError when the book has none."""
        return _first(self.faults, "code", code)

    def fact(self, code: str) -> Fact:
        """The fact of this code; KeyError when the book has none."""
        return _first(self.facts, "code", code)


def clause_data(book: RuleBook) -> dict[str, str]:
    """Clause id to the canonical text of everything that clause says."""
    return {clause.id: clause.data for clause in book.clauses}


def _first(things: tuple[_Thing, ...], attribute: str, wanted: str) -> _Thing:
    for thing in things:
        if getattr(thing, attribute) == wanted:
            return thing
    raise KeyError(wanted)
