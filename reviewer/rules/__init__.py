"""A rule-book file to a checked `RuleBook`, or all of its problems with file and line."""

from reviewer.rules.arranging import sentences
from reviewer.rules.book import RuleBookError, check, load, parse, read_text
from reviewer.rules.cases import examples, read_cases
from reviewer.rules.shelves import find, shipped
from reviewer.terms.rulebook import clause_data

__all__ = [
    "RuleBookError",
    "check",
    "clause_data",
    "examples",
    "find",
    "load",
    "parse",
    "read_cases",
    "read_text",
    "sentences",
    "shipped",
]
