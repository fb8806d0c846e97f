"""What each kind of clause says, in a judge's sentences; codes become the names the book gives them."""

from collections.abc import Callable

from reviewer.rules import credit_words, score_words
from reviewer.rules.words import Data, Names, Words

WORDING: dict[str, Callable[[Data, Names], Words]] = {
    "start": credit_words.start,
    "execution from": credit_words.execution_from,
    "value parts": credit_words.value_parts,
    "few value parts": credit_words.few,
    "restricted element": credit_words.restricted,
    "requirement": credit_words.requirement,
    "elements": credit_words.elements,
    "no role": credit_words.no_role,
    "withheld": credit_words.withheld,
    "judge decides": credit_words.judge_decides,
    "one element": credit_words.one_element,
    "part of": credit_words.part_of,
    "cast line": score_words.cast_line,
    "cast limit": score_words.cast_limit,
    "cast tolerance": score_words.cast_tolerance,
    "guard band": score_words.guard_band,
    "fault": score_words.fault,
    "cap": score_words.cap,
    "swallow": score_words.swallow,
    "one error": score_words.one_error,
    "time limit": score_words.time_limit,
    "fact": score_words.fact,
    "panel": score_words.panel,
    "panel size": score_words.panel_size,
    "spread": score_words.spread,
    "reference": score_words.reference,
    "courtesy": score_words.courtesy,
    "element values": credit_words.element_values,
    "counting elements": credit_words.counting,
    "connection": credit_words.connection,
    "role bonus": credit_words.role_bonus,
    "ties": score_words.ties,
    "inquiry": score_words.inquiry,
    "note": score_words.note,
}
"""Kind of clause to its sentences."""
