"""How quickly the figures of a large meet are worked out: twenty thousand audited routines, six judges.

All figures there are: shares, differences, clauses, judges against both views, the error model against all
three control scores; and the document of them. Handed in are routines as they come from their cases.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from random import Random
from statistics import median

from reviewer.actions.meetfiguresdocument import meet_figures_document
from reviewer.auditing.meets import AuditedRoutine, Whole
from reviewer.auditing.meetsums import meet_figures
from reviewer.terms.exact import Points
from tests.auditing.simulated_meets import Division, audited, meet_and_lot
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure, timed

ROUTINES, ROUNDS, CLAUSES = 20_000, 5, 20
STRATA = {"four": 0.3, "three": 0.5, "two": 0.2}


def figures(setting: Setting, _: str) -> Iterator[Figure]:
    """From audited routines in memory to the document: as one sample, and in three strata."""
    number = ROUTINES // 20 if setting.quick else ROUTINES
    sizes = {name: round(share * number) for name, share in STRATA.items()}
    design = {name: Division(2 * size, size) for name, size in sizes.items()}
    rows = [_fuller(one) for one in audited(*meet_and_lot(design, 1))]
    yield _figure("in three strata", rows, Whole({name: 2 * size for name, size in sizes.items()}, True))
    yield _figure("as one sample", [replace(one, stratum="") for one in rows], Whole({"": 2 * number}, True))


def _fuller(one: AuditedRoutine) -> AuditedRoutine:
    """With two judges more, and a clause now and then."""
    chance = Random(one.name)
    more = {letter: one.audited + Points(50 * chance.randint(-4, 6)) for letter in "EF"}
    clauses = {f"clause.{chance.randrange(CLAUSES)}": chance.random() < 0.5} if chance.random() < 0.3 else {}
    return replace(one, judges={**one.judges, **more}, misapplied=clauses)


def _figure(how: str, rows: Sequence[AuditedRoutine], whole: Whole) -> Figure:
    whole_work = [timed(lambda: meet_figures_document(meet_figures(rows, whole))) for _ in range(ROUNDS)]
    alone = [timed(lambda: meet_figures(rows, whole)) for _ in range(ROUNDS)]
    judges = len({letter for one in rows for letter in one.judges})
    beside = {"without the document, s": median(alone), "judges": judges, "clauses": CLAUSES}
    what = f"figures of {len(rows)} audited routines {how}"
    return Figure(what, median(whole_work), "s", ROUNDS, min(whole_work), max(whole_work), None, 5, beside)
