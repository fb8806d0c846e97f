"""The closed list of what a clause can say: one reader a kind, no formula and no code in the data."""

from collections.abc import Callable, Iterable, Iterator
from typing import Any

from reviewer.rules import crediting, deducting, judging
from reviewer.rules.record import Record
from reviewer.terms import provisions as said
from reviewer.terms.rulebook import Provision

Reader = Callable[[Record, str], Iterable[Provision]]
"""From the fields of a clause and its id to what it provides."""


def _note(record: Record, _: str) -> Iterator[Provision]:
    record.text("says")
    return iter(())


READERS: dict[str, Reader] = {
    "start": crediting.start,
    "value parts": crediting.value_parts,
    "few value parts": crediting.few_value_parts,
    "elements": crediting.elements,
    "element values": crediting.element_values,
    "counting elements": crediting.counting_elements,
    "connection": crediting.connection,
    "role bonus": crediting.role_bonus,
    "requirement": crediting.requirement,
    "restricted element": crediting.restricted_element,
    "withheld": crediting.withheld,
    "judge decides": crediting.judge_decides,
    "one element": crediting.one_element,
    "part of": crediting.part_of,
    "no role": crediting.no_role,
    "cast line": judging.cast_line,
    "cast limit": judging.cast_limit,
    "cast tolerance": judging.cast_tolerance,
    "guard band": judging.guard_band,
    "execution from": deducting.execution_from,
    "fault": deducting.fault,
    "cap": deducting.cap,
    "swallow": deducting.swallow,
    "one error": deducting.one_error,
    "time limit": deducting.time_limit,
    "fact": deducting.fact,
    "panel": judging.panel,
    "panel size": judging.panel_size,
    "spread": judging.spread,
    "reference": judging.reference,
    "courtesy": deducting.courtesy,
    "ties": judging.ties,
    "inquiry": judging.inquiry,
    "note": _note,
}
"""Rule name in the file to its reader."""

NEEDED: dict[str, type[Any]] = {
    "start": said.Start,
    "cast line": said.CastLine,
    "cast limit": said.CastLimit,
    "cast tolerance": said.CastTolerance,
    "guard band": said.GuardBand,
    "panel": said.PanelRule,
}
"""Rules that every book states exactly once, and what they provide."""

ONCE: dict[str, type[Any]] = NEEDED | {
    "value parts": said.ValueParts,
    "restricted element": said.RestrictedCost,
    "judge decides": said.JudgeDecides,
    "execution from": said.ExecutionFrom,
    "element values": said.ElementValues,
    "counting elements": said.CountingElements,
    "courtesy": said.Courtesy,
    "ties": said.Ties,
}
"""Rules that a book states at most once."""
