"""What the marks say to an inquiry, and what a finding on a start value makes of the final score."""

from dataclasses import replace
from itertools import product

from reviewer import scoring
from reviewer.actions.audit import Audit
from reviewer.actions.panelheld import as_panel
from reviewer.scoring import Proposal
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import Inquiry
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import Message

STARTS = ("start value", "difficulty")
"""Words of rule books for inquiries about the start value alone, and about what stands in its place."""
WHOLE = "score"
"""The word for the whole score; what else is asked about, the marks by themselves do not answer."""
_MOST_UNSEEN = 5
"""Casts nobody could see beyond which start values are not tried one by one."""


def of_start(inquiry: Inquiry) -> bool:
    """Whether it is about the start value alone."""
    return inquiry.about.lower() in STARTS


def of_whole(inquiry: Inquiry) -> bool:
    """Whether it is about the whole score."""
    return inquiry.about.lower() == WHOLE


def posted_of(audit: Audit, inquiry: Inquiry) -> Points | None:
    """What was posted of that which it is about."""
    return audit.posted_start if of_start(inquiry) else audit.posted


def proposal(audit: Audit, inquiry: Inquiry) -> Proposal:
    """What the marks say to it, as far as it was audited."""
    marks, book, sheet = audit.counting_marks, audit.book, audit.sheet
    if not _is_audited(audit, inquiry):
        return scoring.beyond_audit(inquiry.marks)
    left_out = _left_out(audit, inquiry)
    if left_out:
        return scoring.unscored(left_out)
    if of_start(inquiry):
        credit = scoring.credit_marks(marks, book)
        added = book.execution_from is not None
        return scoring.propose_start(sheet, _starts(audit), audit.posted_start, credit, added=added)
    if of_whole(inquiry):
        room, posted = scoring.room(marks, book, audit.judges_of(marks)), audit.posted
        return scoring.propose(sheet, room, posted, as_panel(audit, posted))
    return scoring.unanswered(inquiry.about, inquiry.marks)


def final_with(audit: Audit, start: Points) -> tuple[Points | None, Message]:
    """What the final score becomes with a start value, and the sentence that says on what it rests."""
    posted, posted_start = audit.posted, audit.posted_start
    if posted is not None and posted_start is not None:
        return scoring.final_as_posted(start, posted_start, posted, audit.book)
    return scoring.final_as_marked(start, None if audit.state.limited_to else audit.sheet)


def _is_audited(audit: Audit, inquiry: Inquiry) -> bool:
    """Whether the parts of the score that the answer rests on are audited."""
    parts = audit.state.limited_to
    return not parts or (of_start(inquiry) and "start-value" in parts) or _asks_beside(inquiry)


def _left_out(audit: Audit, inquiry: Inquiry) -> tuple[str, ...]:
    """The marks that the answer would rest on and that cannot be scored as they stand."""
    if _asks_beside(inquiry):
        return ()
    unsound = {one.where for one in audit.sheet.problems}
    faults = not of_start(inquiry)
    return tuple(
        one.id for one in audit.counting_marks if one.id in unsound and (faults or one.kind != "fault")
    )


def _asks_beside(inquiry: Inquiry) -> bool:
    """Whether it asks about what the marks do not answer anyway."""
    return not (of_start(inquiry) or of_whole(inquiry))


def _starts(audit: Audit) -> frozenset[Points]:
    """The start values that the casts nobody could see leave possible."""
    marks = audit.counting_marks
    unseen = [one.mark for one in audit.sheet.casts if len(one.left_open) > 1][:_MOST_UNSEEN]
    found = {audit.sheet.start_value}
    for verdicts in product(("met", "within tolerance", "not met"), repeat=len(unseen)):
        said = dict(zip(unseen, verdicts, strict=True))
        tried = tuple(_seen(mark, said.get(mark.id)) for mark in marks)
        found.add(scoring.score(tried, audit.book).start_value)
    return frozenset(found)


def _seen(mark: Mark, verdict: str | None) -> Mark:
    return mark if verdict is None else replace(mark, angle=CastAngle("eye", verdict=verdict))
