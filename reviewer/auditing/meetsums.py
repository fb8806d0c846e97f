"""What the audited routines say of a meet, in figures.

Routines stand in the order of their names and judges in that of their letters before anything is worked out,
so that the order in which they are handed in changes nothing.
"""

import re
from collections.abc import Iterator, Sequence

import numpy as np

from reviewer.auditing.errorcurves import LEAST_JUDGES, Scores, error_curve
from reviewer.auditing.meets import (
    AUDITED,
    FEW_FOR_A_PERSON,
    FEW_THAT_DIFFER,
    FULL_SPEED,
    MEDIAN,
    AuditedRoutine,
    ClauseFigures,
    Difference,
    ErrorCurve,
    JudgeFigures,
    MeetFigures,
    Stratum,
    Whole,
)
from reviewer.auditing.meetsample import Sample
from reviewer.auditing.strata import Real
from reviewer.terms.messages import Message, message


def meet_figures(routines: Sequence[AuditedRoutine], whole: Whole) -> MeetFigures:
    """All figures; ValueError where a name stands twice, or more were audited of a stratum than it has."""
    rows = sorted(routines, key=lambda one: (_by_number(one.name), one.name))
    strata = _strata(rows, whole)
    sample = Sample.of(rows, strata, whole.by_lot)
    posted = sample.yes(lambda one: one.posted_start is not None)
    told = sample.yes(lambda one: one.reachable is not None)
    final = sample.difference(lambda one: (one.posted_final, one.audited_final))
    start = sample.difference(lambda one: (one.posted_start, one.audited_start))
    return MeetFigures(
        of=sum(whole.strata.values()),
        audited=len(rows),
        by_lot=whole.by_lot,
        strata=strata,
        wrong_start=sample.share(posted, sample.yes(lambda one: one.posted_start != one.audited_start)),
        unreachable=sample.share(told, sample.yes(lambda one: one.reachable is False)),
        final=final,
        start=start,
        final_at_full_speed=sample.difference(lambda one: (one.posted_final, one.final_at_full_speed)),
        clauses=tuple(_clauses(sample)),
        judges=tuple(_judges(sample)),
        curves=tuple(_curves(sample)),
        remarks=(*_remarks(strata, whole.by_lot), *_narrow(final, start)),
    )


def _by_number(name: str) -> str:
    """A name whose numbers sort by their size."""
    return re.sub("[0-9]+", lambda found: found[0].zfill(20), name)


def _strata(rows: Sequence[AuditedRoutine], whole: Whole) -> tuple[Stratum, ...]:
    """How many were audited of each; ValueError for what cannot be."""
    if len({one.name for one in rows}) < len(rows):
        raise ValueError("no routine is audited twice")
    audited = dict.fromkeys(sorted(whole.strata), 0)
    for one in rows:
        if one.stratum not in audited:
            raise ValueError(f"the meet has no stratum {one.stratum!r}")
        audited[one.stratum] += 1
    if any(count > whole.strata[name] for name, count in audited.items()):
        raise ValueError("no more routines of a stratum are audited than it has")
    return tuple(Stratum(name, whole.strata[name], count) for name, count in audited.items())


def _clauses(sample: Sample) -> Iterator[ClauseFigures]:
    every = np.ones(len(sample.rows), dtype=bool)
    for clause in sorted({clause for one in sample.rows for clause in one.misapplied}):
        possible = np.array([clause in one.misapplied for one in sample.rows], dtype=bool)
        certain = np.array([one.misapplied.get(clause, False) for one in sample.rows], dtype=bool)
        yield ClauseFigures(clause, sample.share(every, certain), sample.share(every, possible))


def _judges(sample: Sample) -> Iterator[JudgeFigures]:
    audited = sample.thousandths(lambda one: one.audited)
    at_full_speed = sample.thousandths(lambda one: one.at_full_speed)
    for letter, own in zip(sample.letters, sample.scores.T, strict=True):
        number = int(np.count_nonzero(~np.isnan(own)))
        enough = sample.by_lot and number >= FEW_FOR_A_PERSON
        yield JudgeFigures(
            judge=letter,
            number=number,
            audited=sample.away(own - audited),
            at_full_speed=sample.away(own - at_full_speed),
            enough=enough,
            says=_of_judge(letter, number, sample.by_lot),
        )


def _of_judge(letter: str, number: int, by_lot: bool) -> Message:
    if not by_lot:
        return message(
            "Judge {judge}: the routines were not drawn by lot, and nothing may be concluded about a person.",
            judge=letter,
        )
    if number < FEW_FOR_A_PERSON:
        return message(
            "Judge {judge} scored {number} of the audited routines. With fewer than {least} nothing may be "
            "concluded about a person.",
            judge=letter,
            number=number,
            least=FEW_FOR_A_PERSON,
        )
    return message(
        "Judge {judge} scored {number} of the audited routines. The figures describe these scores at this "
        "meet, no closer than within their intervals.",
        judge=letter,
        number=number,
    )


def _curves(sample: Sample) -> Iterator[ErrorCurve]:
    controls = {
        AUDITED: sample.thousandths(lambda one: one.audited),
        FULL_SPEED: sample.thousandths(lambda one: one.at_full_speed),
        MEDIAN: _medians(sample.scores),
    }
    for against, control in controls.items():
        scores = Scores(sample.names, sample.letters, control, sample.scores - control[:, None])
        yield error_curve(against, scores, sample.by_lot)


def _medians(scores: Real) -> Real:
    """Of each panel of three judges at least; NaN of others."""
    medians = np.full(len(scores), np.nan)
    enough = np.count_nonzero(~np.isnan(scores), axis=1) >= LEAST_JUDGES
    if enough.any():
        medians[enough] = np.nanmedian(scores[enough], axis=1)
    return medians


def _remarks(strata: Sequence[Stratum], by_lot: bool) -> Iterator[Message]:
    if not by_lot:
        yield message(
            "The audited routines were not drawn by lot: all figures describe them alone, and say nothing of "
            "the rest of the meet."
        )
        return
    for one in strata:
        if one.of and not one.audited:
            yield message("{stratum}: no routine was audited, and no figure speaks of it.", stratum=one.name)
        elif one.audited == 1 < one.of:
            yield message(
                "{stratum}: one routine alone was audited. How far others lie apart is taken for these too.",
                stratum=one.name,
            )


def _narrow(final: Difference, start: Difference) -> Iterator[Message]:
    """Of intervals that rest on a few routines that differ among many that do not."""
    if _few(final):
        yield message(
            "Few final scores differ ({number}): the intervals of their mean and spread are too narrow.",
            number=len(final.mean.routines),
        )
    if _few(start):
        yield message(
            "Few start values differ ({number}): the intervals of their mean and spread are too narrow.",
            number=len(start.mean.routines),
        )


def _few(one: Difference) -> bool:
    low, high = one.mean.figure.interval or (0.0, 0.0)
    differ = len(one.mean.routines)
    return low < high and differ < FEW_THAT_DIFFER and 2 * differ < one.mean.figure.number
