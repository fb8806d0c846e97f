"""The report of a meet: its figures with charts, as page, paper and document."""

import json
from collections.abc import Mapping, Sequence
from concurrent.futures import Executor
from hashlib import sha256
from pathlib import Path
from typing import Any

from reviewer import drawing, reports
from reviewer.actions.audit import AuditError
from reviewer.actions.finding import GoingOn, always
from reviewer.actions.meetfigures import meet_figures
from reviewer.actions.meetrescoring import MANY_ROUTINES
from reviewer.actions.outgoing import put_whole, refuse_no_folder
from reviewer.actions.reporting import FINDING, PAGE, PAPER
from reviewer.terms.canonical import readable
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import ENGLISH, Saying, saying

_Document = dict[str, Any]
FORMAT = "reviewer.meet-report/1"
_NARROW, _BROAD, _MOST_CLASSES = 50, 100, 30
"""Thousandths that a class of differences is wide, and from how many classes on it is the broader."""
_PER_INCH = 72


def write_meet_report(
    folder: Path,
    out: Path,
    *,
    language: str = ENGLISH,
    workers: Executor | None = None,
    many: int = MANY_ROUTINES,
    going_on: GoingOn = always,
) -> _Document:
    """Write ``report.html``, ``report.pdf`` and ``report.json`` of a meet; their fingerprints by name.

    The same cases give the same bytes with one version and one language. ``going_on`` is asked before
    anything is written; where it says no, an AuditError ends it.
    """
    refuse_no_folder(out)
    files = from_document(meet_report_document(folder, language, workers, many))
    if not going_on():
        said = message("The report was stopped, and nothing of it is written.")
        raise AuditError(Problem("stopped", str(folder), said, message("Write it again when there is time.")))
    out.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        put_whole(out / name, content)
    digests = {name: sha256(content).hexdigest() for name, content in files.items()}
    return {"format": "reviewer.meet-report-written/1", "files": digests}


def meet_report_document(
    folder: Path, language: str = ENGLISH, workers: Executor | None = None, many: int = MANY_ROUTINES
) -> _Document:
    """``reviewer.meet-report/1`` as it is written: the figures in a language, with their charts."""
    say = saying(language)
    found = meet_figures(folder, workers, say.word, many)
    found |= {"language": say.language, "charts": _charts(found, say)}
    found |= {"typeset_by": reports.TYPESETTER, "drawn_by": drawing.drawn_by()}
    document: _Document = json.loads(readable(found))
    return document


def from_document(document: _Document) -> Mapping[str, bytes]:
    """The files of a report by name: functions of its document alone."""
    page = reports.meet_page(document)
    return {
        PAGE: reports.as_html(page, (), {}).encode(),
        PAPER: reports.as_paper(page, _on_paper(document), {}, {FINDING: readable(document)}),
        FINDING: readable(document),
    }


def _on_paper(document: _Document) -> _Document:
    """What setting a paper asks of a document besides its page."""
    return {
        "stills": [],
        "version": document["version"],
        "case": {"last_event_at": document["meet"]["last_event_at"]},
    }


def _charts(found: _Document, say: Saying) -> dict[str, Any]:
    """SVG and height in points, by name; none of what there is nothing of."""
    charts: dict[str, Any] = {}
    apart = list(_apart(found["routines"]))
    if apart:
        width = _class_width(apart)
        across, up = say("Posted less audited final score, points"), say("Routines")
        svg = drawing.counts_chart("differences", _counted(apart, width), width, across, up, say)
        charts["differences"] = {"svg": svg, "high": drawing.COUNTS_HEIGHT}
    figures = found["by_lot"] or {"clauses": [], "judges": []}
    clauses = [_span(one["clause"], one["possible"], 100) for one in figures["clauses"]]
    judges = [
        _span(say("Judge {judge}", judge=one["judge"]), one["audited"]["mean"], 1)
        for one in figures["judges"]
        if one["enough"]  # a picture says more than may be concluded of a few routines
    ]
    units = {"clauses": say("Routines in a hundred"), "judges": say("Points")}
    for name, spans in (("clauses", clauses), ("judges", judges)):
        known = [one for one in spans if one is not None]
        if known:
            svg = drawing.spans_chart(name, known, units[name], say)
            charts[name] = {"svg": svg, "high": round(drawing.spans_height(len(known)) * _PER_INCH)}
    return charts


def _apart(routines: Sequence[_Document]) -> "list[int]":
    """How far the posted final scores of the lot lie from the audited ones, in thousandths."""
    posted = ((one["final"]["posted"], one["final"]["audited"]) for one in routines if one["by_lot"])
    return [
        (Points.parse(said) - Points.parse(audited)).thousandths
        for said, audited in posted
        if said is not None
    ]


def _class_width(apart: Sequence[int]) -> int:
    return _NARROW if (max(apart) - min(apart)) < _NARROW * _MOST_CLASSES else _BROAD


def _counted(apart: Sequence[int], width: int) -> dict[int, int]:
    """How many lie in each class, by its middle, which is a multiple of the width."""
    counts: dict[int, int] = {}
    for one in apart:
        middle = (one + width // 2) // width * width
        counts[middle] = counts.get(middle, 0) + 1
    return counts


def _span(name: str, led: Mapping[str, Any], times: int) -> "drawing.Span | None":
    if led["value"] is None:
        return None
    ends = led["interval95"]
    interval = None if ends is None else (times * float(ends[0]), times * float(ends[1]))
    return drawing.Span(name, times * float(led["value"]), interval)
