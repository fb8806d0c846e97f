"""Measuring kept lengths again, and pooling kept readings again."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer import casefile, measuring
from reviewer.actions.alike import differences_of
from reviewer.actions.reviewing import Review
from reviewer.reports import Difference
from reviewer.terms.exact import Degrees, Millimetres
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks

OF_LENGTH, OF_POOL = 20, 2
"""Thousandths of a mm and of a degree by which they may differ: libraries differ in the last digits."""


def check_lengths(state: casefile.CaseState, review: Review) -> None:
    """Measure each kept length again."""
    if state.lengths:
        review.step("lengths", (one for record in state.lengths for one in _measured_otherwise(record)))


def check_pools(state: casefile.CaseState, review: Review) -> None:
    """Pool the readings of each kept pool again, and hold the casts that cite it to its value."""
    if state.pools:
        review.step("pools", (one for record in state.pools for one in _pooled_otherwise(record, state)))


def _measured_otherwise(record: Mapping[str, Any]) -> Iterator[Difference]:
    kept = record["length"]
    stored = _said(kept, "mm")
    try:
        found = measuring.length(Clicks.from_json(record["clicks"]))
        was = [Millimetres.parse(kept[key]) for key in ("value_mm", "u_mm")]
    except (ReviewerError, ArithmeticError, KeyError, TypeError, ValueError) as fault:
        yield Difference("length", record["id"], stored, f"refused: {fault}")
        return
    now = (found.value, found.uncertainty)
    if any(abs(a.thousandths - b.thousandths) > OF_LENGTH for a, b in zip(was, now, strict=True)):
        yield Difference(
            "length", record["id"], stored, f"{found.value}, standard uncertainty {found.uncertainty} mm"
        )
        return
    yield from differences_of(
        "length", record["id"], kept, measuring.length_json(found), version=record.get("version")
    )


def _pooled_otherwise(record: Mapping[str, Any], state: casefile.CaseState) -> Iterator[Difference]:
    kept = record["pooled"]
    stored = _said(kept, "deg")
    readings = {one["id"]: one for one in state.readings}
    try:
        found = measuring.pooled([measuring.reading_from_record(readings[name]) for name in record["of"]])
        was = tuple(Degrees.parse(kept[key]) for key in ("value_deg", "u_deg"))
    except (ReviewerError, ArithmeticError, KeyError, TypeError, ValueError) as fault:
        yield Difference("pool", record["id"], stored, f"refused: {fault}")
        return
    now = (found.value, found.uncertainty)
    if any(abs(a.thousandths - b.thousandths) > OF_POOL for a, b in zip(was, now, strict=True)):
        yield Difference(
            "pool", record["id"], stored, f"{found.value}, standard uncertainty {found.uncertainty}"
        )
    else:
        derived = measuring.pooled_json(found, (), None)
        yield from differences_of("pool", record["id"], kept, derived, version=record.get("version"))
    for mark in state.marks:
        if (
            mark.angle
            and mark.angle.reading == record["id"]
            and (mark.angle.value, mark.angle.uncertainty) != was
        ):
            cited = f"{mark.angle.value}, standard uncertainty {mark.angle.uncertainty}"
            yield Difference("pool", f"{record['id']} as cited by {mark.id}", cited, stored)


def _said(kept: Any, unit: str) -> str:
    if not isinstance(kept, Mapping):
        return "damaged"
    return f"{kept.get(f'value_{unit}')}, standard uncertainty {kept.get(f'u_{unit}')}"
