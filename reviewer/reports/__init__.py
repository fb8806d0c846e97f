"""A finding as a page, the same bytes every time; and where two findings differ."""

from reviewer.reports.comparing import Difference, compare_ledgers, compare_pages, place_of
from reviewer.reports.letters import letter
from reviewer.reports.page import page, pictures_in

__all__ = ["Difference", "compare_ledgers", "compare_pages", "letter", "page", "pictures_in", "place_of"]
