"""What the clauses of a rule book provide, one frozen kind each. Codes are data; none has a meaning here."""

from dataclasses import dataclass
from typing import ClassVar

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.measures import Measure


@dataclass(frozen=True, slots=True)
class Element:
    """An element: its status in this division, the roles it may have, the requirements it may fulfil.

    ``angle`` is ``decides`` where the cast's angle decides its credit, ``noted`` where an angle may be given
    without deciding anything, and ``none`` where an angle has no sense. ``value`` is its letter in a book
    with element values; ``earns`` how often it may earn, where the book says so of this element.
    """

    code: str
    name: str
    status: str
    may_be: tuple[str, ...]
    fulfils: tuple[str, ...]
    angle: str
    value: str | None
    earns: int | None
    clause: str

    @property
    def decides(self) -> bool:
        """Whether the cast's angle decides this element's credit."""
        return self.angle == "decides"


@dataclass(frozen=True, slots=True)
class Fault:
    """An execution fault: permitted amounts, rising; ``flat`` where there is one; ``scope`` of `SCOPES`.

    From ``full_from`` degrees of bend on it costs its most.
    """

    code: str
    name: str
    amounts: tuple[Points, ...]
    flat: bool
    scope: str
    full_from: Degrees | None
    clause: str


@dataclass(frozen=True, slots=True)
class Fact:
    """A fact about the exercise and what it costs from the average, often nothing.

    With ``more_than``, a measured length at or below it is no fault.
    """

    code: str
    name: str
    points: Points
    more_than: Measure | None
    clause: str


@dataclass(frozen=True, slots=True)
class Start:
    """The start value before anything is taken or gained."""

    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class ExecutionFrom:
    """What judges' scores begin from where the start value is added after the average."""

    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class ValueParts:
    """How many value parts a routine needs, and what each one missing takes from the start value."""

    number: int
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Few:
    """What a routine of fewer elements costs from the average; ``counting`` is one of `COUNTINGS`."""

    number: int
    counting: str
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class RestrictedCost:
    """What a restricted element costs; ``repeated`` is one of `REPEATS`."""

    points: Points
    repeated: str
    clause: str


@dataclass(frozen=True, slots=True)
class Required:
    """A special requirement, met by an element in ``role``, or with ``condition``, or that fulfils ``code``.

    Elements in one of ``not_in`` roles, and those of ``not_elements``, do not count. Where it ``gives``, its
    points are gained when met; otherwise they are lost when not.
    """

    code: str
    name: str
    role: str | None
    condition: str | None
    not_in: tuple[str, ...]
    not_elements: tuple[str, ...]
    points: Points
    gives: bool
    clause: str


@dataclass(frozen=True, slots=True)
class Withheld:
    """When credit is withheld: ``test`` is one of `TESTS`, ``value`` what to find, ``number`` its limit.

    Of a repetition, ``neighbour`` says whether a later time counts only with a different element before or
    after it, and ``same_by`` (one of `SAME_BY`) what makes two elements the same.
    """

    test: str
    value: str
    number: int
    neighbour: bool
    same_by: str
    reason: str
    value_part: bool
    requirement: bool
    clause: str


@dataclass(frozen=True, slots=True)
class JudgeDecides:
    """A judge may give an element's credit, or withhold all of it for this reason."""

    reason: str
    clause: str

    value_part: ClassVar[bool] = True
    requirement: ClassVar[bool] = True


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
    """What it costs when nobody takes ``role`` (``when_none``), or only elements that are void.

    Void is an element of one of ``statuses`` that has none of the conditions ``not_when``.
    """

    role: str
    statuses: tuple[str, ...]
    not_when: tuple[str, ...]
    when_none: bool
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
class OneError:
    """These faults on one element are one error under several names."""

    faults: tuple[str, ...]
    clause: str


@dataclass(frozen=True, slots=True)
class TimeLimit:
    """The time to go on after one of these faults; ``edge_included`` where the limit itself is in time."""

    after: tuple[str, ...]
    within: Measure
    edge_included: bool
    clause: str


