"""A score sheet as the document others may rely on: ``reviewer.score/1``."""

from collections.abc import Callable, Sequence
from typing import Any

from reviewer import scoring
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Translate, as_written
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import (
    CastDecided,
    Decision,
    Line,
    Note,
    NotEarned,
    NotTaken,
    Range,
    Room,
    ScoreSheet,
)

Frames = Callable[[tuple[str, ...]], list[dict[str, Any]]]
"""Mark ids to the frames they are shown at, each a document."""


_MOST_MARKS = 250
"""Of how many marks it is looked for what a posted score would take; the search grows with their cube."""


def no_frames(_: tuple[str, ...]) -> list[dict[str, Any]]:
    """Marks without a recording have no frames."""
    return []


def sheet_document(
    sheet: ScoreSheet,
    marks: Sequence[Mark],
    book: RuleBook,
    frames: Frames,
    posted: Points | None,
    judges: Sequence[str] = (),
    translate: Translate = as_written,
    tell: Translate | None = None,
) -> dict[str, Any]:
    """``reviewer.score/1`` of a sheet, with what its marks and book leave open taken apart.

    Its sentences are told by ``translate``, its problems by ``tell`` where that is another one.
    """
    identity, digest = sheet.rule_book
    apart = scoring.room(marks, book, judges)
    return {
        "format": "reviewer.score/1",
        "rule_book": {"id": identity, "sha256": digest},
        "interpretations": [_chosen(clause, book, translate) for clause in sheet.chosen],
        "start_value": str(sheet.start_value),
        "value_parts": sheet.value_parts,
        "judges": [{"judge": one.judge, "score": str(one.score)} for one in sheet.judges],
        "panel_average": str(sheet.panel_average),
        "spread": _spread(sheet),
        "final_score": str(sheet.final_score),
        "full_speed": _full_speed(sheet),
        "reachable": _reachable(sheet, translate),
        "reachable_apart": _apart(apart, translate),
        "posted": None if posted is None else posted_document(sheet, posted),
        "towards_posted": _towards(sheet, marks, book, apart, posted, judges),
        "lines": [line_document(line, frames, translate) for line in sheet.lines],
        "not_earned": [not_earned_document(one, translate) for one in sheet.not_earned],
        "not_taken": [not_taken_document(one, translate) for one in sheet.not_taken],
        "notes": [note_document(one, frames, translate) for one in sheet.notes],
        "casts": [_cast(one) for one in sheet.casts],
        "rests_on": rests_on(sheet, book),
        "problems": [problem.to_json(tell or translate) for problem in sheet.problems],
    }


def rests_on(sheet: ScoreSheet, book: RuleBook) -> dict[str, Any]:
    """How much of what was taken rests on clauses that nobody read from a published rule book."""
    losses = [line for line in sheet.lines if line.points.thousandths < 0]
    unread = [line for line in losses if not book.clause(line.clause).source.published]
    return {
        "deductions": len(losses),
        "unread_deductions": len(unread),
        "points": str(-_total(losses)),
        "unread_points": str(-_total(unread)),
    }


def _total(lines: Sequence[Line]) -> Points:
    return Points(sum(line.points.thousandths for line in lines))


def _cast(one: CastDecided) -> dict[str, Any]:
    """How a cast was counted, and whether an eye or the protractor says so."""
    said = {"angle": None if one.angle is None else one.angle.to_json()}
    return {"mark": one.mark, "counted_as": one.state, "left_open": list(one.left_open)} | said


def _chosen(clause: str, book: RuleBook, translate: Translate) -> dict[str, Any]:
    one = book.interpretation(clause)
    says = one.other.words(translate)
    return {"clause": clause, "question": one.question, "reading": "other", "says": says}


def _spread(sheet: ScoreSheet) -> dict[str, Any] | None:
    found = sheet.spread
    if found is None:
        return None
    sizes = {"spread": str(found.spread), "allowed": str(found.allowed)}
    return sizes | {"within": found.within, "clause": found.clause}


def _full_speed(sheet: ScoreSheet) -> dict[str, Any] | None:
    seen = sheet.full_speed
    if seen is None:
        return None
    return {
        "final_score": str(seen.final_score),
        "reachable": _range(seen.reachable),
        "judges": [{"judge": one.judge, "score": str(one.score)} for one in seen.judges],
        "left_out": list(seen.left_out),
    }


