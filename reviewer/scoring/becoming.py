"""What an inquiry about the start value comes to: the final score, and the marks behind the start value."""

from collections.abc import Sequence

from reviewer.scoring.engine import sorted_sound
from reviewer.scoring.outcomes import outcomes
from reviewer.scoring.reaching import favoured
from reviewer.scoring.starting import meets
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, message
from reviewer.terms.provisions import Required
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet

Becomes = tuple[Points | None, Message]
"""A final score, or None where it cannot be told, and the sentence that says so."""


def final_as_posted(start: Points, posted_start: Points, posted: Points, book: RuleBook) -> Becomes:
    """The final score with another start value; execution and neutral deductions stay as the panel had them.

    At the least score there is nobody can tell from a final score what the panel took, so None.
    """
    final = posted + (start - posted_start)
    if start == posted_start:
        return posted, message("The posted final score of {final} stays.", final=posted)
    if book.courtesy is not None and min(posted, final) <= book.courtesy.points:
        least = book.courtesy.points
        return None, message(
            "What the final score becomes rests on what the panel took: no score is lower than {least}.",
            least=least,
        )
    return final, message(
        "The final score becomes {final}: execution and neutral deductions stay as posted.", final=final
    )


def final_as_marked(start: Points, sheet: ScoreSheet | None) -> Becomes:
    """The final score of a start value where none was posted; no ``sheet`` where a part is not audited."""
    if sheet is None:
        return None, message(
            "What the final score becomes rests on execution and neutral deductions: "
            "these were neither posted nor audited."
        )
    if start != sheet.start_value:
        return None, message(
            "What the final score becomes rests on the marks: they give another start value, {ours}.",
            ours=sheet.start_value,
        )
    return sheet.final_score, message("On these marks the final score is {final}.", final=sheet.final_score)


def credit_marks(marks: Sequence[Mark], book: RuleBook) -> tuple[str, ...]:
    """Ids of the elements that earn credit, meet a requirement or are refused it, in routine order."""
    sound = sorted_sound(marks, book)
    credit = favoured(sound, outcomes(sound, book), book)
    found = {one.mark.id for one in credit.earning} | {one.mark.id for one, _ in credit.refused}
    rules = book.all(Required)
    found |= {one.mark.id for one in credit.counting if any(meets(rule, one) for rule in rules)}
    return tuple(one.mark.id for one in credit.placed if one.mark.id in found)