@dataclass(frozen=True, slots=True)
class CastLine:
    """The body line whose angle is taken, of `reviewer.terms.bodylines`; shoulders open up to an angle."""

    line: str
    shoulders_open: Degrees
    clause: str


@dataclass(frozen=True, slots=True)
class CastLimit:
    """The elevation that meets the requirement; ``edge_included`` where the limit itself does."""

    at_least: Degrees
    edge_included: bool
    clause: str


@dataclass(frozen=True, slots=True)
class CastTolerance:
    """How far below the limit credit is still given, and what a cast so low costs in each judge's score.

    Attributes:
        below: degrees below the limit.
        edge_included: whether the lower edge itself is still within.
        points: what it costs.
        scope: one of `CAST_SCOPES`.
        spared: faults not taken on top of that.
        spared_on_any: whether they are spared on any cast, or on the charged one alone.
    """

    below: Degrees
    edge_included: bool
    points: Points
    scope: str
    spared: tuple[str, ...]
    spared_on_any: bool
    clause: str


@dataclass(frozen=True, slots=True)
class GuardBand:
    """How many thousandths of its standard uncertainty a value must be clear of a limit to be decided."""

    per_mille: int
    clause: str


@dataclass(frozen=True, slots=True)
class PanelRule:
    """How an average is brought to thousandths; from ``drop_from`` judges on the extremes are left out."""

    rounding: str
    drop_from: int | None
    clause: str


@dataclass(frozen=True, slots=True)
class PanelSize:
    """Of so many judges, how many middle scores are averaged; None for all."""

    judges: int
    middle: int | None
    clause: str


@dataclass(frozen=True, slots=True)
class Spread:
    """From this average upwards the counting judges' scores may lie so far apart."""

    average: Points
    allowed: Points
    clause: str


@dataclass(frozen=True, slots=True)
class ReferenceBand:
    """From this reference score upwards, how far the panel may lie from it before the mean of both counts."""

    reference: Points
    allowed: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Courtesy:
    """The least score there is; ``held_against`` is one of `HELD_AGAINST`."""

    points: Points
    held_against: str
    clause: str


@dataclass(frozen=True, slots=True)
class ElementValues:
    """What each letter is worth, rising."""

    values: tuple[tuple[str, Points], ...]
    clause: str

    def of(self, letter: str) -> Points:
        """Points of a letter; KeyError for one the book does not have."""
        return dict(self.values)[letter]

    def rank(self, letter: str) -> int:
        """Place of a letter among all, from 0."""
        return [known for known, _ in self.values].index(letter)


@dataclass(frozen=True, slots=True)
class CountingElements:
    """How many elements count, the highest first; whether the one in ``role`` counts whatever its value."""

    number: int
    role: str
    always: bool
    clause: str


@dataclass(frozen=True, slots=True)
class Side:
    """One side of a connection: its least value, and conditions of which it has one (none: any element)."""

    at_least: str
    conditions: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Connection:
    """Two credited elements joined by a condition of the earlier one, and what they gain."""

    first: Side
    second: Side
    any_order: bool
    joined_by: str
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class Ties:
    """What decides between equal totals, first to last, of `TIE_STEPS`; equal in all is a shared rank."""

    higher: tuple[str, ...]
    clause: str


@dataclass(frozen=True, slots=True)
class RoleBonus:
    """What a credited element in ``role`` of at least this value gives, unless one of these is said of it."""

    role: str
    at_least: str
    not_when: tuple[str, ...]
    points: Points
    clause: str


@dataclass(frozen=True, slots=True)
class InquiryRule:
    """One thing a clause settles about inquiries: ``settles`` is one of `QUESTIONS`.

    ``allowed`` are the words it allows (who asks, about what, results, whether a recording may be used, the
    fee); ``within`` and ``edge_included`` the time limit.
    """

    settles: str
    allowed: tuple[str, ...]
    within: Measure | None
    edge_included: bool
    clause: str
