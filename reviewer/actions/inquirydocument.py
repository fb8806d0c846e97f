"""Every inquiry of a case with its answer, as a finding holds it; whether a report may change a result."""

from typing import Any

from reviewer import scoring
from reviewer.actions.answered import changed_since
from reviewer.actions.audit import Audit
from reviewer.actions.weighing import final_with, of_start, of_whole, posted_of, proposal
from reviewer.scoring import Proposal
from reviewer.terms.inquiries import INFORMATIONAL, MAY_CHANGE, UNDECIDED, Answer, Inquiry
from reviewer.terms.measures import Measure
from reviewer.terms.messages import Message, Translate, as_written
from reviewer.terms.provisions import InquiryRule
from reviewer.terms.rulecases import InquiryAsked

_AT_ONCE = Measure.time("0 s")
_ELEMENTS = frozenset({"element"})
_ALL = frozenset({"element", "fault", "fact"})


def inquiries_document(audit: Audit, translate: Translate = as_written) -> dict[str, Any]:
    """Every inquiry with its answer, and whether the report is informational: part of a finding."""
    return {
        "effect": effect(audit),
        "asked": [_document(audit, one, translate) for one in audit.state.inquiries],
    }


def refusals(audit: Audit, inquiry: Inquiry) -> tuple[tuple[str, Message], ...]:
    """Each clause of the edition that does not admit it, with the reason."""
    answer = audit.state.answers.get(inquiry.id)
    asked = InquiryAsked(
        asked_by=inquiry.asked_by,
        about=inquiry.about,
        after=inquiry.after or _AT_ONCE,
        recording=bool(audit.state.recordings),
        result=_result(audit, inquiry, answer),
    )
    return scoring.refused_by(asked, audit.book)


def effect(audit: Audit) -> str:
    """Whether a report may change the result: only where an inquiry was filed that the edition admits."""
    admitted = any(not refusals(audit, one) and _timed(audit, one) for one in audit.state.inquiries)
    return MAY_CHANGE if admitted else INFORMATIONAL


def _timed(audit: Audit, inquiry: Inquiry) -> bool:
    """Whether it was said to be in time, where the edition sets a time."""
    return inquiry.after is not None or not any(rule.within for rule in audit.book.all(InquiryRule))


def _document(audit: Audit, inquiry: Inquiry, translate: Translate) -> dict[str, Any]:
    proposed, refused = proposal(audit, inquiry), refusals(audit, inquiry)
    answer, posted = audit.state.answers.get(inquiry.id), posted_of(audit, inquiry)
    return {
        **inquiry.to_json(),
        "of": "start value" if of_start(inquiry) else "score",
        "posted": None if posted is None else str(posted),
        **_worded(audit, inquiry.words),
        "admitted": not refused,
        "in_time": "as said" if _timed(audit, inquiry) else "not said",
        "refused_by": [{"clause": clause, "why": why.words(translate)} for clause, why in refused],
        "proposed": _proposed(proposed, translate) | _final(audit, inquiry, proposed, translate),
        "answer": None if answer is None else _answered(audit, inquiry, answer, translate),
    }


def _proposed(proposed: Proposal, translate: Translate) -> dict[str, Any]:
    return {
        "finding": proposed.finding,
        "score": None if proposed.score is None else str(proposed.score),
        "by": None if proposed.by is None else str(proposed.by),
        "why": [one.words(translate) for one in proposed.why],
        "marks": list(proposed.marks),
    }


def _answered(audit: Audit, inquiry: Inquiry, answer: Answer, translate: Translate) -> dict[str, Any]:
    posted = posted_of(audit, inquiry)
    said = answer.to_json() | _worded(audit, answer.words)
    if answer.score is not None and posted is not None:
        said |= {"by": str(answer.score - posted)}
    since = changed_since(audit, answer, _resting_on(inquiry))
    return said | {"changed_since": since} | _final(audit, inquiry, answer, translate)


def _resting_on(inquiry: Inquiry) -> frozenset[str]:
    """The kinds of marks on which the answer to an inquiry rests, beside those it cites."""
    if of_start(inquiry):
        return _ELEMENTS
    return _ALL if of_whole(inquiry) else frozenset()


def _final(
    audit: Audit, inquiry: Inquiry, found: Answer | Proposal, translate: Translate
) -> dict[str, dict[str, str | None]]:
    """The final score that a finding on a start value leads to, where it finds one."""
    start = found.score if found.score is not None else posted_of(audit, inquiry)
    if not of_start(inquiry) or found.finding == UNDECIDED or start is None:
        return {}
    final, said = final_with(audit, start)
    return {"final": {"score": None if final is None else str(final), "said": said.words(translate)}}


def _worded(audit: Audit, digest: str | None) -> dict[str, Any]:
    """The words behind a fingerprint; None where there are none, or where they were left out or erased."""
    words = None if digest is None else audit.case.text(digest)
    return {"words": words} | ({"words_left_out": True} if digest is not None and words is None else {})


def _result(audit: Audit, inquiry: Inquiry, answer: Answer | None) -> str | None:
    """What the answer does to the score; None while there is none."""
    if answer is None:
        return None
    posted = posted_of(audit, inquiry)
    if answer.score is None or posted is None or answer.score == posted:
        return "stays"
    return "rises" if answer.score > posted else "falls"
