"""What the audited routines say of a meet: the cases scored again, held against what was posted.

The lot that was drawn first speaks for the meet, as far as it was drawn on with the same seed: whoever draws
until they please proves nothing. What was chosen otherwise is described and speaks for itself alone.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from concurrent.futures import Executor
from dataclasses import replace
from pathlib import Path
from typing import Any

from reviewer import __version__
from reviewer.actions.agreement import agreement_document
from reviewer.actions.books import load_book
from reviewer.actions.finding import cautions
from reviewer.actions.meetfiguresdocument import meet_figures_document
from reviewer.actions.meetholding import AUDITED, auditors_case
from reviewer.actions.meetrescoring import MANY_ROUTINES, rescored
from reviewer.actions.meetsheets import Sheet, sheets_of, stratum_of, unsettled
from reviewer.actions.samplesheets import Source, sheets_sample
from reviewer.auditing.meets import AuditedRoutine, Whole
from reviewer.auditing.meetsums import meet_figures as figures_of
from reviewer.exchange.meets import read_meet
from reviewer.terms.meets import BY_LOT, Choice, Meet, Start
from reviewer.terms.messages import Translate, as_written, message, noted
from reviewer.terms.problems import DocumentError, Problem

_Document = dict[str, Any]
SEVERAL_PANELS = noted(
    "The meet had several panels: 2/A is judge A of panel 2, since the same letter may be somebody else on "
    "another panel."
)


def meet_figures(
    folder: Path,
    workers: Executor | None = None,
    tell: Translate = as_written,
    many: int = MANY_ROUTINES,
) -> _Document:
    """``reviewer.meet-report/1``: figures of the lot that speaks for the meet, and of all else audited.

    ``workers`` score the routines again where there are ``many``; what they are handed are marks and figures
    alone. Sentences are in the language of ``tell``.
    """
    meet, problems = read_meet(folder), list[Problem]()
    book, spoken = load_book(meet.rule_book), speaking(meet)
    sheets = {one.job.name: one for one in sheets_of(folder, meet, spoken, problems)}
    panels = _panels(meet)
    found = {
        one.name: _on_its_panel(one, panels)
        for one in rescored((one.job for one in sheets.values()), workers, many)
    }
    drawn = dict.fromkeys(spoken.starts if spoken else ())  # in order, and quickly looked up
    return {
        "format": "reviewer.meet-report/1",
        "version": __version__,
        "rule_book": {"id": book.id, "sha256": book.sha256, "title": book.title},
        "meet": _meet(meet, sheets.values()),
        "lot": _lot(spoken, meet, found, tell),
        "by_lot": _figures([found[name] for name in drawn if name in found], _whole(meet, spoken), tell),
        "others": _figures(
            [replace(one, stratum="") for name, one in found.items() if name not in drawn],
            Whole({"": len(meet.starts) - len(drawn)}, by_lot=False),
            tell,
        ),
        "routines": [
            _routine(one, found[one.name], sheets[one.name], drawn) for one in _in_order(meet, found)
        ],
        "agreement": _agreement(folder, meet, problems),
        "problems": [one.to_json(tell) for one in problems],
        "unsettled": [
            {"start": start, "auditor": auditor}
            for start, auditor in unsettled(folder, meet, sheets.values())
        ],
        "cautions": [*cautions(), *((tell(SEVERAL_PANELS),) if panels else ())],
    }


def speaking(meet: Meet) -> Choice | None:
    """The choice that speaks for the meet: the first lot, with what was drawn on by the same seed."""
    lots = [one for one in meet.choices if one.how == BY_LOT]
    same = [one for one in lots if (one.seed, one.by) == (lots[0].seed, lots[0].by)]
    return max(same, key=lambda one: len(one.starts), default=None)


def _panels(meet: Meet) -> Mapping[str, str]:
    """The panel of each routine, where the meet had several: judges of the same letter are others there."""
    panels = {one.name: one.groups.get("panel", "") for one in meet.starts}
    return panels if len({one for one in panels.values() if one}) > 1 else {}


def _on_its_panel(one: AuditedRoutine, panels: Mapping[str, str]) -> AuditedRoutine:
    """Its judges as panel and letter, such as ``2/A``."""
    panel = panels.get(one.name)
    judges = {f"{panel}/{judge}": score for judge, score in one.judges.items()}
    return replace(one, judges=judges) if panel else one


def _whole(meet: Meet, spoken: Choice | None) -> Whole:
    strata: dict[str, int] = {}
    for one in meet.starts:
        stratum = stratum_of(one, spoken)
        strata[stratum] = strata.get(stratum, 0) + 1
    return Whole(strata, by_lot=True)


def _in_order(meet: Meet, found: Mapping[str, AuditedRoutine]) -> Iterator[Start]:
    return (one for one in meet.starts if one.name in found)


def _meet(meet: Meet, sheets: Collection[Sheet]) -> _Document:
    return {
        "title": meet.title,
        "routines": len(meet.starts),
        "audited": len(sheets),
        "last_event_at": max((one.at for one in sheets), default=None),
        "choices": [one.to_json() | {"starts": len(one.starts)} for one in meet.choices],
        "auditors": sorted({one.auditor for one in meet.queue}),
    }


def _lot(
    spoken: Choice | None, meet: Meet, found: Mapping[str, AuditedRoutine], tell: Translate
) -> _Document | None:
    """The lot that speaks for the meet, and what is to be minded of it."""
    if spoken is None:
        return None
    waiting = [name for name in spoken.starts if name not in found]
    others = sum(one.how == BY_LOT and (one.seed, one.by) != (spoken.seed, spoken.by) for one in meet.choices)
    remarks = []
    if waiting:
        remarks.append(
            message(
                "Drawn and not audited yet: {count}. The figures hold only if these are no other than the "
                "rest.",
                count=len(waiting),
            )
        )
    if others:
        remarks.append(
            message(
                "Lots were drawn again with another seed, {count} times: these speak for nothing, since "
                "whoever draws until they please proves nothing.",
                count=others,
            )
        )
    return {
        "seed": spoken.seed,
        "by": spoken.by,
        "number": len(spoken.starts),
        "waiting": waiting,
        "remarks": [one.words(tell) for one in remarks],
    }


def _figures(routines: Sequence[AuditedRoutine], whole: Whole, tell: Translate) -> _Document | None:
    """None where nothing of it was audited."""
    return meet_figures_document(figures_of(routines, whole), tell) if routines else None


def _routine(start: Start, one: AuditedRoutine, sheet: Sheet, drawn: Collection[str]) -> _Document:
    return {
        "start": start.name,
        "athlete": start.athlete,
        "groups": dict(start.groups),
        "case": sheet.case,
        "by_lot": start.name in drawn,
        "start_value": {"posted": _text(one.posted_start), "audited": str(one.audited_start)},
        "final": {"posted": _text(one.posted_final), "audited": str(one.audited_final)},
        "final_at_full_speed": str(one.final_at_full_speed),
        "reachable": one.reachable,
        "judges": [{"judge": judge, "score": str(score)} for judge, score in sorted(one.judges.items())],
        "audited": str(one.audited),
        "at_full_speed": str(one.at_full_speed),
        "misapplied": [
            {"clause": clause, "certain": certain} for clause, certain in sorted(one.misapplied.items())
        ],
    }


def _text(points: object) -> str | None:
    return None if points is None else str(points)


def _agreement(folder: Path, meet: Meet, problems: list[Problem]) -> _Document | None:
    """How far auditors agree who worked blind on the same routines; None where no two did."""
    pairs: dict[str, list[Source]] = {}
    for one in meet.queue:
        path = auditors_case(folder, one.start, one.auditor)
        if one.home is not None and path.is_file():
            pairs.setdefault(one.start, []).append(Source(path, one.start, one.auditor))
    doubled = [source for some in pairs.values() if len(some) > 1 for source in some]
    if not doubled:
        return None
    try:
        return agreement_document(sheets_sample(doubled))
    except DocumentError as fault:
        problems += (replace(one, where=f"{AUDITED}: {one.where}") for one in fault.problems)
        return None
