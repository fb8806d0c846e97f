"""What changed from one edition to another, clause by clause and field by field."""

import json
from dataclasses import dataclass
from difflib import SequenceMatcher

from reviewer.rules.splicing import written
from reviewer.rules.tree import Fields, Items, Text, Tree, read_tree
from reviewer.terms.rulebook import Clause, RuleBook

_WORDS = ("title", "name", "question")
_KINDS = {"since": "date", "source": "source", **dict.fromkeys(_WORDS, "words")}


@dataclass(frozen=True, slots=True)
class Change:
    """One field that says something else: its place, what it said and says; None where it is not there.

    ``kind`` is ``words``, ``date``, ``source``, ``example`` or, for all that decides a score, ``value``.
    """

    field: str
    before: str | None
    after: str | None
    kind: str


@dataclass(frozen=True, slots=True)
class ChangedClause:
    """A clause that both editions have, with what differs in it."""

    before: Clause
    after: Clause
    changes: tuple[Change, ...]

    @property
    def values(self) -> bool:
        """Whether a value differs, and not only words, dates, sources or examples."""
        return any(change.kind == "value" for change in self.changes)


@dataclass(frozen=True, slots=True)
class Comparison:
    """Two editions against each other.

    Attributes:
        before, after: the editions.
        head: what differs outside the clauses.
        added, taken_away: clauses that only one of them has, in its order.
        changed: clauses that say something else, in the later edition's order.
        moved: ids of clauses that stand in another order, which can decide which of two applies.
    """

    before: RuleBook
    after: RuleBook
    head: tuple[Change, ...]
    added: tuple[Clause, ...]
    taken_away: tuple[Clause, ...]
    changed: tuple[ChangedClause, ...]
    moved: tuple[str, ...]

    @property
    def same(self) -> bool:
        """Whether nothing differs that an edition says."""
        return not (self.head or self.added or self.taken_away or self.changed or self.moved)


def compare(before: RuleBook, after: RuleBook) -> Comparison:
    """What the later edition says that the earlier did not, and the reverse."""
    old = {clause.id: clause for clause in before.clauses}
    new = {clause.id: clause for clause in after.clauses}
    both = [(old[id], clause) for id, clause in new.items() if id in old]
    changed = (ChangedClause(one, other, _changes(_said(one), _said(other))) for one, other in both)
    return Comparison(
        before=before,
        after=after,
        head=_changes(_head(before), _head(after)),
        added=tuple(clause for id, clause in new.items() if id not in old),
        taken_away=tuple(clause for id, clause in old.items() if id not in new),
        changed=tuple(one for one in changed if one.changes),
        moved=_moved([id for id in old if id in new], [other.id for _, other in both]),
    )


def _changes(before: dict[str, str], after: dict[str, str]) -> tuple[Change, ...]:
    fields = [*after, *(field for field in before if field not in after)]
    found = (
        Change(field, before.get(field), after.get(field), _kind(field))
        for field in fields
        if before.get(field) != after.get(field)
    )
    return tuple(sorted(found, key=lambda change: change.kind != "value"))


def _kind(field: str) -> str:
    if field.partition(".")[0] == "examples":
        return "example"
    return _KINDS.get(field.rpartition(".")[2], "value")


def _said(clause: Clause) -> dict[str, str]:
    return _leaves(json.loads(clause.data))


def _head(book: RuleBook) -> dict[str, str]:
    tree = read_tree(book.text, book.id, [])
    fields = tree.values if isinstance(tree, Fields) else {}
    return _leaves({key: _plain(value) for key, value in fields.items() if key != "clauses"})


def _plain(tree: Tree) -> object:
    if isinstance(tree, Text):
        return tree.value
    if isinstance(tree, Items):
        return [_plain(item) for item in tree.values]
    return {key: _plain(value) for key, value in tree.values.items()}


def _leaves(said: object, place: str = "") -> dict[str, str]:
    """Every text in a tree by its place: names joined by dots, an item by its code or its number from 1."""
    if isinstance(said, str):
        return {place: said}
    if isinstance(said, list) and all(isinstance(item, str) for item in said):
        return {place: written(said)}
    inner = said if isinstance(said, dict) else _by_name(said)
    found: dict[str, str] = {}
    for name, value in inner.items():
        found |= _leaves(value, f"{place}.{name}" if place else name)
    return found


def _by_name(items: object) -> dict[str, object]:
    found: dict[str, object] = {}
    for number, item in enumerate(items if isinstance(items, list) else (), start=1):
        name = item.get("code", str(number)) if isinstance(item, dict) else str(number)
        found[name] = item
    return found


def _moved(before: list[str], after: list[str]) -> tuple[str, ...]:
    kept = {
        id
        for block in SequenceMatcher(None, before, after, autojunk=False).get_matching_blocks()
        for id in after[block.b : block.b + block.size]
    }
    return tuple(id for id in after if id not in kept)
