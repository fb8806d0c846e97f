"""What one routine cost, for the coach: what comes back for certain, what may, what little holds the rest."""

import json
from collections.abc import Iterable, Iterator, Mapping, Sequence
from types import MappingProxyType
from typing import Any

from reviewer import __version__, casefile, rules, scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.differing import names_of
from reviewer.actions.finding import cautions
from reviewer.actions.settling import open_lines
from reviewer.terms.costs import Cost, Costs
from reviewer.terms.intervals import degrees_told
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.sheets import ScoreSheet
from reviewer.words import Saying

_Document = dict[str, Any]


def coach_frames(costs: Costs, audit: Audit, recording: str) -> tuple[int, ...]:
    """The frames a coach's page shows of one recording: those of faults and facts that cost something, and of
    elements that cost something of the start value."""
    marks = {name for cost in _every(costs) for name in cost.marks}
    return tuple(sorted({frame for frame, _ in audit.frames(tuple(marks), recording)}))


def costs_of(audit: Audit) -> Costs:
    """What the routine cost; an AuditError where the case has no whole score."""
    _refuse_part(audit)
    return scoring.costs(audit.counting_marks, audit.sheet, audit.book)


def coach_document(
    audit: Audit, found: Costs, stills: Sequence[_Document], say: Saying, clips: Mapping[str, str]
) -> _Document:
    """``reviewer.coach/1``: no judge is named, not even by a letter.

    ``found``: what the routine cost; ``clips``: files by id of mark.
    """
    sheet = audit.sheet
    return {
        "format": "reviewer.coach/1",
        "version": __version__,
        "language": say.language,
        "case": _case(audit),
        "rule_book": {"id": audit.book.id, "title": audit.book.title, "season": audit.book.season},
        "start_value": str(sheet.start_value),
        "final_score": str(sheet.final_score),
        "certain": [_cost(audit, one, say, clips) for one in found.certain],
        "not_credited": [_not_credited(audit, sheet, at, say) for at in range(len(sheet.not_earned))],
        "possible": [_cost(audit, one, say, clips) | _by_judges(one, found) for one in found.possible],
        "neutral": [_cost(audit, one, say, clips) for one in found.neutral],
        "value_parts": {"needed": found.needed, "earned": found.earned, "spare": found.spare},
        "one_value_part": _one_part(audit),
        "holding": [{"points": str(one.points)} | _where(audit, (one.element,))[0] for one in found.holding],
        "casts": list(casts(audit)),
        "stills": [_plain(one) for one in stills],
        "problems": [one.to_json(say.word) for one in sheet.problems],
        "cautions": list(cautions()),
    }


def casts(audit: Audit) -> Iterator[_Document]:
    """Each cast that decides: how it was counted, and its angle where one was measured or said."""
    for one in audit.sheet.casts:
        angle = one.angle
        told = {} if angle is None or angle.value is None else _angle(angle)
        yield (
            {"counted": one.state, "limit_deg": str(audit.book.cast.at_least)}
            | told
            | _where(audit, (one.mark,))[0]
        )


def _angle(angle: CastAngle) -> _Document:
    found = {"value_deg": str(angle.value), "by": angle.by}
    if angle.uncertainty is None:
        return found
    found |= {"u_deg": str(angle.uncertainty)}
    return found | {"told": degrees_told(found)}


def _every(found: Costs) -> Iterable[Cost]:
    return (*found.certain, *found.possible, *found.neutral)


def _refuse_part(audit: Audit) -> None:
    where = audit.path.name
    if audit.state.limited_to:
        said = message("Only a part of this score is audited, so nobody can say what the routine cost.")
        raise AuditError(
            Problem("part-only", where, said, message("Audit all of it: `reviewer start` without --only."))
        )
    if open_lines(audit):
        said = message("Lines of this settlement are still open, so there is no score yet.")
        raise AuditError(Problem("open-lines", where, said, message("Settle them with `reviewer settle`.")))


def _case(audit: Audit) -> _Document:
    last = next(one for one in reversed(audit.case.events) if one.kind not in casefile.LEFT)
    found = {"athlete_code": audit.athlete_code, "consent": audit.consent}
    return found | {"head": last.hash, "last_event_at": last.at}


def _cost(audit: Audit, cost: Cost, say: Saying, clips: Mapping[str, str]) -> _Document:
    clause = audit.book.clause(cost.clause)
    sentences = " ".join(
        one[:1].upper() + one[1:] for one in rules.sentences(audit.book, say.word)[cost.clause]
    )
    return {
        "points": str(cost.most),
        "why": cost.why.words(say.word),
        "clause": cost.clause,
        "title": clause.title,
        "says": sentences,
        "marks": _where(audit, cost.marks, clips),
    }


def _by_judges(cost: Cost, found: Costs) -> _Document:
    """What those judges took who took it, and how many they are; who, nobody is told."""
    return {"least": str(cost.least), "most": str(cost.most), "taken_by": cost.judges, "judges": found.judges}


def _not_credited(audit: Audit, sheet: ScoreSheet, at: int, say: Saying) -> _Document:
    one = sheet.not_earned[at]
    return {"why": one.why.words(say.word), "clause": one.clause, "marks": _where(audit, one.marks)}


def _one_part(audit: Audit) -> str | None:
    """What one missing value part costs."""
    cost = scoring.value_part_cost(audit.book)
    return None if cost is None else str(cost)


def _where(
    audit: Audit, names: Iterable[str], clips: Mapping[str, str] = MappingProxyType({})
) -> list[_Document]:
    """Marks as a coach knows them: the element's name, where it is seen, and its clip where there is one."""
    marks = {mark.id: mark for mark in audit.marks}
    found = []
    for name in names:
        if name in marks:
            clip = {"clip": clips[name]} if name in clips else {}
            found.append(_place(audit, marks[name], marks) | clip)
    return list({json.dumps(one): one for one in found}.values())


def _place(audit: Audit, mark: Mark, marks: dict[str, Mark]) -> _Document:
    element = marks.get(mark.element, mark) if mark.element is not None else mark
    name = names_of(audit.book).get(element.code, element.code)
    told: _Document = {"element": name if element.kind == "element" else None}
    for one in audit.shown((mark.id,)):
        told |= {"frame": one.frame, "pts": one.pts, "recording": one.number}
        told |= {"seconds": audit.time(one.frame, one.recording).seconds()}
    return told


def _plain(still: _Document) -> _Document:
    """A still without what is not a coach's business."""
    kept = ("id", "recording", "frame", "pts", "seconds", "size", "measured", "overlay", "jpeg_sha256")
    return {key: still[key] for key in kept if key in still}
