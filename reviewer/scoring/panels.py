"""A score from several judges' sheets, where their scores are all that is known."""

from collections.abc import Mapping
from dataclasses import dataclass

from reviewer.scoring.panel import average, counting_scores, lift, spreading, with_reference, with_start
from reviewer.terms.exact import Points
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import Spreading


@dataclass(frozen=True, slots=True)
class PanelScore:
    """What a panel's scores come to.

    Attributes:
        counting: the scores that are averaged, rising.
        average: of these, or its mean with a reference score that lies too far off.
        spread: how far apart they lie, or None with one judge or no band.
        final_score: after neutral deductions and the courtesy score.
    """

    counting: tuple[Points, ...]
    average: Points
    spread: Spreading | None
    final_score: Points


def panel_score(
    scores: Mapping[str, Points],
    book: RuleBook,
    *,
    neutral: Points,
    difficulty: Points,
    reference: Points | None = None,
) -> PanelScore:
    """The score of a panel by the book's rule; ``neutral`` is taken from the average and not negative."""
    own = tuple(scores.values())
    mean_score = average(own, book)
    if reference is not None:
        mean_score = with_reference(mean_score, reference, book)
    reached = with_start(mean_score, difficulty, book)
    raised = Points(lift(reached.thousandths, -neutral.thousandths, book))
    final = reached - neutral + raised
    return PanelScore(counting_scores(own, book), mean_score, spreading(own, book), final)
