"""Rule books otherwise in one place at a time, and whether any rule case tells the difference.

``python -m tests.rules.mutating [BOOK]`` prints for each shipped edition (or the one named) how many clauses
it has, how many books there are that differ from it in one place, which of them no case tells, and the share
of clauses of which every change is told.

Changed is every value and every condition of every clause: amounts, numbers, angles, lengths, times, edges,
words of closed lists, codes, letters, members of lists, optional fields, whole clauses. Names, titles, dates,
sources and what is only said to people are not; nor are codes where they are defined, which are names: see
`test_renaming`. A change that the checks of rule books refuse is no change.
"""

import re
import sys
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path

from reviewer import rules
from reviewer.actions.examples import differences
from reviewer.rules.book import RuleBookError, from_tree
from reviewer.rules.tree import Fields, Items, Text, Tree, read_tree
from reviewer.terms import vocabulary as known
from reviewer.terms.bodylines import LINES
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.measures import LENGTHS, TIMES
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.rulecases import RuleCase

CASES = Path(__file__).parent / "cases"

_SAID = {
    "id",
    "title",
    "rule",
    "since",
    "source",
    "examples",
    "question",
    "name",
    "says",
    "counted-from",
    "fee",
}
_NAMES = {("elements", "code"), ("requirement", "requirement"), ("fault", "fault"), ("fact", "fact")}
_EDGES, _YES = ("included", "excluded"), ("yes", "no")
_COUNTING = ("all", *(f"middle {number} scores" for number in range(1, 10)))

_WORDS: dict[tuple[str, str], tuple[str, ...]] = {
    ("few value parts", "counting"): known.COUNTINGS,
    ("restricted element", "repeated"): known.REPEATS,
    ("elements", "status"): known.STATUSES,
    ("elements", "angle"): ("none", "decides", "noted"),
    ("withheld", "reason"): known.REASONS,
    ("withheld", "status"): known.STATUSES,
    ("withheld", "cast"): known.CAST_FAULTS,
    ("withheld", "takes"): ("value part", "requirement"),
    ("withheld", "different-neighbour"): ("needed", "not needed"),
    ("withheld", "same-by"): known.SAME_BY,
    ("judge decides", "reason"): known.REASONS,
    ("no role", "statuses"): known.STATUSES,
    ("no role", "when-none"): _YES,
    ("cast line", "line"): LINES,
    ("cast limit", "edge"): _EDGES,
    ("cast tolerance", "edge"): _EDGES,
    ("cast tolerance", "scope"): known.CAST_SCOPES,
    ("cast tolerance", "on"): ("best cast", "any cast"),
    ("fault", "scope"): known.SCOPES,
    ("time limit", "edge"): _EDGES,
    ("panel", "rounding"): known.ROUNDINGS,
    ("panel size", "counting"): _COUNTING,
    ("courtesy", "held-against"): known.HELD_AGAINST,
    ("counting elements", "that-role"): known.THAT_ROLE,
    ("connection", "order"): known.ORDERS,
    ("ties", "higher"): known.TIE_STEPS,
    ("inquiry", "edge"): _EDGES,
    ("inquiry", "recording"): known.RECORDINGS,
    ("inquiry", "result"): known.RESULTS,
}
"""Kind of clause and field to every word that may stand there."""
_CODES = {
    "role": "roles",
    "condition": "conditions",
    "parted-by": "conditions",
    "joined-by": "conditions",
    "by": "faults",
    "value": "letters",
    "at-least": "letters",
}
"""Fields that hold one code or letter, and which."""
_LISTS = {
    "may-be": "roles",
    "not-in": "roles",
    "not-when": "conditions",
    "unless": "conditions",
    "with": "conditions",
    "faults": "faults",
    "after": "faults",
    "not-on-top-of-it": "faults",
}
"""Fields that hold a list of codes to which each other one is added, and which."""
_INSTEAD = {
    ("fault", "amount"): "up-to",
    ("fault", "up-to"): "amount",
    ("requirement", "takes"): "gives",
    ("requirement", "gives"): "takes",
}
"""Fields that could stand in each other's place."""
_QUANTITY = re.compile(r"(-?\d+(?:\.\d+)?) (\S.*)")


@dataclass(frozen=True, slots=True)
class Mutant:
    """A book that is otherwise in one place: the clause's id, what is otherwise, and the whole book."""

    clause: str
    change: str
    tree: Fields

    def __str__(self) -> str:
        return f"{self.clause}: {self.change}"


