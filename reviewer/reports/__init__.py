"""A finding as a page and on paper, the same bytes every time; and where two findings differ."""

from reviewer.reports.blocks import Page
from reviewer.reports.clippages import clip_page
from reviewer.reports.coachhistory import coach_history_page
from reviewer.reports.coaching import coach_page
from reviewer.reports.comparing import Difference, compare_files, compare_ledgers, compare_pages, place_of
from reviewer.reports.excerpts import excerpt
from reviewer.reports.letters import letter
from reviewer.reports.meetreport import meet_page
from reviewer.reports.page import as_html, page, pictures_in
from reviewer.reports.paper import TYPESETTER, as_paper, paper
from reviewer.reports.practising import practice_page
from reviewer.reports.telling import in_words, shortened, told_apart

__all__ = [
    "TYPESETTER",
    "Difference",
    "Page",
    "as_html",
    "as_paper",
    "clip_page",
    "coach_history_page",
    "coach_page",
    "compare_files",
    "compare_ledgers",
    "compare_pages",
    "excerpt",
    "in_words",
    "letter",
    "meet_page",
    "page",
    "paper",
    "pictures_in",
    "place_of",
    "practice_page",
    "shortened",
    "told_apart",
]
