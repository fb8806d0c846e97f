"""Filing an inquiry, what the sheet says to it, and answering it; every change of its state is an event."""

from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import product
from typing import Any

from reviewer import scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.scoring import Proposal
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import CHANGES, INFORMATIONAL, MAY_CHANGE, Answer, Inquiry
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.measures import Measure
from reviewer.terms.messages import Message, Translate, as_written
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import InquiryRule
from reviewer.terms.rulecases import InquiryAsked

STARTS = ("start value", "difficulty")
"""Words of rule books for inquiries about the start value alone, and about what stands in its place."""
WHOLE = "score"
"""The word for the whole score; what else is asked about, the marks by themselves do not answer."""
_MOST = Points(20_000)
"""The greatest score an answer may give; editions that add a difficulty stay below it (from memory)."""
_MOST_UNSEEN = 5
"""Casts nobody could see beyond which start values are not tried one by one."""
_CHANGED = frozenset({"inquiries"})
_AT_ONCE = Measure.time("0 s")


def file_inquiry(
    audit: Audit,
    *,
    asked_by: str,
    about: str,
    after: Measure | None = None,
    marks: Sequence[str] = (),
    clauses: Sequence[str] = (),
    words: str = "",
) -> str:
    """Keep what was asked; returns its id. What the edition does not admit is kept too, and said to be so."""
    problems = (*_unknown_marks(audit, marks), *_unknown_clauses(audit, clauses))
    if problems:
        raise AuditError(problems)
    digest = audit.case.keep_text(words) if words else None
    name, book = _next_id(audit), audit.book
    who, what = scoring.in_its_words("asked-by", asked_by, book), scoring.in_its_words("about", about, book)
    inquiry = Inquiry(name, who, what, after, tuple(marks), tuple(clauses), digest)
    audit.case.append("inquiry-filed", {"inquiry": inquiry.to_json()})
    return name


def withdraw_inquiry(audit: Audit, name: str) -> Change:
    """Take an inquiry back."""
    audit.case.append("inquiry-withdrawn", {"id": the_inquiry(audit, name).id})
    return Change(_CHANGED)


def answer_inquiry(
    audit: Audit,
    name: str,
    finding: str | None = None,
    *,
    score: Points | None = None,
    marks: Sequence[str] = (),
    readings: Sequence[str] = (),
    words: str = "",
) -> Change:
    """Answer an inquiry: as the marks have it, or as the judge finds otherwise."""
    inquiry = the_inquiry(audit, name)
    proposed = proposal(audit, inquiry)
    found = finding or proposed.finding
    _refuse_score(found, score, name)
    rests, ought = tuple(marks) or proposed.marks, score
    if found == CHANGES and score is None:
        ought = _ought(proposed, name)
    problems = (*_unknown_marks(audit, rests), *_unknown_readings(audit, readings))
    if problems:
        raise AuditError(problems)
    digest = audit.case.keep_text(words) if words else None
    cited = tuple(readings) or _readings_of(audit, rests)
    answer = Answer(name, found, ought if found == CHANGES else None, rests, cited, digest)
    audit.case.append("inquiry-answered", {"answer": answer.to_json()})
    return Change(_CHANGED)


def proposal(audit: Audit, inquiry: Inquiry) -> Proposal:
    """What the marks say to it."""
    marks, book, sheet = audit.counting_marks, audit.book, audit.sheet
    if _of_start(inquiry):
        return scoring.propose_start(sheet, _starts(audit), audit.posted_start)
    if inquiry.about.lower() == WHOLE:
        return scoring.propose(sheet, scoring.room(marks, book), audit.posted)
    return scoring.unanswered(inquiry.about, inquiry.marks)


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


def inquiries_document(audit: Audit, translate: Translate = as_written) -> dict[str, Any]:
    """Every inquiry with its answer, and whether the report is informational: part of a finding."""
    return {
        "effect": effect(audit),
        "asked": [_document(audit, one, translate) for one in audit.state.inquiries],
    }


def texts_in(found: Any) -> Iterator[str]:
    """The free texts of such a document, which the chain holds the fingerprints of."""
    for one in found.get("asked", ()) if isinstance(found, dict) else ():
        for words in (one.get("words"), (one.get("answer") or {}).get("words")):
            if isinstance(words, str):
                yield words


def the_inquiry(audit: Audit, name: str) -> Inquiry:
    """The inquiry of an id; refused where there is none."""
    found = next((one for one in audit.state.inquiries if one.id == name), None)
    if found is None:
        raise AuditError(
            Problem(
                "unknown-inquiry",
                name,
                "The case has no such inquiry.",
                "`reviewer inquiry show` lists them.",
            )
        )
    return found