@dataclass(frozen=True, slots=True)
class Asked:
    """A case, and the ids of its faults whose amount is left to the book."""

    case: RuleCase
    unwritten: frozenset[str]

    def tells(self, book: RuleBook) -> bool:
        """Whether something comes out otherwise than expected."""
        if any(all(clause != one.clause for one in book.interpretations) for clause in self.case.chosen):
            return True
        case = replace(
            self.case, marks=tuple(map(self._mark, self.case.marks, [book] * len(self.case.marks)))
        )
        return next(differences(case, book), None) is not None

    def _mark(self, mark: Mark, book: RuleBook) -> Mark:
        if mark.id not in self.unwritten:
            return mark
        fault = book.fault_of.get(mark.code)
        return replace(mark, amount=fault.amounts[0] if fault is not None and fault.flat else None)


@dataclass(frozen=True, slots=True)
class Trial:
    """What became of the mutants of one book.

    Attributes:
        book: id.
        clauses: ids of all its clauses.
        mutants: how many there are.
        survivors: those that no case tells.
    """

    book: str
    clauses: tuple[str, ...]
    mutants: int
    survivors: tuple[Mutant, ...]

    @property
    def open_clauses(self) -> set[str]:
        """The clauses of which something may be otherwise without any case telling."""
        return {one.clause for one in self.survivors}

    def __str__(self) -> str:
        told, number = len(self.clauses) - len(self.open_clauses), len(self.clauses)
        share = 100 * told // number
        return (
            f"{self.book}: {number} clauses, {self.mutants} mutants, {len(self.survivors)} survivors; "
            f"of {told} clauses ({share} %) every change is told"
        )


def trial(name: str) -> Trial:
    """Every mutant of a shipped edition, held against its cases; ValueError where one fails as it is."""
    path = rules.find(name)
    text = rules.read_text(path)
    tree = read(text)
    book = from_tree(tree, text, name, [])
    asked = _cases(book, _built(_dearer(tree), text, name))
    wrong = [one.case.name for one in asked if one.tells(book)]
    if wrong:
        raise ValueError(f"the book as it is does not come out as these cases say: {'; '.join(wrong)}")
    first = {clause.id: _about_first(asked, clause.id) for clause in book.clauses}
    survivors, number = [], 0
    for mutant in mutants(tree):
        built = _built(mutant.tree, text, name)
        if built is not None:
            number += 1
            if not any(one.tells(built) for one in first[mutant.clause]):
                survivors.append(mutant)
    return Trial(name, tuple(first), number, tuple(survivors))


def mutants(tree: Fields) -> Iterator[Mutant]:
    """Every book that is otherwise in one place of one clause, sound or not."""
    clauses, words = tree.values["clauses"], _Words(tree)
    assert isinstance(clauses, Items)
    for place, clause in enumerate(clauses.values):
        assert isinstance(clause, Fields)
        id = _text(clause, "id")
        for change, other in words.of_fields(clause, _text(clause, "rule")):
            yield Mutant(id, change, _with_clauses(tree, _put(clauses, place, other)))
        yield Mutant(id, "taken out", _with_clauses(tree, _put(clauses, place)))


class _Words:
    """What could stand in a book in place of what stands there."""

    def __init__(self, tree: Fields) -> None:
        clauses = tree.values["clauses"]
        assert isinstance(clauses, Items)
        every = [one for one in clauses.values if isinstance(one, Fields)]
        values = next((one.values["values"] for one in every if "values" in one.values), None)
        self._codes = {
            "roles": _keys(tree.values["roles"]),
            "conditions": _keys(tree.values["conditions"]),
            "faults": tuple(_text(one, "fault") for one in every if "fault" in one.values),
            "letters": _keys(values),
        }

    def of_fields(self, fields: Fields, rule: str) -> Iterator[tuple[str, Fields]]:
        """Every change of a mapping: of each field, and each field taken out or standing for another."""
        for key, value in fields.values.items():
            if key in _SAID or (rule, key) in _NAMES:
                continue
            for change, other in self._of(value, rule, key):
                yield f"{key}{change}", _with(fields, {**fields.values, key: other})
            rest = {name: one for name, one in fields.values.items() if name != key}
            yield f"without {key}", _with(fields, rest)
            if (rule, key) in _INSTEAD:
                instead = _INSTEAD[rule, key]
                yield f"{key} as {instead}", _with(fields, {**rest, instead: value})

    def _of(self, tree: Tree, rule: str, key: str) -> Iterator[tuple[str, Tree]]:
        if isinstance(tree, Text):
            for other in self._texts(tree.value, rule, key):
                yield f" {tree.value} > {other}", Text(other, tree.line)
        elif isinstance(tree, Items):
            yield from self._of_items(tree, rule, key)
        else:
            for change, fields in self.of_fields(tree, rule):
                yield f".{change}", fields

    def _of_items(self, items: Items, rule: str, key: str) -> Iterator[tuple[str, Tree]]:
        said = [_named(one) for one in items.values]
        for place, one in enumerate(items.values):
            yield f" without {said[place]}", _put(items, place)
            if isinstance(one, Fields) or _QUANTITY.fullmatch(said[place]):
                for change, other in self._of(one, rule, key):
                    yield f" {said[place]}{change}", _put(items, place, other)
        for word in _WORDS.get((rule, key), ()) or self._codes.get(_LISTS.get(key, ""), ()):
            if word not in said:
                yield f" with {word}", Items((*items.values, Text(word, items.line)), items.line)
        if (rule, key) == ("ties", "higher"):
            yield " the other way round", Items(items.values[::-1], items.line)

    def _texts(self, text: str, rule: str, key: str) -> Iterator[str]:
        quantity = _QUANTITY.fullmatch(text)
        if quantity is not None:
            yield from _quantities(quantity[1], quantity[2])
            return
        words = _WORDS.get((rule, key)) or self._codes.get(_CODES.get(key, ""))
        if words is None:
            raise LookupError(f"nobody says what could stand in place of {key}: {text}")
        yield from (word for word in words if word != text)


