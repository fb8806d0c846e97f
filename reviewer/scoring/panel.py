"""From the judges' scores to the final score, in whole thousandths by the book's named rounding."""

from collections.abc import Iterator, Sequence

from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.rulebook import Panel, RuleBook
from reviewer.terms.sheets import Line


def average(scores: Sequence[Points], panel: Panel) -> Points:
    """The mean of all scores, or from so many judges on without the highest and the lowest."""
    kept = sorted(scores)
    if panel.drop_from and len(kept) >= panel.drop_from and len(kept) > 2:
        kept = kept[1:-1]
    total, count = sum(score.thousandths for score in kept), len(kept)
    if panel.rounding == "truncate":
        return Points(total // count)
    return Points((2 * total + count) // (2 * count))


def neutral_lines(facts: Sequence[Mark], value_parts: int, book: RuleBook) -> tuple[Line, ...]:
    """What the chief judge takes from the average."""
    return tuple(_neutral(facts, value_parts, book))


def courtesy_line(score: Points, book: RuleBook) -> tuple[Line, ...]:
    """What lifts a final score to the least there is."""
    least = book.courtesy
    if least is None or score >= least.points:
        return ()
    why = message("No final score is lower than {least}.", least=least.points)
    source = str(book.clause(least.clause).source)
    return (Line(least.clause, "courtesy", None, least.points - score, (), why, source),)


def _neutral(facts: Sequence[Mark], value_parts: int, book: RuleBook) -> Iterator[Line]:
    for fact in book.facts:
        saying = tuple(mark.id for mark in facts if mark.code == fact.code)
        if saying and fact.points:
            why = message("{name}.", name=fact.name)
            source = str(book.clause(fact.clause).source)
            yield Line(fact.clause, "neutral", None, -fact.points, saying, why, source)
    few = book.few_parts
    if few is not None and value_parts < few.number:
        why = message("{earned} value parts, fewer than {least}.", earned=value_parts, least=few.number)
        yield Line(few.clause, "neutral", None, -few.points, (), why, str(book.clause(few.clause).source))
