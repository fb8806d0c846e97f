"""Whether an inquiry may be filed: who asks, about what, in what time, on what evidence."""

from dataclasses import replace

from reviewer.terms.messages import Message, listed, message, spoken
from reviewer.terms.provisions import InquiryRule
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.rulecases import InquiryAsked
from reviewer.terms.vocabulary import RECORDINGS


def refused_by(asked: InquiryAsked, book: RuleBook) -> tuple[tuple[str, Message], ...]:
    """Each clause that refuses an inquiry, with the reason; empty for one that may be filed.

    What the book says nothing of is not refused.
    """
    asked = replace(
        asked,
        asked_by=in_its_words("asked-by", asked.asked_by, book),
        about=in_its_words("about", asked.about, book),
    )
    found = ((rule.clause, _refusal(rule, asked)) for rule in book.all(InquiryRule))
    return tuple((clause, why) for clause, why in found if why is not None)


def in_its_words(settles: str, said: str, book: RuleBook) -> str:
    """What somebody typed, as the edition writes it: capitals and spaces around do not count."""
    known = (word for rule in book.all(InquiryRule) if rule.settles == settles for word in rule.allowed)
    plain = said.strip()
    return next((word for word in known if word.casefold() == plain.casefold()), plain)


def _refusal(rule: InquiryRule, asked: InquiryAsked) -> Message | None:
    allowed = listed(rule.allowed)
    match rule.settles:
        case "asked-by" if asked.asked_by not in rule.allowed:
            return message("{who} may not ask; {allowed} may.", who=spoken(asked.asked_by), allowed=allowed)
        case "about" if asked.about not in rule.allowed:
            return message(
                "{what} cannot be asked about; {allowed} can.", what=spoken(asked.about), allowed=allowed
            )
        case "recording" if asked.recording and RECORDINGS[0] not in rule.allowed:
            return message("A recording {allowed}.", allowed=", ".join(rule.allowed))
        case "result" if asked.result is not None and asked.result not in rule.allowed:
            return message("The score never {result} on an inquiry.", result=asked.result)
        case "within" if rule.within is not None:
            if asked.after.exceeds(rule.within, edge_included=rule.edge_included):
                return message("{after} is more than {within}.", after=asked.after, within=rule.within)
    return None
