"""Marks of two merged cases that are one: what both judges marked stands once, under the first case's id.

A merge says which. The first's word stands, the second's fills in what the first left unsaid, and what both
said differently is a conflict until somebody says the mark anew.
"""

from collections.abc import Collection, Sequence
from dataclasses import replace
from typing import Any

from reviewer.casefile.chain import Event
from reviewer.casefile.conflicts import MARK, Conflict, said_since, words_of
from reviewer.casefile.growing import Growing
from reviewer.casefile.lineage import MERGED
from reviewer.terms.marks import Mark

_ALWAYS_SAID = ("code", "roles", "conditions", "amount", "arguable")
"""What a mark says also where it says nothing: no condition is a condition denied."""
_MAY_BE_UNSAID = ("angle", "called", "credit", "clock", "length", "seen")
_WHEN = ("start", "end", "at", "recording")


def as_one(
    growing: Growing, events: Sequence[Event], gone: Collection[str], conflicts: Sequence[Conflict]
) -> tuple[Conflict, ...]:
    """Give faults the judges that merges name, and make one mark of each pair, in place; the conflicts left.

    ``events`` are the whole chain with ids as shown; ``gone`` are the hashes of those undone.
    """
    found = tuple(conflicts)
    for merge in events:
        if merge.kind == MERGED:
            _judged(growing, merge)
            since = said_since(events, gone, merge) if merge.payload.get("same") else {}
            for first, second in merge.payload.get("same", ()):
                found = _called(found, first, second)
                said_anew = since.get((MARK, first))
                own = _one(growing, first, second, said_anew)
                found = tuple(c for c in found if _at(c) != (MARK, first)) if said_anew else (*found, *own)
    return found


def _judged(growing: Growing, merge: Event) -> None:
    for name, judge in merge.payload.get("judges", {}).items():
        mark = growing.mark(name)
        if mark is not None and mark.judge is None:
            growing.said[name] = replace(mark, judge=judge)


def _one(growing: Growing, first: str, second: str, said_anew: Any) -> tuple[Conflict, ...]:
    """Let one mark of a pair stand; what both say differently of it."""
    mine, theirs, digest = growing.mark(first), growing.mark(second), growing.events_of.pop(second, None)
    growing.said.pop(second, None)
    if theirs is None or said_anew == "withdrawn" or (mine is not None and said_anew is not None):
        return ()
    if mine is None:
        growing.said[first] = replace(theirs, id=first)
        growing.events_of[first] = digest or ""
        return ()
    growing.said[first] = _filled(mine, theirs)
    differing = [name for name in _ALWAYS_SAID if getattr(mine, name) != getattr(theirs, name)]
    differing += [name for name in _MAY_BE_UNSAID if _differ(getattr(mine, name), getattr(theirs, name))]
    said = _shown(mine, differing), _shown(theirs, differing)
    texts = words_of(said[0]), words_of(said[1])
    return (Conflict(MARK, first, *texts, "first", said),) if differing else ()


def _filled(mine: Mark, theirs: Mark) -> Mark:
    """The first's mark, with what it leaves unsaid as the second says it."""
    names = [name for name in (*_MAY_BE_UNSAID, "order", "element") if getattr(mine, name) is None]
    names += _WHEN if mine.moment() is None and theirs.moment() is not None else ()
    return replace(mine, **{name: getattr(theirs, name) for name in names})


def _differ(mine: Any, theirs: Any) -> bool:
    """Whether both say something, and not the same; which reading an angle was taken from is no matter."""
    if mine is None or theirs is None:
        return False
    if hasattr(mine, "reading"):
        return bool(replace(mine, reading=None) != replace(theirs, reading=None))
    return bool(mine != theirs)


def _shown(mark: Mark, names: Sequence[str]) -> dict[str, Any]:
    """Some of what a mark says, in the words of a document."""
    said = mark.to_json()
    keys = ("with" if name == "conditions" else name for name in names)
    return {key: said.get(key, True if key == "arguable" else "nothing") for key in keys}


def _called(conflicts: Sequence[Conflict], first: str, second: str) -> tuple[Conflict, ...]:
    """The conflicts, those about the second mark of a pair by the id it is shown under."""
    return tuple(replace(one, where=first) if _at(one) == (MARK, second) else one for one in conflicts)


def _at(one: Conflict) -> tuple[str, str]:
    return one.what, one.where
