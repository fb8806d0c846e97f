"""Words that the doors offer before anything is loaded: what may be named where a choice is asked for."""

from reviewer.terms.consents import USES as USES
from reviewer.terms.consents import WHOSE as WHOSE
from reviewer.terms.sheets import PARTS as PARTS

DEFAULT_BOOK = "demo-bars-2"
"""The edition of a case where none is named."""
WHOLE = "whole"
"""An audit of all parts of the score, after one of some."""
FORMS = ("web-annotation", "chapters", "timeline", "csv")
"""The open forms that a case can be written in."""
TABLES = ("marks", "lines", "readings")
"""What a CSV file holds, one of these each."""
PASSAGES_SHOWN = 20
"""How many passages of those found are shown where nobody says another number."""
