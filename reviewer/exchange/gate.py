"""The one gate in front of everything that leaves a case: does consent cover this use, today?"""

from reviewer.terms.consents import INQUIRY, NOT_RECORDED, USES, WITHDRAWN, Consent
from reviewer.terms.problems import Problem


def refusal(
    consent: Consent, use: str, today: str | None, *, where: str, answers: bool = False
) -> Problem | None:
    """Why something may not leave a case for a use on a day; None where it may.

    ``today`` is such as ``2026-11-26``; a consent with an end covers nothing where nobody says which day it
    is. Where nobody has recorded what was said, a report or letter (what ``answers``) may still be written
    for the inquiry, and says so; nothing else may be made of the case.
    """
    if use not in USES:
        return Problem("unknown-use", where, f"{use!r} is no use.", f"Name one of: {', '.join(USES)}.")
    locked = withdrawn(consent, where)
    if locked is not None:
        return locked
    if consent.word == NOT_RECORDED and use == INQUIRY and answers:
        return None
    if not consent.covers(use):
        return _not_covered(consent, use, where)
    if consent.until is not None and (today is None or consent.is_over(today)):
        ended = "ends" if today is None else "ended"
        said = f"Consent to the use of this recording {ended} with {consent.until}."
        said += " Nobody says which day it is." if today is None else ""
        remedy = "Ask for it anew, and record it with `reviewer consent`, before anything leaves this case."
        return Problem("consent-ended", where, said, remedy)
    return None


def withdrawn(consent: Consent, where: str) -> Problem | None:
    """Why nothing at all may be made of a case whose consent was withdrawn, whatever the use; else None."""
    if consent.word != WITHDRAWN:
        return None
    return Problem(
        "consent-withdrawn",
        where,
        "Consent to the use of this recording was withdrawn, so nothing of it may leave the case.",
        "Speak to whoever withdrew it; delete the case and the recording where that was asked.",
    )


def _not_covered(consent: Consent, use: str, where: str) -> Problem:
    covered = ", ".join(one for one in USES if consent.covers(one))
    known = f"Consent covers {covered}" if covered else f"Consent is {consent.word!r}"
    said = f"{known}; it does not cover the use {use!r}."
    remedy = f"Ask for it, then record it: `reviewer consent {where} --for {use}`."
    return Problem("no-consent", where, said, remedy)
