"""Compared sheets as the document others may rely on: ``reviewer.comparison/1``."""

from collections import Counter
from collections.abc import Sequence
from typing import Any

from reviewer import auditing
from reviewer.actions.sheetdocument import line_document, no_frames, posted_document
from reviewer.actions.sheets import Sheet
from reviewer.auditing import AGREED, DIFFERS, ONLY, Comparison, Moves, Thing

CAUTIONS = (
    "Whether a posted score can be reached is said on these marks: other marks may reach it.",
    "The panel saw the routine once, at full speed, from one seat: what only slow motion shows stands apart.",
    "What a thing costs is what the final score moves by when it alone is taken as the other sheet has it; "
    "several together may move more or less.",
)


def comparison_document(
    sheets: Sequence[Sheet], found: Sequence[Comparison], within_ms: int
) -> dict[str, Any]:
    """The first of the sheets against each of the others.

    ``unscored`` names each mark that the edition of its sheet cannot take: it counts nothing there, so that
    these sheets are never the same, and the rest is compared without it.
    """
    unscored = [one for number, sheet in enumerate(sheets, start=1) for one in _unscored(number, sheet)]
    warnings = [problem.to_json() for one in sheets for problem in one.doubts()]
    return {
        "format": "reviewer.comparison/1",
        "same": not unscored and all(one.same for one in found),
        "unscored": unscored,
        "within_s": auditing.seconds(within_ms),
        "sides": [_side(number, one) for number, one in enumerate(sheets, start=1)],
        "comparisons": [_comparison((1, number), one) for number, one in enumerate(found, start=2)],
        "cautions": list(CAUTIONS),
    } | ({"warnings": warnings} if warnings else {})


def _unscored(number: int, one: Sheet) -> list[dict[str, Any]]:
    """The marks of a sheet that its edition cannot take."""
    head = {"side": number, "file": one.name, "rule_book": one.book.id}
    return [
        head | {"mark": problem.where, "message": str(problem.message), "remedy": str(problem.remedy)}
        for problem in one.sheet.problems
    ]


def _side(number: int, one: Sheet) -> dict[str, Any]:
    sheet = one.sheet
    return {
        "side": number,
        "file": one.name,
        "rule_book": {"id": one.book.id, "sha256": one.book.sha256},
        "judges": [{"judge": own.judge, "score": str(own.score)} for own in sheet.judges],
        "start_value": str(sheet.start_value),
        "value_parts": sheet.value_parts,
        "panel_average": str(sheet.panel_average),
        "final_score": str(sheet.final_score),
        "full_speed": str(sheet.full_speed.final_score if sheet.full_speed else sheet.final_score),
        "reachable": {
            "low": str(sheet.reachable.low),
            "high": str(sheet.reachable.high),
            "exact": sheet.reachable.exact,
        },
        "posted": _posted(one),
        "panel": {when: dict(scores) for when, scores in one.panel.items()},
    }


def _posted(one: Sheet) -> dict[str, Any] | None:
    """The panel's score, and how far it lies from this sheet's and from what could be seen at full speed."""
    if one.posted is None:
        return None
    sheet = one.sheet
    seen = sheet.full_speed.final_score if sheet.full_speed else sheet.final_score
    return posted_document(sheet, one.posted) | {
        "apart": str(one.posted - sheet.final_score),
        "full_speed_apart": str(one.posted - seen),
    }


def _comparison(numbers: tuple[int, int], found: Comparison) -> dict[str, Any]:
    first, second = found.sheets
    return {
        "sides": list(numbers),
        "same": found.same,
        "same_edition": first.rule_book == second.rule_book and first.chosen == second.chosen,
        "matched_by": "time and code" if _timed(found) else "order and code",
        "start_value": {
            "same": first.start_value == second.start_value,
            "apart": str(second.start_value - first.start_value),
            "lines": [
                {"side": numbers[place], **line_document(line, no_frames)}
                for place, line in found.start_lines
            ],
        },
        "final_score": {
            "apart": str(second.final_score - first.final_score),
            "one_by_one": {"first": str(found.one_by_one(0)), "second": str(found.one_by_one(1))},
        },
        "counts": _counts(found),
        "things": [_thing(one, numbers) for one in found.things],
    }


def _timed(found: Comparison) -> bool:
    """Whether any mark of both has a time that could be held against the other's."""
    matched = (one.matched for one in found.things)
    return any(one.first and one.first.span and one.second and one.second.span for one in matched)


def _counts(found: Comparison) -> dict[str, int]:
    states = Counter(one.state for one in found.things)
    alone = [one for one in found.things if one.state == ONLY]
    return {
        "agreed": states[AGREED],
        "differs": states[DIFFERS],
        "only_first": sum(one.matched.first is not None for one in alone),
        "only_second": sum(one.matched.second is not None for one in alone),
        "only_slowed": sum(one.only_slowed for one in found.things),
    }


def _thing(one: Thing, numbers: tuple[int, int]) -> dict[str, Any]:
    matched = one.matched
    alone = None if one.state != ONLY else numbers[0 if matched.first else 1]
    return {
        "kind": matched.kind,
        "state": one.state,
        "side": alone,
        "element": matched.place,
        "first": matched.first.mark.to_json() if matched.first else None,
        "second": matched.second.mark.to_json() if matched.second else None,
        "differs": [{"what": own.what, "first": own.first, "second": own.second} for own in one.differs],
        "points": {"first": str(one.points[0]), "second": str(one.points[1])},
        "moves": {"first": _moves(one.moves[0]), "second": _moves(one.moves[1])},
        "only_slowed": one.only_slowed,
    }


def _moves(moved: Moves | None) -> dict[str, str] | None:
    if moved is None:
        return None
    return {"start_value": str(moved.start_value), "final_score": str(moved.final_score)}
