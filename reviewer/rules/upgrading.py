"""A rule book of an older version as one of the newest: what it did not yet say is what it meant."""

from collections.abc import Mapping

from reviewer.rules.tree import Fields, Items, Text, Tree

NEWEST = "reviewer.rule-book/2"
_VERSION_1 = "reviewer.rule-book/1"
FORMATS = (NEWEST, _VERSION_1)

_Said = str | dict[str, str]

_MEANT: dict[str, dict[str, str]] = {
    "few value parts": {"counting": "credited"},
    "restricted element": {"repeated": "each time"},
    "no role": {"when-none": "yes"},
    "cast limit": {"edge": "included"},
    "cast tolerance": {"edge": "included", "scope": "exercise", "on": "best cast"},
    "courtesy": {"held-against": "final score"},
}
_MEANT_OF_TIMES = {"different-neighbour": "needed", "same-by": "code"}
_HEAD: dict[str, _Said] = {"apparatus": "uneven bars", "effective": {"from": "2025-08-01"}}


def upgrade(book: Fields) -> Fields:
    """The head and clauses of a book in the newest version; lines stay those of the file."""
    if _text(book, "format") != _VERSION_1:
        return book
    head = _with(book, {"format": NEWEST, **_HEAD})
    clauses = head.values.get("clauses")
    if not isinstance(clauses, Items):
        return head
    values = tuple(_clause(one) if isinstance(one, Fields) else one for one in clauses.values)
    return Fields(head.values | {"clauses": Items(values, clauses.line)}, head.lines, head.line)


def _clause(clause: Fields) -> Fields:
    meant = dict(_MEANT.get(_text(clause, "rule"), {}))
    return _with(clause, meant | (_MEANT_OF_TIMES if "times" in clause.values else {}))


def _with(fields: Fields, said: Mapping[str, _Said]) -> Fields:
    new = {key: _tree(value, fields.line) for key, value in said.items()}
    return Fields(fields.values | new, fields.lines, fields.line)


def _tree(value: _Said, line: int) -> Tree:
    if isinstance(value, str):
        return Text(value, line)
    return Fields({key: Text(text, line) for key, text in value.items()}, {}, line)


def _text(fields: Fields, key: str) -> str:
    found = fields.values.get(key)
    return found.value.strip() if isinstance(found, Text) else ""
