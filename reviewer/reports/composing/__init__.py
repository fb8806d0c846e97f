"""A finding put into words: what the report says and in which order, for HTML and paper alike."""

from collections.abc import Callable, Mapping
from typing import Any, TypeAlias

from reviewer.reports.blocks import Block, Page, Paragraph, Section, words
from reviewer.reports.composing.asked import long_questions, question
from reviewer.reports.composing.earning import ledger, not_earned
from reviewer.reports.composing.findings import final_found
from reviewer.reports.composing.limits import basis, open_readings, unseen
from reviewer.reports.composing.measured import readings, tracks
from reviewer.reports.composing.numbering import numbered
from reviewer.reports.composing.posted import posted
from reviewer.reports.composing.reached import panel, score
from reviewer.reports.composing.recorded import cautions, fingerprints, marks, signature, sources
from reviewer.reports.composing.settled import settled
from reviewer.reports.composing.shown import deductions
from reviewer.reports.composing.standing import standing
from reviewer.reports.composing.view import View
from reviewer.reports.notices import notice
from reviewer.terms.consents import GIVEN
from reviewer.words import saying

Composer: TypeAlias = Callable[[View], "Section | None"]
_ORDER: tuple[Composer, ...] = (
    question,
    score,
    signature,
    ledger,
    not_earned,
    deductions,
    readings,
    tracks,
    panel,
    posted,
    settled,
    unseen,
    open_readings,
    basis,
    marks,
    sources,
    fingerprints,
    cautions,
    long_questions,
)


def compose(finding: Mapping[str, Any]) -> Page:
    """The report of a ``reviewer.finding/1`` document, in the language the document names."""
    view = View(finding, saying(finding.get("language", "en")))
    found = (one(view) for one in _ORDER)
    page = Page(
        language=view.say.language,
        title=view.say("Score audit of one routine, uneven bars"),
        headline=_headline(view),
        notice=notice(view.say),
        opening=_opening(view),
        sections=tuple(one for one in found if one is not None),
    )
    return numbered(page, view.say)


def _headline(view: View) -> str:
    """The final score as it was found, or the parts that alone were audited."""
    if "only" in view.score:
        return ", ".join(view.score["only"])
    return final_found(view) or str(view.score["final_score"])


def _opening(view: View) -> tuple[Block, ...]:
    say, case, book = view.say, view.finding["case"], view.finding["rule_book"]
    scored = say(
        "Athlete {athlete}. Scored by {book}, {season}.",
        athlete=case["athlete_code"],
        book=book["title"],
        season=book["season"],
    )
    consent = say("Consent to the use of the recording: {state}.", state=say.word(case["consent"]))
    told = (Paragraph(words(scored)), Paragraph(words(consent), warns=case["consent"] != GIVEN))
    return (*standing(view), *told)
