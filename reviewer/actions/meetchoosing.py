"""Choosing which routines of a meet are audited: by lot, for a reason, or by hand; each choice is kept."""

from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer.actions.meetholding import held_meet, starts_named
from reviewer.actions.meetsamples import seeded
from reviewer.actions.meettriggers import triggered, triggers_named
from reviewer.auditing import lots
from reviewer.exchange.meets import write_meet
from reviewer.terms.meets import BY_HAND, BY_LOT, BY_TRIGGER, GROUPS, Choice, Meet
from reviewer.terms.messages import Translate, as_written, message, noted
from reviewer.terms.problems import DocumentError, Problem

_Document = dict[str, Any]
_AGAIN = noted("These were chosen before: nothing is added.")
_UNTIL = noted(
    "Lots were drawn before with another seed, or in proportion by something else. Lots drawn until they "
    "please prove nothing: only the first speak for the meet."
)
_SIZE = noted("`reviewer meet size --of {count}` says how many it takes to say something of the meet.")
_NOT_BY_LOT = noted("Routines chosen for a reason say nothing of the others: only a sample by lot does.")


def choose_by_lot(
    folder: Path, number: int, seed: str, by: str | None = None, tell: Translate = as_written
) -> _Document:
    """Draw so many routines of the whole meet; ``by`` one of its groups, in proportion."""
    seed = seeded(seed)
    with held_meet(folder) as meet:
        names = [one.name for one in meet.starts]
        try:
            drawn = (
                lots.simple(names, number, seed)
                if by is None
                else lots.stratified(_strata(meet, by), number, seed)
            )
        except ValueError:
            raise DocumentError(_too_many(folder, number, len(names))) from None
        earlier = [one for one in meet.choices if one.how == BY_LOT]
        remarks = [message(_SIZE, count=len(names)).words(tell)]
        if earlier and (seed, by) not in {(one.seed, one.by) for one in earlier}:
            remarks.append(tell(_UNTIL))
        return _kept(folder, meet, Choice(BY_LOT, drawn, len(names), seed, by), remarks, tell)


def choose_by_trigger(folder: Path, names: Sequence[str], tell: Translate = as_written) -> _Document:
    """Choose every routine that has one of these triggers; nothing is kept where none has."""
    wanted = triggers_named(names)
    with held_meet(folder) as meet:
        found = triggered(folder, meet, wanted)
        choice = Choice(BY_TRIGGER, found, len(meet.starts), triggers=wanted)
        return _kept(folder, meet, choice, [tell(_NOT_BY_LOT)], tell)


def choose_by_hand(folder: Path, names: Sequence[str], tell: Translate = as_written) -> _Document:
    """Choose routines by their names."""
    with held_meet(folder) as meet:
        found = tuple(one.name for one in starts_named(meet, names))
        return _kept(folder, meet, Choice(BY_HAND, found, len(meet.starts)), [tell(_NOT_BY_LOT)], tell)


def chosen(meet: Meet) -> tuple[str, ...]:
    """Names of all routines that were chosen, each once, in the order of the meet."""
    found = {name for one in meet.choices for name in one.starts}
    return tuple(one.name for one in meet.starts if one.name in found)


def _kept(folder: Path, meet: Meet, choice: Choice, remarks: list[str], tell: Translate) -> _Document:
    """``reviewer.meet-choice/1``, once the choice stands in the meet; the same one is not kept twice."""
    before = set(chosen(meet))
    if choice in meet.choices:
        remarks = [tell(_AGAIN), *remarks]
    elif choice.starts:
        write_meet(folder, replace(meet, choices=(*meet.choices, choice)))
    new = [name for name in choice.starts if name not in before]
    return {"format": "reviewer.meet-choice/1", **choice.to_json(), "new": new, "remarks": remarks}


def _strata(meet: Meet, by: str) -> dict[str, list[str]]:
    """The routines by one of their groups; those of which it is not known make one of their own."""
    known = {name for one in meet.starts for name in one.groups}
    if by not in known:
        said = message("No routine of the meet says its {group}.", group=by)
        remedy = message("Name one of: {columns}.", columns=", ".join(one for one in GROUPS if one in known))
        if not known:
            remedy = message("Draw from the whole meet, or begin it with a table that has such a column.")
        raise DocumentError(Problem("no-group", "--by", said, remedy))
    strata: dict[str, list[str]] = {}
    for one in meet.starts:
        strata.setdefault(one.groups.get(by, ""), []).append(one.name)
    return strata


def _too_many(folder: Path, number: int, count: int) -> Problem:
    said = message("A sample of {number} cannot be drawn from {count} routines.", number=number, count=count)
    return Problem("no-sample", str(folder), said, message("Ask for fewer."))
