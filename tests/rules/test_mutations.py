"""Whatever a clause says, a case would tell if it said something else.

Each edition is held, otherwise in one place at a time, against its cases. What may stay untold is named here
with the reason why no marks at all can tell it.
"""

import pytest

from reviewer import rules
from tests.rules.mutating import mutants, read, trial

_ALL_OF_THEM = "the middle n of n scores are all of them"
_FIRST_FITS = "the clause before says it already, with the same test; the first that fits is named"
_COSTS_NOTHING = "what costs nothing is not made less by a cap"
_SAYS_NOTHING = "of what a book does not speak, nothing is refused"
_ANGLE = "which line was measured is told by the reading, not by the score: pinned below"

UNTOLD: dict[str, dict[str, str]] = {
    "demo-bars-2": {
        "no-dismount.restricted: without not-when": "it is empty, and left out it is empty too",
        "cast.line: line shoulder-ankle > hand-ankle": _ANGLE,
        "cast.line: line shoulder-ankle > shoulder-hip": _ANGLE,
        "steps-together: faults with chin-on-bar": _COSTS_NOTHING,
        "steps-together: faults with extra-swing": _COSTS_NOTHING,
        "fall-and-squat: faults with small-step": _FIRST_FITS,
        "fall-and-squat: faults with medium-step": _FIRST_FITS,
        "fall-and-squat: faults with large-step": _FIRST_FITS,
        "fall-and-squat: faults with hop": _FIRST_FITS,
        "fall-and-squat: faults with arm-swing": _FIRST_FITS,
        "fall-and-squat: faults with trunk": _FIRST_FITS,
        "fall-and-squat: faults with hands-brush": _FIRST_FITS,
        "fall-and-squat: faults with hands-support": _FIRST_FITS,
        "panel.of-one: counting all > middle 1 scores": _ALL_OF_THEM,
        "panel.of-two: counting all > middle 2 scores": _ALL_OF_THEM,
        "panel.of-three: counting all > middle 3 scores": _ALL_OF_THEM,
    },
    "international-bars": {
        "connection.two-high: order either > as written": "both sides ask for the same",
        "credit.repeated: different-neighbour not needed > needed": "what earns once has no second time",
        "cast.line: line shoulder-ankle > hand-ankle": _ANGLE,
        "cast.line: line shoulder-ankle > shoulder-hip": _ANGLE,
        "panel.of-one: counting all > middle 1 scores": _ALL_OF_THEM,
        "panel.of-two: counting all > middle 2 scores": _ALL_OF_THEM,
        "panel.of-three: counting all > middle 3 scores": _ALL_OF_THEM,
        "inquiry.recording: taken out": _SAYS_NOTHING,
        "inquiry.fee: taken out": "a fee refuses nothing",
    },
}
"""Edition to what may be otherwise in it without any case telling, and why."""


@pytest.mark.parametrize("name", UNTOLD)
def test_a_case_tells_whatever_is_otherwise_in_any_clause(name: str) -> None:
    found = trial(name)
    print(found)
    assert {str(one) for one in found.survivors} == set(UNTOLD[name])


@pytest.mark.parametrize("name", UNTOLD)
def test_something_is_otherwise_of_every_clause_that_says_more_than_words(name: str) -> None:
    book = rules.load(rules.find(name))
    tried = {one.clause for one in mutants(read(book.text)) if one.change != "taken out"}
    assert {clause.id for clause in book.clauses} - tried <= {"inquiry.fee"}


@pytest.mark.parametrize("name", UNTOLD)
def test_a_cast_is_measured_from_shoulder_to_ankle(name: str) -> None:
    """Source: the national code 2013-17 as quoted in an article on bar angles; else from memory."""
    assert rules.load(rules.find(name)).cast.line == "shoulder-ankle"
