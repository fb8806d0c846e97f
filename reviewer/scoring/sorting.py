"""Sound marks sorted by what they are: the only thing the stages of a score look at."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from reviewer.scoring.casts import cast_states
from reviewer.terms.marks import Mark
from reviewer.terms.rulebook import RuleBook


@dataclass(frozen=True, slots=True)
class Sorted:
    """The marks of one routine.

    Attributes:
        elements: in routine order.
        casts: mark id of each cast whose angle decides to the states left open, the gymnast's best first.
        faults: each judge's faults, by letter.
        facts: facts about the exercise.
    """

    elements: tuple[Mark, ...]
    casts: Mapping[str, tuple[str, ...]]
    faults: Mapping[str, tuple[Mark, ...]]
    facts: tuple[Mark, ...]

    @property
    def slowed(self) -> tuple[Mark, ...]:
        """The marks that say what only slow motion shows: faults, facts, and what is said of elements."""
        marks = (*self.elements, *(mark for own in self.faults.values() for mark in own), *self.facts)
        return tuple(mark for mark in marks if _found_later(mark))

    def at_full_speed(self, book: RuleBook) -> "Sorted":
        """The same routine without that: elements stay, with what was called of them at full speed alone.

        A cast of which nothing was called then is open.
        """
        elements = tuple(map(_as_called, self.elements))
        faults = {judge: _seen(own) for judge, own in self.faults.items()}
        return Sorted(elements, open_casts(elements, book), faults, _seen(self.facts))


def open_casts(elements: Sequence[Mark], book: RuleBook) -> Mapping[str, tuple[str, ...]]:
    """Mark id of each cast whose angle decides to the states left open, the gymnast's best first."""
    deciding = (mark for mark in elements if book.element_of[mark.code].decides)
    return {mark.id: cast_states(mark, book.cast) for mark in deciding}


def sort_marks(marks: Sequence[Mark], book: RuleBook, judges: Sequence[str] = ()) -> Sorted:
    """Sound marks in routine order, sorted. ``judges`` score too where they deduct nothing; one is A.

    A fault without a letter is the only judge's: with several letters it is not sound.
    """
    kinds: dict[str, list[Mark]] = {"element": [], "fault": [], "fact": []}
    for mark in marks:
        kinds[mark.kind].append(mark)
    letters = sorted({mark.judge for mark in kinds["fault"] if mark.judge} | set(judges)) or ["A"]
    faults: dict[str, list[Mark]] = {letter: [] for letter in letters}
    for mark in kinds["fault"]:
        faults[mark.judge or letters[0]].append(mark)
    return Sorted(
        elements=tuple(kinds["element"]),
        casts=open_casts(kinds["element"], book),
        faults={letter: tuple(own) for letter, own in faults.items()},
        facts=tuple(kinds["fact"]),
    )


def _found_later(mark: Mark) -> bool:
    return mark != _as_called(mark) or (mark.kind != "element" and mark.seen == "slowed")


def _as_called(mark: Mark) -> Mark:
    """A mark with what was called of it at full speed, and nothing else: no bend is measured then."""
    angle = mark.angle
    called = angle.at_full_speed if angle is not None else None
    if mark.seen == "slowed":
        return replace(mark, conditions=(), angle=called)
    if mark.kind == "fault" and mark.seen == "full-speed" and angle is not None and angle.by == "protractor":
        return replace(mark, angle=None)
    return mark if called is None else replace(mark, angle=called)


def _seen(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    return tuple(_as_called(mark) for mark in marks if mark.seen != "slowed")
