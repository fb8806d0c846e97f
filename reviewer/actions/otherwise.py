"""What a judge may suppose of a mark, or of a clause that leaves a reading open, one thing at a time."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from reviewer import scoring
from reviewer.actions.audit import Audit
from reviewer.actions.supposing import Supposed
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.provisions import JudgeDecides
from reviewer.terms.rulebook import OTHER, STATED, Interpretation, RuleBook

_SEEN = {
    "met": noted("The cast reaches the limit."),
    "within tolerance": noted("The cast lies within the tolerance."),
    "not met": noted("The cast is short of the tolerance."),
    "not seen": noted("Nobody saw how high the cast was."),
}
_CREDIT = {
    "given": noted("The judge gives it its credit."),
    "withheld": noted("The judge withholds its credit."),
}


@dataclass(frozen=True, slots=True)
class Alternative:
    """One thing that might be otherwise.

    Attributes:
        of: id of the mark, or of the clause.
        why: what would be so, for people.
        supposed: the same for `reviewer.actions.supposed_sheet`.
    """

    of: str
    why: Message
    supposed: Supposed


def alternatives(audit: Audit, mark_id: str) -> tuple[Alternative, ...]:
    """What a mark might say instead; none for one that does not count."""
    found = (mark for mark in audit.counting_marks if mark.id == mark_id)
    return tuple(one for mark in found for one in _of(mark, audit))


def left_open(audit: Audit) -> tuple[Interpretation, ...]:
    """The clauses that leave a reading open which may matter to the marks, or for which one was chosen."""
    book = audit.book
    touching = {one.clause for one in scoring.left_open(audit.counting_marks, book)} | book.chosen
    return tuple(one for one in book.interpretations if one.clause in touching)


def other_reading(audit: Audit, clause: str) -> Alternative:
    """A clause that leaves a reading open, read the way it is not read now; KeyError for any other clause."""
    book = audit.book
    left, is_other = book.interpretation(clause), clause in book.chosen
    why = message("Read the other way: {reading}", reading=left.stated if is_other else left.other)
    return Alternative(clause, why, Supposed(readings={clause: STATED if is_other else OTHER}))


def together(some: Iterable[Alternative]) -> Supposed:
    """All of them at once; each is of another mark or clause."""
    parts = [one.supposed for one in some]
    return Supposed(
        amounts={key: value for one in parts for key, value in one.amounts.items()},
        verdicts={key: value for one in parts for key, value in one.verdicts.items()},
        said=tuple(pair for one in parts for pair in one.said),
        unsaid=tuple(pair for one in parts for pair in one.unsaid),
        credits={key: value for one in parts for key, value in one.credits.items()},
        left_out=tuple(dict.fromkeys(name for one in parts for name in one.left_out)),
        readings={key: value for one in parts for key, value in one.readings.items()},
    )


def _of(mark: Mark, audit: Audit) -> Iterator[Alternative]:
    book = audit.book
    if mark.kind == "fault" and mark.code in book.fault_of:
        for amount in book.fault(mark.code).amounts:
            if amount != mark.amount:
                costs = message("It costs {amount}.", amount=amount)
                yield Alternative(mark.id, costs, Supposed(amounts={mark.id: amount}))
    if mark.kind == "element" and mark.code in book.element_of:
        yield from _of_element(mark, book)
    yield _absent(mark, audit)


def _of_element(mark: Mark, book: RuleBook) -> Iterator[Alternative]:
    if book.element(mark.code).decides:
        now = mark.angle.verdict if mark.angle else None
        for verdict, says in _SEEN.items():
            if verdict != now:
                yield Alternative(mark.id, message(says), Supposed(verdicts={mark.id: verdict}))
    if book.one(JudgeDecides) is not None:
        for credit, says in _CREDIT.items():
            if credit != mark.credit:
                yield Alternative(mark.id, message(says), Supposed(credits={mark.id: credit}))
    for condition in book.conditions:
        pair = ((mark.id, condition.code),)
        if condition.code in mark.conditions:
            why = message("Without this being said: {condition}.", condition=condition.name)
            yield Alternative(mark.id, why, Supposed(unsaid=pair))
        else:
            why = message("With this being said: {condition}.", condition=condition.name)
            yield Alternative(mark.id, why, Supposed(said=pair))


def _absent(mark: Mark, audit: Audit) -> Alternative:
    """As if it had never been marked; an element goes with its faults."""
    own = tuple(one.id for one in audit.counting_marks if one.element == mark.id)
    says = noted("It is not there, nor are its faults.") if own else noted("It is not there.")
    return Alternative(mark.id, message(says), Supposed(left_out=(mark.id, *own)))
