"""The one gate in front of everything that leaves a case: does consent cover this use, today?"""

from reviewer.terms.consents import INQUIRY, NOT_RECORDED, USES, WITHDRAWN, Consent
from reviewer.terms.messages import listed, message, noted, spoken
from reviewer.terms.problems import Problem

_ENDED = noted("Consent to the use of this recording ended with {until}.")
_ENDS = noted("Consent to the use of this recording ends with {until}. Nobody says which day it is.")


def refusal(
    consent: Consent, use: str, today: str | None, *, where: str, answers: bool = False
) -> Problem | None:
    """Why something may not leave a case for a use on a day; None where it may.

    ``today`` is such as ``2026-11-26``; a consent with an end covers nothing where nobody says which day it
    is. Where nobody has recorded what was said, a report or letter (what ``answers``) may still be written
    for the inquiry, and says so; nothing else may be made of the case.
    """
    if use not in USES:
        return Problem(
            "unknown-use",
            where,
            message("{use} is no use.", use=repr(use)),
            message("Name one of: {uses}.", uses=", ".join(USES)),
        )
    locked = withdrawn(consent, where)
    if locked is not None:
        return locked
    if consent.word == NOT_RECORDED and use == INQUIRY and answers:
        return None
    if not consent.covers(use):
        return _not_covered(consent, use, where)
    if consent.until is not None and (today is None or consent.is_over(today)):
        said = message(_ENDS if today is None else _ENDED, until=consent.until)
        remedy = message(
            "Ask for it anew, and record it with `reviewer consent`, before anything leaves this case."
        )
        return Problem("consent-ended", where, said, remedy)
    return None


def withdrawn(consent: Consent, where: str) -> Problem | None:
    """Why nothing at all may be made of a case whose consent was withdrawn, whatever the use; else None."""
    if consent.word != WITHDRAWN:
        return None
    return Problem(
        "consent-withdrawn",
        where,
        message("Consent to the use of this recording was withdrawn, so nothing of it may leave the case."),
        message("Speak to whoever withdrew it; delete the case and the recording where that was asked."),
    )


def _not_covered(consent: Consent, use: str, where: str) -> Problem:
    covered = [one for one in USES if consent.covers(one)]
    known = (
        message("Consent covers {uses}", uses=listed(covered))
        if covered
        else message("Consent is “{word}”", word=spoken(consent.word))
    )
    said = message("{known}; it does not cover the use {use}.", known=known, use=spoken(use))
    remedy = message(
        "Ask for it, then record it: `reviewer consent {where} --for {use}`.", where=where, use=use
    )
    return Problem("no-consent", where, said, remedy)