def _quantities(number: str, unit: str) -> Iterator[str]:
    """A step more and a step less; and lengths and times in other units."""
    if unit == "points":
        for step in (-50, 50):
            size = Points.parse(number).thousandths + step
            if size >= 0:
                yield f"{Points(size)} {unit}"
        return
    for step in (-1, 1):
        yield f"{int(number) + step} {unit}"
    for units in (LENGTHS, TIMES):
        if unit in units:
            yield from (f"{number} {other}" for other in units if units[other] != units[unit])


def _cases(book: RuleBook, dearer: RuleBook | None) -> tuple[Asked, ...]:
    """All cases of a book; read for a dearer one too, which shows where amounts are left to the book."""
    assert dearer is not None
    both = zip(_read_cases(book), _read_cases(dearer), strict=True)
    return tuple(Asked(case, _differing(case.marks, again.marks)) for case, again in both)


def _differing(marks: Sequence[Mark], others: Sequence[Mark]) -> frozenset[str]:
    return frozenset(mark.id for mark, other in zip(marks, others, strict=True) if mark != other)


def _read_cases(book: RuleBook) -> Iterator[RuleCase]:
    for path in sorted(CASES.glob("*.yaml")):
        if f"\nrule-book: {book.id}\n" in path.read_text(encoding="utf-8"):
            yield from rules.read_cases(path, book)
    yield from rules.examples(book, book.id)


def _dearer(tree: Fields) -> Fields:
    """The book in which every fault of one amount costs 0.05 more."""
    clauses = tree.values["clauses"]
    assert isinstance(clauses, Items)
    changed = []
    for clause in clauses.values:
        amount = clause.values.get("amount") if isinstance(clause, Fields) else None
        if isinstance(clause, Fields) and isinstance(amount, Text):
            more = f"{Points.parse(amount.value.split()[0]) + Points(50)} points"
            clause = _with(clause, {**clause.values, "amount": Text(more, amount.line)})
        changed.append(clause)
    return _with_clauses(tree, Items(tuple(changed), clauses.line))


def _about_first(asked: Sequence[Asked], clause: str) -> tuple[Asked, ...]:
    return tuple(sorted(asked, key=lambda one: clause not in one.case.about))


def read(text: str) -> Fields:
    """The tree of a sound book's text."""
    tree = read_tree(text, "book", [])
    assert isinstance(tree, Fields)
    return tree


def _built(tree: Fields, text: str, name: str) -> RuleBook | None:
    try:
        return from_tree(tree, text, name, [])
    except RuleBookError:
        return None


def _with(fields: Fields, values: Mapping[str, Tree]) -> Fields:
    return Fields(dict(values), fields.lines, fields.line)


def _with_clauses(tree: Fields, clauses: Items) -> Fields:
    return _with(tree, {**tree.values, "clauses": clauses})


def _put(items: Items, place: int, *instead: Tree) -> Items:
    return Items((*items.values[:place], *instead, *items.values[place + 1 :]), items.line)


def _keys(tree: Tree | None) -> tuple[str, ...]:
    return tuple(tree.values) if isinstance(tree, Fields) else ()


def _named(tree: Tree) -> str:
    return tree.value if isinstance(tree, Text) else _text(tree, "code") if isinstance(tree, Fields) else ""


def _text(fields: Fields, key: str) -> str:
    found = fields.values.get(key)
    return found.value.strip() if isinstance(found, Text) else ""


def main(*names: str) -> None:
    """Print what became of the mutants of these editions, or of all that are shipped."""
    for name in names or [path.stem for path in rules.shipped()]:
        found = trial(name)
        print(found)
        for one in found.survivors:
            print(f"    {one}")


if __name__ == "__main__":
    main(*sys.argv[1:])
