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
        """The faults and facts that only slow motion shows."""
        marks = (*(mark for own in self.faults.values() for mark in own), *self.facts)
        return tuple(mark for mark in marks if mark.seen == "slowed")

    def at_full_speed(self) -> "Sorted":
        """The same routine without them."""
        faults = {judge: _seen(own) for judge, own in self.faults.items()}
        return replace(self, faults=faults, facts=_seen(self.facts))


def sort_marks(marks: Sequence[Mark], book: RuleBook) -> Sorted:
    """Sound marks in routine order, sorted; one judge is A."""
    kinds: dict[str, list[Mark]] = {"element": [], "fault": [], "fact": []}
    for mark in marks:
        kinds[mark.kind].append(mark)
    letters = sorted({mark.judge for mark in kinds["fault"] if mark.judge}) or ["A"]
    faults: dict[str, list[Mark]] = {letter: [] for letter in letters}
    for mark in kinds["fault"]:
        faults[mark.judge or letters[0]].append(mark)
    return Sorted(
        elements=tuple(kinds["element"]),
        casts={
            mark.id: cast_states(mark, book.cast)
            for mark in kinds["element"]
            if book.element_of[mark.code].decides
        },
        faults={letter: tuple(own) for letter, own in faults.items()},
        facts=tuple(kinds["fact"]),
    )


def _seen(marks: Sequence[Mark]) -> tuple[Mark, ...]:
    return tuple(mark for mark in marks if mark.seen != "slowed")
