"""Filing an inquiry, answering it and taking it back; every change of its state is an event."""

from collections.abc import Iterator, Sequence

from reviewer import scoring
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.notes import kept_words
from reviewer.actions.weighing import of_start, proposal
from reviewer.scoring import Proposal
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import ASKERS, CHANGES, Answer, Inquiry
from reviewer.terms.measures import Measure
from reviewer.terms.messages import Message, message, noted, spoken
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import InquiryRule

_NOUGHT = Points(0)
_NO_START = noted("The edition {edition} gives no start value of {score}.")
_NO_FINAL = noted("The edition {edition} gives no score of {score}.")
_STEPS = noted("Give one from {least} to {most}; its amounts are whole steps of {step}.")
_AVERAGED_STEPS = noted(
    "Give one from {least} to {most}; its amounts are whole steps of {step}, and judges are averaged."
)

_CHANGED = frozenset({"inquiries"})


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
    problems = (*_no_asker(audit, asked_by), *_unknown_marks(audit, marks), *_unknown_clauses(audit, clauses))
    if problems:
        raise AuditError(problems)
    digest = kept_words(audit, words, "words")
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
    _refuse_score(audit, inquiry, found, score)
    rests, ought = tuple(marks) or proposed.marks, score
    if found == CHANGES and score is None:
        ought = _ought(proposed, name)
    problems = (*_unknown_marks(audit, rests), *_unknown_readings(audit, readings))
    if problems:
        raise AuditError(problems)
    digest = kept_words(audit, words, "words")
    cited = tuple(readings) or _readings_of(audit, rests)
    answer = Answer(name, found, ought if found == CHANGES else None, rests, cited, digest)
    audit.case.append("inquiry-answered", {"answer": answer.to_json()})
    return Change(_CHANGED)


def the_inquiry(audit: Audit, name: str) -> Inquiry:
    """The inquiry of an id; refused where there is none."""
    found = next((one for one in audit.state.inquiries if one.id == name), None)
    if found is None:
        raise AuditError(
            Problem(
                "unknown-inquiry",
                name,
                message("The case has no such inquiry."),
                message("`reviewer inquiry show` lists them."),
            )
        )
    return found


def _refuse_score(audit: Audit, inquiry: Inquiry, found: str, score: Points | None) -> None:
    """A score is said where it changes, and is one that the edition can give."""
    name, book, start = inquiry.id, audit.book, of_start(inquiry)
    if score is None:
        return
    if found != CHANGES:
        said = message("A finding of {found} gives no other score.", found=repr(found))
        raise AuditError(
            Problem("score-without-change", name, said, message("Leave the score out, or find a change."))
        )
    known, most = (
        (scoring.is_start(score, book), scoring.most_start(book))
        if start
        else (scoring.is_final(score, book), scoring.most_final(book))
    )
    if not known:
        step = Points(scoring.step(book))
        said = message(_NO_START if start else _NO_FINAL, edition=book.id, score=score)
        remedy = message(_STEPS if start else _AVERAGED_STEPS, least=_NOUGHT, most=most, step=step)
        raise AuditError(Problem("no-such-score", name, said, remedy))


def _ought(proposed: Proposal, name: str) -> Points:
    if proposed.score is None:
        said = message("A score that changes must be said; the marks give no other one.")
        raise AuditError(Problem("no-score", name, said, message("Give the score it changes to.")))
    return proposed.score


def _readings_of(audit: Audit, marks: Sequence[str]) -> tuple[str, ...]:
    """The readings that the marks of a finding cite."""
    cited = (mark.angle.reading for mark in audit.marks if mark.id in marks and mark.angle)
    return tuple(dict.fromkeys(one for one in cited if one is not None))


def _no_asker(audit: Audit, asked_by: str) -> Iterator[Problem]:
    """Who asks is told by a word of the trade or of the edition: the chain keeps no name of a person."""
    rules = (rule for rule in audit.book.all(InquiryRule) if rule.settles == "asked-by")
    known = sorted({*ASKERS, *(word for rule in rules for word in rule.allowed)})
    if asked_by.strip().casefold() not in {word.casefold() for word in known}:
        said = message("This does not say in what part somebody asks.")
        remedy = message("Use one of: {known}; names of people are not kept.", known=", ".join(known))
        yield Problem("no-asker", "asked by", said, remedy)


def _unknown_marks(audit: Audit, marks: Sequence[str]) -> tuple[Problem, ...]:
    return _unknown(
        "mark", marks, {mark.id for mark in audit.marks}, message("`reviewer marks list` shows them.")
    )


def _unknown_clauses(audit: Audit, clauses: Sequence[str]) -> tuple[Problem, ...]:
    return _unknown(
        "clause", clauses, {one.id for one in audit.book.clauses}, message("`reviewer rules show` has them.")
    )


def _unknown_readings(audit: Audit, readings: Sequence[str]) -> tuple[Problem, ...]:
    state = audit.state
    known = {one["id"] for one in (*state.readings, *state.tracks, *state.lengths, *state.pools)}
    return _unknown("reading", readings, known, message("`reviewer marks list` shows them."))


def _unknown(what: str, names: Sequence[str], known: set[str], remedy: Message) -> tuple[Problem, ...]:
    said = message("The case has no {what} of that id.", what=spoken(what))
    return tuple(Problem(f"unknown-{what}", name, said, remedy) for name in names if name not in known)


def _next_id(audit: Audit) -> str:
    """An id no inquiry ever had."""
    filed = [event.payload["inquiry"]["id"] for event in audit.case.events if event.kind == "inquiry-filed"]
    numbers = [int(name[1:]) for name in filed if name[:1] == "q" and name[1:].isdigit()]
    return f"q{max(numbers, default=0) + 1}"
