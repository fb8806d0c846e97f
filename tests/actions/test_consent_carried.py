"""Consent goes along where a case is begun from others, and never becomes wider on the way.

Use for the purpose told and no other is the purpose limitation of data protection rules (read in summaries).
"""

from pathlib import Path

import pytest

from reviewer import actions
from reviewer.terms.consents import GIVEN, INQUIRY, NONE_IN_COMMON, NOT_RECORDED, WITHDRAWN, Consent
from reviewer.terms.problems import ReviewerError
from tests.actions.small_routine import begin

TODAY = "2026-11-26"
BARE = Consent(GIVEN)
BOTH = Consent(GIVEN, (INQUIRY, "teaching"), "2027-06-30")
COACH = Consent(GIVEN, ("coach",))


@pytest.fixture
def first(tmp_path: Path) -> Path:
    return begin(tmp_path / "first.case")


def give(case: Path, uses: tuple[str, ...], until: str | None = None) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.give_consent(audit, uses, until, TODAY)


def permission(case: Path) -> Consent:
    with actions.open_case(case, author=None) as audit:
        return audit.permission


def second_of(first: Path) -> Path:
    path = first.with_name("second.case")
    actions.begin_second(first, path, "B").close()
    return path


def test_a_second_judge_has_the_consent_of_the_first_case(first: Path) -> None:
    give(first, ("teaching", INQUIRY), "2027-06-30")
    assert permission(second_of(first)) == permission(first) == BOTH


def test_a_settlement_has_only_what_both_cases_have(first: Path) -> None:
    second = second_of(first)
    give(first, ("teaching", INQUIRY), "2027-06-30")
    for path, author in ((first, "A"), (second, "B")):
        with actions.open_case(path, author=author) as audit:
            actions.seal(audit, although_empty=True)
    path = first.with_name("settled.case")
    actions.begin_settlement(first, second, path, "C").close()
    assert permission(path) == Consent(GIVEN, (INQUIRY,), "2027-06-30")


def test_nothing_is_begun_from_a_case_whose_consent_was_withdrawn(first: Path) -> None:
    with actions.open_case(first, author="A") as audit:
        actions.withdraw_consent(audit)
    before = sorted(first.parent.iterdir())
    with pytest.raises(ReviewerError, match="was withdrawn"):
        second_of(first)
    assert sorted(first.parent.iterdir()) == before


@pytest.mark.parametrize(
    ("one", "other", "common"),
    [
        (BARE, BARE, Consent(GIVEN, (INQUIRY,))),
        (BARE, BOTH, Consent(GIVEN, (INQUIRY,), "2027-06-30")),
        (Consent(GIVEN, (INQUIRY, "coach"), "2027-01-01"), BOTH, Consent(GIVEN, (INQUIRY,), "2027-01-01")),
        (COACH, BOTH, Consent(NONE_IN_COMMON)),
        (Consent(WITHDRAWN), BOTH, Consent(WITHDRAWN)),
        (Consent(WITHDRAWN), Consent(NOT_RECORDED), Consent(WITHDRAWN)),
        (Consent(NOT_RECORDED), BOTH, Consent(NOT_RECORDED)),
    ],
)
def test_what_two_consents_have_in_common(one: Consent, other: Consent, common: Consent) -> None:
    assert one.common_with(other) == other.common_with(one) == common
