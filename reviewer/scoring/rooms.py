"""The reachable scores taken apart: by what can be asked, by judgement, by the readings left open."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from math import prod

from reviewer.scoring.engine import sorted_sound
from reviewer.scoring.outcomes import MOST_COMBINATIONS, Outcomes, bounds, outcomes
from reviewer.scoring.reaching import favoured, span
from reviewer.scoring.sorting import Sorted, open_casts
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.provisions import (
    CastTolerance,
    Element,
    InquiryRule,
    NoRole,
    PanelSize,
    RestrictedCost,
    Withheld,
)
from reviewer.terms.rulebook import Interpretation, Provision, RuleBook
from reviewer.terms.sheets import READING, Decision, Range, Room
from reviewer.terms.vocabulary import RESTRICTED


def room(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> Room:
    """What facts alone, judgement alone, and all open readings as well would allow."""
    own = sorted_sound(marks, book, judges)
    found = outcomes(own, book)
    scored = favoured(own, found, book)
    alone = {outcome: earned for outcome, earned in found.credits.items() if earned is scored}
    as_scored = Outcomes(alone, exact=True, moving={}) if alone else found
    ranges = _readings(own, book)
    moving = [one for one in _touching(own, book) if _moves(one.clause, ranges)]
    return Room(
        facts=span(own, found, book, as_marked=True),
        judgement=span(own, as_scored, book),
        readings=_union(ranges.values()) if len(ranges) > 1 else None,
        open_readings=tuple(_decision(one, book, ranges[frozenset({one.clause})]) for one in moving),
    )


def left_open(
    marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()
) -> tuple[Interpretation, ...]:
    """The readings that the edition leaves open and that may matter to these marks."""
    return _touching(sorted_sound(marks, book, judges), book)


def _readings(own: Sorted, book: RuleBook) -> Mapping[frozenset[str], Range]:
    """The range of every way to read what touches these marks, by the clauses read otherwise than chosen."""
    clauses = [one.clause for one in _touching(own, book)]
    ways = [frozenset(some) for n in range(len(clauses) + 1) for some in combinations(clauses, n)]
    too_many = len(ways) * prod(len(states) for states in own.casts.values()) > MOST_COMBINATIONS
    found = {}
    for way in ways:
        variant = book.read_as(book.chosen ^ way)
        read = replace(own, casts=open_casts(own.elements, variant))
        found[way] = span(read, (bounds if too_many else outcomes)(read, variant), variant)
    return found


def _moves(clause: str, ranges: Mapping[frozenset[str], Range]) -> bool:
    """Whether reading a clause otherwise changes the range, alone or together with others."""
    return any(found != ranges[way ^ {clause}] for way, found in ranges.items())


def _union(ranges: Iterable[Range]) -> Range:
    kept = tuple(ranges)
    exact = all(one.exact for one in kept)
    scores = tuple(sorted({score for one in kept for score in one.scores})) if exact else ()
    return Range(scores, min(one.low for one in kept), max(one.high for one in kept), exact)


def _touching(own: Sorted, book: RuleBook) -> tuple[Interpretation, ...]:
    """The open readings that may matter to these marks: what they are about is marked."""
    return tuple(one for one in book.interpretations if _touches(one, own, book))


def _touches(one: Interpretation, own: Sorted, book: RuleBook) -> bool:
    stated = (part for part in book.as_stated if part.clause == one.clause)
    return any(_matters(part, own, book) for part in (*stated, *one.provides))


def _matters(part: Provision, own: Sorted, book: RuleBook) -> bool:
    """Whether what a clause provides can concern these marks; what is not known to be idle may."""
    known = book.element_of
    match part:
        case InquiryRule():
            return False
        case Element():
            return any(mark.code == part.code for mark in own.elements)
        case Withheld(test="condition"):
            return any(part.value in mark.conditions for mark in own.elements)
        case Withheld(test="status"):
            return any(known[mark.code].status == part.value for mark in own.elements)
        case NoRole():
            taking = [known[mark.code] for mark in own.elements if part.role in mark.roles]
            return any(one.status in part.statuses for one in taking) or (part.when_none and not taking)
        case RestrictedCost():
            return any(known[mark.code].status == RESTRICTED for mark in own.elements)
        case PanelSize():
            return len(own.faults) == part.judges
        case CastTolerance():
            return bool(own.casts)
    return True


def _decision(one: Interpretation, book: RuleBook, found: Range) -> Decision:
    other = one.stated if one.clause in book.chosen else one.other
    why = message(
        "{question} Read otherwise ({other}): {low} to {high}.",
        question=one.question,
        other=other,
        low=found.low,
        high=found.high,
    )
    return Decision((), why, READING, one.clause)
