"""Passages found among many cases, as a document; and where the recordings of those shown lie."""

from collections.abc import Iterable, Iterator
from concurrent.futures import Executor
from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from reviewer.actions.offered import PASSAGES_SHOWN
from reviewer.actions.shelffilms import Whereabouts, whereabouts
from reviewer.actions.shelfkeeping import Kept, Progress, with_current_shelf
from reviewer.actions.wanting import refuse_senseless_page
from reviewer.shelf import Shelf
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Found, Hit, Moment, Subject, Wanted


@dataclass(frozen=True, slots=True)
class ShelfAnswer:
    """What a search of a folder came to.

    Attributes:
        folder: where it was searched.
        found: the passages.
        kept: what keeping the index current came to.
        locked: cases that are not searched, since consent was withdrawn.
        problems: cases that cannot be read, and words that nothing goes by.
        recordings: where those of the passages lie, by case and fingerprint, where that was asked.
    """

    folder: Path
    found: Found
    kept: Kept
    locked: int
    problems: tuple[Problem, ...]
    recordings: "dict[tuple[str, str], Whereabouts]"


def search_shelf(
    folder: Path,
    wanted: Wanted,
    *,
    limit: int = PASSAGES_SHOWN,
    skip: int = 0,
    recordings: bool = True,
    progress: Progress = lambda done, all_: True,
    workers: Executor | None = None,
) -> ShelfAnswer:
    """Search the cases of a folder, its index brought up to date first.

    ``recordings``: whether to look where the recordings of the passages shown lie. ``workers``: processes
    that read cases where many are to be read. An AuditError for a folder
    that is not there and for a part of the results that cannot be shown.
    """
    refuse_senseless_page(limit, skip)

    def searched(shelf: Shelf, kept: Kept) -> ShelfAnswer:
        found = shelf.search(wanted, limit, skip)
        problems = [*shelf.problems(), *([] if found.total else _nobodys_words(wanted, shelf.subjects()))]
        problems += [] if kept.cases else [Problem("no-cases", str(folder), *_NO_CASES)]
        problems += [] if kept.on_disk else [Problem("shelf-unkept", str(folder), *_UNKEPT)]
        lie = whereabouts(shelf, folder, found.hits) if recordings else {}
        return ShelfAnswer(folder, found, kept, shelf.locked(), tuple(problems), lie)

    return with_current_shelf(folder, searched, progress, workers)


_UNKEPT = (
    message("The index of these cases cannot be kept here, so all of them are read at each search."),
    message("See that you may write into this folder and that the disk has room."),
)
_NO_CASES = (
    message("No case lies in this folder or below it."),
    message("Name the folder your cases are in; their files end in .case."),
)
_NOBODYS = message("Nothing in these cases goes by this word.")
_STAR = message("A star stands for anything: cast*.")


def found_document(answer: ShelfAnswer, limit: int, skip: int) -> dict[str, Any]:
    """``reviewer.found/1``: the passages of an answer, and what must be known of the cases."""
    return {
        "format": "reviewer.found/1",
        "folder": str(answer.folder),
        "total": answer.found.total,
        "cases": answer.found.cases,
        "skip": skip,
        "limit": limit,
        "passages": [_passage(answer, hit) for hit in answer.found.hits],
        "locked": answer.locked,
        "index": {
            "cases": answer.kept.cases,
            "read": answer.kept.read,
            "removed": answer.kept.removed,
            "complete": answer.kept.whole,
            "kept": answer.kept.on_disk,
        },
        "problems": [problem.to_json() for problem in answer.problems],
    }


def _passage(answer: ShelfAnswer, hit: Hit) -> dict[str, Any]:
    case, one, about = hit.case, hit.passage, hit.passage.subject
    on = {"code": about.on_code, "name": about.on_name} if about.on_code else None
    return {
        "case": case.path,
        "day": case.day,
        "rule_book": case.edition,
        "division": case.division,
        "mark": one.mark,
        "kind": about.kind,
        "code": about.code,
        "name": about.name,
        "element": on,
        "clauses": list(about.clauses),
        "amount": None if one.amount is None else str(one.amount),
        "angle": _angle(hit),
        "verdict": one.verdict,
        "settled": one.settled,
        "judge": one.judge,
        "seen": one.seen,
        "recording": _recording(answer, hit),
        **_moments(hit),
    }


def _angle(hit: Hit) -> dict[str, Any] | None:
    one = hit.passage
    if one.angle is None:
        return None
    return {
        "deg": str(one.angle),
        "u_deg": None if one.uncertainty is None else str(one.uncertainty),
        "by": one.by,
    }


def _recording(answer: ShelfAnswer, hit: Hit) -> dict[str, Any] | None:
    stretch = hit.passage.stretch
    if stretch is None:
        return None
    lies = answer.recordings.get((hit.case.path, stretch.recording))
    return {
        "sha256": stretch.recording,
        "number": stretch.number,
        "time_base": stretch.time_base,
        "state": None if lies is None else lies.state,
    }


def _moments(hit: Hit) -> dict[str, Any]:
    stretch = hit.passage.stretch
    if stretch is None:
        return {"frame": None, "first": None, "last": None}
    return {
        "frame": _moment(stretch.deciding),
        "first": _moment(stretch.first),
        "last": _moment(stretch.last),
    }


def _moment(one: Moment) -> dict[str, int]:
    return {"frame": one.frame, "pts": one.pts}


def _nobodys_words(wanted: Wanted, subjects: Iterable[Subject]) -> Iterator[Problem]:
    """Codes and clauses that were asked for and that nothing goes by, with what may be meant."""
    about = tuple(subjects)
    elements = {one.code for one in about if one.kind == "element"} | {one.on_code for one in about}
    faults = {one.code for one in about if one.kind == "fault"}
    clauses = {clause for one in about for clause in one.clauses}
    names = {one.name.casefold() for one in about} | {one.on_name.casefold() for one in about}
    for field, typed, known in (
        ("element", wanted.element, elements),
        ("fault", wanted.fault, faults),
        ("clause", wanted.clause, clauses),
    ):
        word = typed.casefold()
        if word and "*" not in word and word not in {one.casefold() for one in known} | names:
            near = get_close_matches(word, sorted(filter(None, known)), 1)
            remedy = message("Is {near} meant?", near=near[0]) if near else _STAR
            yield Problem("nobodys-word", f"{field} {typed}", _NOBODYS, remedy)
