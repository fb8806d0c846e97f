"""Lengths in millimetres and pooled readings, kept in the case as evidence."""

from collections.abc import Sequence
from typing import Any

from reviewer import __version__, measuring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change, citing, next_evidence_id
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks


def take_length(audit: Audit, clicks: Clicks, recording: str | None = None) -> Change:
    """Measure a length on a frame of one of the case's recordings and keep it as evidence."""
    pts = audit.time(clicks.frame, recording).pts if recording or audit.cited_pts else None
    found = measuring.length(clicks)
    record: dict[str, Any] = {
        "id": next_evidence_id(audit),
        "pts": pts,
        "clicks": clicks.to_json(),
        "length": measuring.length_json(found),
        "version": __version__,
    }
    named = audit.own_name(recording)
    audit.case.append("length-taken", {"length": record | ({"recording": named} if named else {})})
    return Change(frozenset({"readings"}))


def pool_readings(audit: Audit, ids: Sequence[str], mark_id: str | None) -> Change:
    """Pool several judges' readings of one cast; with a mark, the pooled value becomes that cast's angle."""
    kept = {one.id: one for one in audit.readings}
    for name in ids:
        if name not in kept:
            said = message("The case has no reading of that id.")
            raise AuditError(
                Problem("unknown-reading", name, said, message("Look it up with `reviewer marks list`."))
            )
    readings = [kept[name] for name in dict.fromkeys(ids)]
    found = measuring.pooled(readings)
    name = next_evidence_id(audit)
    pooled = measuring.pooled_json(found, (), None)
    record = {"id": name, "of": [one.id for one in readings], "pooled": pooled, "version": __version__}
    if mark_id is None:
        audit.case.append("readings-pooled", {"pool": record})
        return Change(frozenset({"readings"}))
    at = (audit.reading_on(readings[0].id), readings[0].pts)
    mark = citing(audit, mark_id, name, found.value, found.uncertainty, at)
    audit.case.append("pool-confirmed", {"pool": record, "mark": mark.to_json()})
    return Change(frozenset({"marks", "sheet", "readings"}), mark_id)