def _reachable(sheet: ScoreSheet, translate: Translate) -> dict[str, Any]:
    decisions = [_decision(one, translate) for one in sheet.reachable.decisions]
    return _range(sheet.reachable) | {"decisions": decisions}


def _apart(apart: Room, translate: Translate) -> dict[str, Any]:
    """What spans the reachable scores: facts alone, judgement alone, and readings of rules left open."""
    other = None
    if apart.readings is not None:
        other = _range(apart.readings) | {"open": [_decision(one, translate) for one in apart.open_readings]}
    return {
        "facts": _range(apart.facts),
        "judgement": _range(apart.judgement),
        "with_other_readings": other,
    }


def _range(found: Range) -> dict[str, Any]:
    return {
        "low": str(found.low),
        "high": str(found.high),
        "scores": [str(score) for score in found.scores],
        "exact": found.exact,
    }


def _decision(one: Decision, translate: Translate) -> dict[str, Any]:
    clause = {} if one.clause is None else {"clause": one.clause}
    return {"marks": list(one.marks), "why": one.why.words(translate), "kind": one.kind} | clause


def posted_document(sheet: ScoreSheet, posted: Points) -> dict[str, Any]:
    """A posted score held against all that was marked, and against what could be seen at full speed.

    ``full_speed`` is there where marks say that only slow motion shows them. ``reachable`` is null where it
    cannot be told, as it cannot while marks are left out that cannot be scored.
    """
    seen = sheet.full_speed
    own = {"score": str(posted)} | _held(sheet, sheet.reachable, posted)
    return own if seen is None else own | {"full_speed": _held(sheet, seen.reachable, posted)}


def _held(sheet: ScoreSheet, reachable: Range, posted: Points) -> dict[str, Any]:
    reached, nearest = scoring.held_against(sheet, reachable, posted)
    return {"reachable": reached, "nearest": str(nearest)}


def _towards(
    sheet: ScoreSheet,
    marks: Sequence[Mark],
    book: RuleBook,
    apart: Room,
    posted: Points | None,
    judges: Sequence[str],
) -> dict[str, Any] | None:
    """How far a posted score lies away, and what the nearest that is reachable would take."""
    if posted is None:
        return None
    _, nearest = scoring.held_against(sheet, sheet.reachable, posted)
    told = not sheet.problems and len(marks) <= _MOST_MARKS
    way = scoring.way_to(nearest, marks, book, judges) if told else None
    otherwise = None
    if apart.readings is not None:
        otherwise = _held(sheet, apart.readings, posted)
    return {
        "away": str(Points(abs((posted - nearest).thousandths))),
        "takes": None if way is None else [*_casts(way), *_amounts(way)],
        "with_other_readings": otherwise,
    }


def _casts(way: scoring.Way) -> list[dict[str, str]]:
    return [{"mark": name, "cast": state} for name, state in way.casts]


def _amounts(way: scoring.Way) -> list[dict[str, str]]:
    return [{"mark": name, "amount": str(points)} for name, points in way.amounts]


def line_document(line: Line, frames: Frames, translate: Translate = as_written) -> dict[str, Any]:
    """One line of the ledger."""
    return {
        "clause": line.clause,
        "stage": line.stage,
        "judge": line.judge,
        "points": str(line.points),
        "marks": list(line.marks),
        "frames": frames(line.marks) or None,
        "why": line.why.words(translate),
        "source": line.source,
    }


def not_earned_document(one: NotEarned, translate: Translate = as_written) -> dict[str, Any]:
    """Credit withheld."""
    return {
        "clause": one.clause,
        "marks": list(one.marks),
        "reason": one.reason,
        "why": one.why.words(translate),
    }


def not_taken_document(one: NotTaken, translate: Translate = as_written) -> dict[str, Any]:
    """A fault that costs nothing, or less than marked."""
    return {
        "clause": one.clause,
        "judge": one.judge,
        "marks": list(one.marks),
        "why": one.why.words(translate),
    }


def note_document(one: Note, frames: Frames, translate: Translate = as_written) -> dict[str, Any]:
    """A remark that moves no points."""
    said = {"code": one.code, "clause": one.clause, "marks": list(one.marks)}
    return said | {"frames": frames(one.marks) or None, "why": one.why.words(translate)}
