"""One fact that may be charged twice: the same fault, of the same judge, at nearly the same instant."""

from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise

from reviewer.actions.audit import Audit
from reviewer.terms.marks import Mark, in_routine_order
from reviewer.terms.messages import Message, message

NEARLY_MS = 250
"""What lies closer together is hardly done twice: a second step or fall takes longer."""


@dataclass(frozen=True, slots=True)
class Doubled:
    """Two marks, both charged, that may be of one fact."""

    marks: tuple[str, str]
    why: Message


def charged_twice(audit: Audit) -> tuple[Doubled, ...]:
    """Every two marks of one fault that both cost points and lie nearly at one instant.

    Without a time: on one element. What a rule of the edition takes only once is not charged twice.
    """
    charged = {name for line in audit.sheet.lines if line.stage == "execution" for name in line.marks}
    alike: dict[tuple[str, str | None], list[Mark]] = {}
    for mark in in_routine_order(audit.counting_marks):
        if mark.kind == "fault" and mark.id in charged:
            alike.setdefault((mark.code, mark.judge), []).append(mark)
    return tuple(one for marks in alike.values() for one in _near(marks, audit))


def _near(marks: list[Mark], audit: Audit) -> Iterator[Doubled]:
    for one, other in pairwise(marks):
        apart = _apart_ms(one, other, audit)
        if apart is None and one.element is not None and one.element == other.element:
            name = audit.book.fault(one.code).name
            yield Doubled((one.id, other.id), message("{name} is charged twice on one element.", name=name))
        elif apart is not None and apart <= NEARLY_MS:
            name = audit.book.fault(one.code).name
            why = message(
                "{name} is charged twice within {apart} ms: is it one fault?", name=name, apart=apart
            )
            if apart == 0:
                why = message("{name} is charged twice at one instant: is it one fault?", name=name)
            yield Doubled((one.id, other.id), why)


def _apart_ms(one: Mark, other: Mark, audit: Audit) -> int | None:
    """Whole milliseconds between them; None where one has no time."""
    first, second, cited = one.moment(), other.moment(), audit.state.recording
    if first is None or second is None or cited is None:
        return None
    return abs(second - first) * 1000 * cited.base.numerator // cited.base.denominator
