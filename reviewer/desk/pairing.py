"""The rows of a sheet beside those of the same sheet with something supposed."""

from collections.abc import Sequence
from dataclasses import replace

from reviewer.desk.ledger import Row
from reviewer.words import Saying


def paired(before: Sequence[Row], after: Sequence[Row], say: Saying) -> tuple[Row, ...]:
    """The rows as they are, what would differ in `Row.supposed`; rows that are new where they would stand."""
    known, left = {row.key for row in before}, {row.key: row for row in after}
    following: dict[tuple[object, ...] | None, list[Row]] = {}
    anchor: tuple[object, ...] | None = None
    for row in after:
        if row.key in known:
            anchor = row.key
        else:
            following.setdefault(anchor, []).append(_new(row, say))
    found = list(following.get(None, ()))
    for row in before:
        found.append(_beside(row, left.get(row.key), say))
        found.extend(following.get(row.key, ()))
    return tuple(found)


def _new(row: Row, say: Saying) -> Row:
    if row.kind == "heading":
        return row
    return replace(row, points="", supposed=row.points or say("new"), is_new=True)


def _beside(row: Row, other: Row | None, say: Saying) -> Row:
    if row.kind == "heading":
        return row
    if other is None:
        return replace(row, supposed=say("gone"))
    if other.points != row.points:
        return replace(row, supposed=other.points)
    return replace(row, supposed=say("otherwise")) if other.words != row.words else row
