"""From the judges' scores to the final score, in whole thousandths by the book's named rounding."""

from collections.abc import Iterator, Sequence

from reviewer.scoring.routine import Credit
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message, noted
from reviewer.terms.provisions import Few, ReferenceBand, Spread
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Line, Spreading

AVERAGE = "average"
_FEW = {
    "credited": noted("Elements credited: {number}, fewer than {least}."),
    "performed": noted("Elements performed: {number}, fewer than {least}."),
}


def counting_scores(scores: Sequence[Points], book: RuleBook) -> tuple[Points, ...]:
    """The judges' scores that are averaged, rising: all, or the middle ones by the size of the panel."""
    ranked, out = tuple(sorted(scores)), left_out(len(scores), book)
    return ranked[out : len(ranked) - out]


def left_out(judges: int, book: RuleBook) -> int:
    """How many scores of so many judges are left out at either end."""
    size, drop_from = book.panel_sizes.get(judges), book.panel.drop_from
    if size is not None:
        return 0 if size.middle is None else (judges - size.middle) // 2
    return 1 if drop_from is not None and judges >= drop_from else 0


def size_is_known(judges: int, book: RuleBook) -> bool:
    """Whether the book says how a panel of so many judges is averaged."""
    return judges in book.panel_sizes or not book.panel_sizes


def average(scores: Sequence[Points], book: RuleBook) -> Points:
    """The mean of the counting scores."""
    kept = counting_scores(scores, book)
    return mean(sum(score.thousandths for score in kept), len(kept), book.panel.rounding)


def mean(total: int, count: int, rounding: str) -> Points:
    """A total in thousandths over a count, by a rounding of `reviewer.terms.provisions.ROUNDINGS`."""
    if rounding == "truncate":
        return Points(total // count)
    return Points((2 * total + count) // (2 * count))


def with_reference(panel: Points, reference: Points, book: RuleBook) -> Points:
    """The panel's average, or its mean with a reference score that lies further off than the band allows."""
    bands = [one for one in book.all(ReferenceBand) if reference >= one.reference]
    if not bands:
        return panel
    band = max(bands, key=lambda one: one.reference)
    if abs((panel - reference).thousandths) <= band.allowed.thousandths:
        return panel
    return mean(panel.thousandths + reference.thousandths, 2, book.panel.rounding)


def spreading(scores: Sequence[Points], book: RuleBook) -> Spreading | None:
    """How far the counting scores lie apart, by the band of their average; None for one judge or no band."""
    kept, found = counting_scores(scores, book), average(scores, book)
    bands = [one for one in book.all(Spread) if found >= one.average]
    if len(kept) < 2 or not bands:
        return None
    band = max(bands, key=lambda one: one.average)
    return Spreading(kept[-1] - kept[0], band.allowed, band.clause)


def with_start(mean_score: Points, start: Points, book: RuleBook) -> Points:
    """The average, with the start value added where judges' scores do not begin from it."""
    return mean_score if book.execution_from is None else start + mean_score


def neutral_lines(facts: Sequence[Mark], credit: Credit, book: RuleBook) -> tuple[Line, ...]:
    """What the chief judge takes from the average."""
    return (*fact_lines(facts, book), *few_lines(credit, book))


def courtesy_line(mean_score: Points, neutral: Points, book: RuleBook) -> tuple[Line, ...]:
    """What lifts a score to the least there is, held against the final score or the average."""
    least = book.courtesy
    points = lift(mean_score.thousandths, neutral.thousandths, book)
    if least is None or not points:
        return ()
    why = message("No score is lower than {least}.", least=least.points)
    return (Line(least.clause, "courtesy", None, Points(points), (), why, book.source(least.clause)),)


def lift(mean_score: int, neutral: int, book: RuleBook) -> int:
    """Thousandths that lift a score to the least there is; nought where it is as high."""
    least = book.courtesy
    if least is None:
        return 0
    held = mean_score if least.held_against == AVERAGE else mean_score + neutral
    return max(least.points.thousandths - held, 0)


def holds(fact: Mark, book: RuleBook) -> bool:
    """Whether a fact that was marked holds: a measured length must exceed the book's."""
    limit = book.fact_of[fact.code].more_than
    return limit is None or fact.length is None or fact.length.exceeds(limit, edge_included=True)


def fact_lines(facts: Sequence[Mark], book: RuleBook) -> Iterator[Line]:
    """What the facts cost that hold."""
    for fact in book.facts if facts else ():
        saying = tuple(mark.id for mark in facts if mark.code == fact.code and holds(mark, book))
        if saying and fact.points:
            why = message("{name}.", name=fact.name)
            yield Line(fact.clause, "neutral", None, -fact.points, saying, why, book.source(fact.clause))


def few_of(credit: Credit, book: RuleBook) -> Few | None:
    """The band of few elements that fits: of several the smallest."""
    fitting = [few for few in book.all(Few) if credit.number(few.counting) < few.number]
    return min(fitting, key=lambda one: one.number, default=None)


def few_lines(credit: Credit, book: RuleBook) -> Iterator[Line]:
    """What a routine of few elements costs."""
    few = few_of(credit, book)
    if few is not None:
        number = credit.number(few.counting)
        why = message(_FEW[few.counting], number=number, least=few.number)
        yield Line(few.clause, "neutral", None, -few.points, (), why, book.source(few.clause))
