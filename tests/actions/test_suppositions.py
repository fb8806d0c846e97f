"""What if: only the differences are told, and nothing is written unless the judge says so.

All by the worked example, 6.200 by the demo edition; what each supposition comes to was worked out by hand
from its clauses (common practice, no source).
"""

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.actions import Supposed
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.problems import Problem, ReviewerError
from tests.actions.small_routine import begin, events, final

P, D = Points.parse, Degrees.parse
SUPPOSED: dict[str, tuple[Supposed, str]] = {
    "an amount": (Supposed(amounts={"m4": P("0.300")}), "6.000"),
    "an angle": (Supposed(angles={"m2": D("-40")}), "6.300"),
    "a verdict": (Supposed(verdicts={"m2": "not met"}), "5.700"),
    "with": (Supposed(said=(("m2", "spotted"),)), "5.700"),
    "not with": (Supposed(unsaid=(("m3", "spotted"),)), "8.800"),
    "credit given": (Supposed(credits={"m3": "given"}), "8.800"),
    "credit withheld": (Supposed(credits={"m2": "withheld"}), "5.700"),
    "without a mark": (Supposed(left_out=("m5",)), "6.500"),
    "a reading": (Supposed(readings={"few-value-parts": "other"}), "8.200"),
    "another edition": (Supposed(rule_book="demo-bars-2-previous"), "8.200"),
}
"""What is supposed, and the final score it comes to.

The cast once spotted, withheld or short: value part 0.100, requirement 0.500, and no 0.100 for its height.
The dismount with its credit: value part 0.100, requirement 0.500, and three value parts spare the 2.000.
"""
each = pytest.mark.parametrize(("supposed", "score"), SUPPOSED.values(), ids=SUPPOSED)

BAD: dict[str, tuple[Supposed, str, str]] = {
    "an unknown mark": (Supposed(amounts={"m99": P("0.100")}), "unknown-mark", "m99"),
    "without an unknown mark": (Supposed(left_out=("m98",)), "unknown-mark", "m98"),
    "an amount the clause does not permit": (
        Supposed(amounts={"m4": P("0.120")}), "amount-not-permitted", "m4"),
    "an amount on an element": (Supposed(amounts={"m2": P("0.100")}), "no-sense", "m2"),
    "a verdict on a fault": (Supposed(verdicts={"m4": "met"}), "no-sense", "m4"),
    "credit for a fact": (Supposed(credits={"m5": "given"}), "no-sense", "m5"),
    "an angle outside any sense": (Supposed(angles={"m2": D("-181")}), "no-angle", "m2"),
    "an angle on what is no cast": (Supposed(angles={"m1": D("-40")}), "no-cast", "m1"),
    "an unknown condition": (Supposed(said=(("m2", "levitating"),)), "unknown-word", "m2"),
    "an unknown condition that shall not hold": (
        Supposed(unsaid=(("m2", "levitating"),)), "unknown-word", "m2"),
    "a clause that leaves nothing open": (
        Supposed(readings={"fault.fall": "other"}), "not-open", "fault.fall"),
    "a word that is no reading": (
        Supposed(readings={"few-value-parts": "kindly"}), "no-reading", "few-value-parts"),
    "an unknown edition": (Supposed(rule_book="no-such-book"), "unknown-rule-book", "no-such-book"),
    "an element whose fault would stay behind": (Supposed(left_out=("m2",)), "no-element", "m4"),
}  # fmt: skip
each_bad = pytest.mark.parametrize(("supposed", "code", "where"), BAD.values(), ids=BAD)


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return begin(tmp_path_factory.mktemp("begun") / "routine.case")


@pytest.fixture
def case(begun: Path, tmp_path: Path) -> Path:
    return Path(shutil.copyfile(begun, tmp_path / "routine.case"))


def refused(action: Callable[[], object]) -> tuple[Problem, ...]:
    with pytest.raises(ReviewerError) as caught:
        action()
    assert all(one.where and str(one.message) and str(one.remedy) for one in caught.value.problems)
    return caught.value.problems


def stands(case: Path) -> tuple[Any, ...]:
    """What a case comes to."""
    with actions.open_case(case, author=None) as audit:
        return audit.marks, dict(audit.state.interpretations), audit.book.id, audit.sheet


def finals(found: dict[str, Any]) -> list[tuple[str, str]]:
    return [(one["before"], one["after"]) for one in found["figures"] if one["what"] == "final_score"]


@each
def test_only_the_differences_are_told_and_nothing_is_written(
    case: Path, supposed: Supposed, score: str
) -> None:
    before, number = case.read_bytes(), events(case)
    found = actions.what_if(case, supposed)
    assert (found["same"], found["kept"]) == (False, False)
    assert finals(found) == [("6.200", score)]
    assert case.read_bytes() == before
    assert events(case) == number
    assert not case.with_name(case.name + ".writing").exists()


@each
def test_what_is_kept_comes_to_what_was_told_and_is_undone_step_by_step(
    case: Path, supposed: Supposed, score: str
) -> None:
    before, number = stands(case), events(case)
    found = actions.what_if(case, supposed, author="A")
    assert found["kept"] is True
    assert final(case) == score
    assert events(case) == number + 1
    with actions.open_case(case, author="A") as audit:
        actions.undo(audit)
    assert stands(case) == before