def _document(audit: Audit, inquiry: Inquiry, translate: Translate) -> dict[str, Any]:
    proposed, refused = proposal(audit, inquiry), refusals(audit, inquiry)
    answer = audit.state.answers.get(inquiry.id)
    return {
        **inquiry.to_json(),
        "of": "start value" if _of_start(inquiry) else "score",
        "words": _text(audit, inquiry.words),
        "admitted": not refused,
        "in_time": "as said" if _timed(audit, inquiry) else "not said",
        "refused_by": [{"clause": clause, "why": why.words(translate)} for clause, why in refused],
        "proposed": _proposed(proposed, translate),
        "answer": None if answer is None else _answered(audit, answer),
    }


def _proposed(proposed: Proposal, translate: Translate) -> dict[str, Any]:
    return {
        "finding": proposed.finding,
        "score": None if proposed.score is None else str(proposed.score),
        "by": None if proposed.by is None else str(proposed.by),
        "why": [one.words(translate) for one in proposed.why],
        "marks": list(proposed.marks),
    }


def _answered(audit: Audit, answer: Answer) -> dict[str, Any]:
    said = answer.to_json() | {"words": _text(audit, answer.words)}
    posted = _posted(audit, answer)
    if answer.score is not None and posted is not None:
        said |= {"by": str(answer.score - posted)}
    return said


def _posted(audit: Audit, answer: Answer) -> Points | None:
    """What was posted of that which the answer is about."""
    asked = next((one for one in audit.state.inquiries if one.id == answer.inquiry), None)
    return audit.posted_start if asked is not None and _of_start(asked) else audit.posted


def _of_start(inquiry: Inquiry) -> bool:
    """Whether it is about the start value alone."""
    return inquiry.about.lower() in STARTS


def _text(audit: Audit, digest: str | None) -> str | None:
    """The words behind a fingerprint; None where there are none, or they were erased."""
    return None if digest is None else audit.case.text(digest)


def _result(audit: Audit, inquiry: Inquiry, answer: Answer | None) -> str | None:
    """What the answer does to the score; None while there is none."""
    if answer is None:
        return None
    posted = _posted(audit, answer)
    if answer.score is None or posted is None or answer.score == posted:
        return "stays"
    return "rises" if answer.score > posted else "falls"


def _refuse_score(found: str, score: Points | None, name: str) -> None:
    """A score is said where it changes, and is one that there can be."""
    if score is None:
        return
    if found != CHANGES:
        said = f"A finding of {found!r} gives no other score."
        raise AuditError(
            Problem("score-without-change", name, said, "Leave the score out, or find a change.")
        )
    if not Points(0) <= score <= _MOST:
        said = f"There is no score of {score}."
        raise AuditError(Problem("no-such-score", name, said, f"Give one from 0 to {_MOST}."))


def _ought(proposed: Proposal, name: str) -> Points:
    if proposed.score is None:
        said = "A score that changes must be said; the marks give no other one."
        raise AuditError(Problem("no-score", name, said, "Give the score it changes to."))
    return proposed.score


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


def _readings_of(audit: Audit, marks: Sequence[str]) -> tuple[str, ...]:
    """The readings that the marks of a finding cite."""
    cited = (mark.angle.reading for mark in audit.marks if mark.id in marks and mark.angle)
    return tuple(dict.fromkeys(one for one in cited if one is not None))


def _unknown_marks(audit: Audit, marks: Sequence[str]) -> tuple[Problem, ...]:
    return _unknown("mark", marks, {mark.id for mark in audit.marks}, "`reviewer marks list` shows them.")


def _unknown_clauses(audit: Audit, clauses: Sequence[str]) -> tuple[Problem, ...]:
    return _unknown(
        "clause", clauses, {one.id for one in audit.book.clauses}, "`reviewer rules show` has them."
    )


def _unknown_readings(audit: Audit, readings: Sequence[str]) -> tuple[Problem, ...]:
    state = audit.state
    known = {one["id"] for one in (*state.readings, *state.tracks, *state.lengths, *state.pools)}
    return _unknown("reading", readings, known, "`reviewer marks list` shows them.")


def _unknown(what: str, names: Sequence[str], known: set[str], remedy: str) -> tuple[Problem, ...]:
    said = f"The case has no {what} of that id."
    return tuple(Problem(f"unknown-{what}", name, said, remedy) for name in names if name not in known)


def _next_id(audit: Audit) -> str:
    """An id no inquiry ever had."""
    filed = [event.payload["inquiry"]["id"] for event in audit.case.events if event.kind == "inquiry-filed"]
    numbers = [int(name[1:]) for name in filed if name[:1] == "q" and name[1:].isdigit()]
    return f"q{max(numbers, default=0) + 1}"