def test_several_suppositions_are_kept_together_and_undone_one_by_one(case: Path) -> None:
    supposed = Supposed(
        amounts={"m4": P("0.200")},
        verdicts={"m2": "met"},
        unsaid=(("m3", "spotted"),),
        left_out=("m5",),
        readings={"few-value-parts": "other"},
    )
    before, number = stands(case), events(case)
    told = finals(actions.what_if(case, supposed))
    actions.what_if(case, supposed, author="A")
    assert told == [("6.200", final(case))] == [("6.200", "9.100")]
    assert events(case) == number + 5
    with actions.open_case(case, author="A") as audit:
        for _ in range(5):
            actions.undo(audit)
    assert stands(case) == before


def test_two_suppositions_on_one_mark_are_one_change(case: Path) -> None:
    supposed = Supposed(verdicts={"m2": "met"}, said=(("m2", "spotted"),))
    number = events(case)
    actions.what_if(case, supposed, author="A")
    (mark,) = [one for one in stands(case)[0] if one.id == "m2"]
    assert mark.angle.verdict == "met"
    assert mark.conditions == ("spotted",)
    assert events(case) == number + 1


def test_what_changes_nothing_says_so(case: Path) -> None:
    found = actions.what_if(case, Supposed(amounts={"m4": P("0.100")}))
    assert found["same"] is True
    assert found["figures"] == []
    assert all(entries == [] for side in (found["gone"], found["new"]) for entries in side.values())


def test_lines_gone_and_new_are_told_apart(case: Path) -> None:
    found = actions.what_if(case, Supposed(verdicts={"m2": "not met"}, readings={"few-value-parts": "other"}))
    gone, new = ([(one["clause"], one["points"]) for one in found[side]["lines"]] for side in ("gone", "new"))
    assert gone == [("value-parts", "-0.300"), ("cast.tolerance", "-0.100"), ("few-value-parts", "-2.000")]
    assert new == [("value-parts", "-0.400"), ("requirement.cast", "-0.500")]
    assert [one["reason"] for one in found["new"]["not_earned"]] == ["below-tolerance"]
    assert found["gone"]["not_earned"] == []


def test_a_reading_chosen_in_the_case_holds_in_what_is_supposed(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.choose_interpretation(audit, "few-value-parts", "other")
    found = actions.what_if(case, Supposed(amounts={"m4": P("0.200")}))
    assert finals(found) == [("8.200", "8.100")]
    back = actions.what_if(case, Supposed(readings={"few-value-parts": "stated"}))
    assert finals(back) == [("8.200", "6.200")]


@each_bad
@pytest.mark.parametrize("author", [None, "A"], ids=["asked", "to keep"])
def test_what_cannot_be_is_refused_with_place_and_remedy_and_nothing_is_written(
    case: Path, supposed: Supposed, code: str, where: str, author: str | None
) -> None:
    before = case.read_bytes()
    (problem,) = refused(lambda: actions.what_if(case, supposed, author=author))
    assert (problem.code, problem.where.removeprefix(f"{case.name}: ")) == (code, where)
    assert case.read_bytes() == before


def test_one_bad_supposition_among_good_ones_keeps_them_all_out(case: Path) -> None:
    supposed = Supposed(
        amounts={"m4": P("0.120")},
        verdicts={"m2": "met"},
        unsaid=(("m3", "spotted"),),
        left_out=("m5",),
        readings={"few-value-parts": "other"},
        rule_book="demo-bars-2",
    )
    before = case.read_bytes()
    assert [one.where for one in refused(lambda: actions.what_if(case, supposed, author="A"))] == [
        f"{case.name}: m4"
    ]
    assert case.read_bytes() == before


def test_every_unknown_mark_is_named_at_once(case: Path) -> None:
    supposed = Supposed(amounts={"m99": P("0.100")}, verdicts={"m98": "met"}, left_out=("m97", "m99"))
    found = refused(lambda: actions.what_if(case, supposed, author="A"))
    assert [one.where for one in found] == [f"{case.name}: {one}" for one in ("m99", "m98", "m97")]


def test_a_mark_that_the_edition_cannot_read_is_not_kept_half_way(case: Path) -> None:
    """A medium step cost 0.100 the season before (common practice, no source), and 0.150 now."""
    with actions.open_case(case, author="A") as audit:
        actions.place_mark(audit, kind="fault", code="medium-step", amount=P("0.150"), judge="A")
        actions.choose_edition(audit, "demo-bars-2-previous")
        assert [one.where for one in audit.sheet.problems] == ["m6"]
    before = case.read_bytes()
    bad = Supposed(verdicts={"m2": "met"}, amounts={"m6": P("0.150")})
    assert [one.where for one in refused(lambda: actions.what_if(case, bad, author="A"))] == [
        f"{case.name}: m6"
    ]
    assert case.read_bytes() == before
    actions.what_if(case, Supposed(amounts={"m6": P("0.100")}), author="A")
    assert stands(case)[3].problems == ()


def test_who_may_not_write_keeps_nothing(case: Path) -> None:
    with actions.open_case(case, author="B"):
        before = case.read_bytes()
        (problem,) = refused(lambda: actions.what_if(case, Supposed(left_out=("m5",)), author="A"))
        assert problem.code == "case-held"
        assert case.read_bytes() == before
        assert actions.what_if(case, Supposed(left_out=("m5",)))["same"] is False


def test_a_marks_document_answers_and_is_never_written(case: Path, tmp_path: Path) -> None:
    document = tmp_path / "marks.json"
    with actions.open_case(case, author=None) as audit:
        document.write_text(actions.marks_text(audit), encoding="utf-8")
    before = document.read_bytes()
    supposed, score = SUPPOSED["a verdict"]
    assert finals(actions.what_if(document, supposed)) == [("6.200", score)]
    (problem,) = refused(lambda: actions.what_if(document, supposed, author="A"))
    assert (problem.code, problem.where) == ("no-case", "marks.json")
    assert document.read_bytes() == before
