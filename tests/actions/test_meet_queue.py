"""Choosing routines of a meet and giving them to auditors: by lot, evenly, and kept as it was done."""

import json
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from tempfile import TemporaryDirectory

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.actions import meetholding
from reviewer.exchange.meets import read_meet
from reviewer.terms.meets import Start
from reviewer.terms.problems import DocumentError
from tests.actions import small_meet
from tests.actions.small_meet import meet_of

SCHEMA = Path(__file__).resolve().parents[2] / "annotations" / "schemas" / "meet-queue.schema.json"
CODES = ("K", "L", "M", "N", "judge-4")
DIVISIONS = {"division": "two"}, {"division": "two"}, {"division": "two"}, {"division": "three"}


def of(folder: Path, number: int) -> Path:
    """A meet of so many routines, a quarter of them in one division."""
    starts = [Start(str(one), one + 1, groups=DIVISIONS[one % 4]) for one in range(1, number + 1)]
    return meet_of(folder / "meet", starts)


def names(folder: Path) -> list[str]:
    return [one.name for one in read_meet(folder).starts]


def test_a_sample_is_the_one_that_lots_of_its_seed_give(tmp_path: Path) -> None:
    """As drawn from a table of the same names, by ``reviewer meet sample``."""
    table = tmp_path / "starts.csv"
    table.write_text("start\n" + "".join(f"{one}\n" for one in range(1, 21)), "utf-8")
    drawn = actions.draw_sample(table, 5, "7")["drawn"]
    found = actions.choose_by_lot(of(tmp_path, 20), 5, "7")
    assert found["starts"] == [one["start"] for one in drawn]


def test_a_sample_by_division_is_in_proportion(tmp_path: Path) -> None:
    folder = of(tmp_path, 20)
    found = actions.choose_by_lot(folder, 8, "7", "division")
    divisions = {one.name: one.groups["division"] for one in read_meet(folder).starts}
    assert sorted(divisions[name] for name in found["starts"]) == ["three"] * 2 + ["two"] * 6


def test_the_same_seed_adds_nothing_and_another_is_told_to_prove_nothing(tmp_path: Path) -> None:
    folder = of(tmp_path, 20)
    first, again = (actions.choose_by_lot(folder, 5, "7") for _ in "ab")
    assert (first["starts"], again["new"]) == (again["starts"], [])
    assert len(read_meet(folder).choices) == 1
    other = actions.choose_by_lot(folder, 5, "8")
    assert any("until they please prove nothing" in one for one in other["remarks"])
    assert [(one.how, one.of, one.seed) for one in read_meet(folder).choices] == [
        ("by lot", 20, "7"),
        ("by lot", 20, "8"),
    ]


def test_lots_by_something_else_are_other_lots(tmp_path: Path) -> None:
    folder = of(tmp_path, 20)
    actions.choose_by_lot(folder, 5, "7")
    other = actions.choose_by_lot(folder, 5, "7", "division")
    assert any("until they please prove nothing" in one for one in other["remarks"])


def test_blanks_around_a_seed_draw_nothing_else_and_a_blank_one_is_refused(tmp_path: Path) -> None:
    folder = of(tmp_path, 20)
    first = actions.choose_by_lot(folder, 5, "7")
    assert actions.choose_by_lot(folder, 5, " 7\n")["starts"] == first["starts"]
    with pytest.raises(DocumentError, match="The seed is blank"):
        actions.choose_by_lot(folder, 5, "  ")
    with pytest.raises(DocumentError, match="The seed is blank"):
        actions.assign(folder, actions.Wish(("K",), " "))


def test_a_larger_sample_of_a_seed_holds_the_smaller(tmp_path: Path) -> None:
    folder = of(tmp_path, 20)
    small = actions.choose_by_lot(folder, 5, "7")
    large = actions.choose_by_lot(folder, 9, "7")
    assert set(small["starts"]) < set(large["starts"])
    assert not any("prove nothing" in one for one in large["remarks"])


def test_a_sample_larger_than_the_meet_is_refused_with_the_number_there_is(tmp_path: Path) -> None:
    folder = of(tmp_path, 4)
    with pytest.raises(DocumentError, match="A sample of 5 cannot be drawn from 4 routines"):
        actions.choose_by_lot(folder, 5, "7")
    assert read_meet(folder).choices == ()


def test_a_group_that_no_routine_names_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="Name one of: division"):
        actions.choose_by_lot(of(tmp_path, 4), 2, "7", "panel")
    bare = meet_of(tmp_path / "bare", [Start("1", 2)])
    with pytest.raises(DocumentError, match="Draw from the whole meet"):
        actions.choose_by_lot(bare, 1, "7", "panel")


def test_a_reason_chooses_every_routine_that_has_it(tmp_path: Path) -> None:
    starts = [Start("1", 2), Start("2", 3, inquiry=True), Start("3", 4, short=True)]
    folder = meet_of(tmp_path / "meet", starts)
    assert actions.choose_by_trigger(folder, ["inquiry"])["starts"] == ["2"]
    assert actions.choose_by_trigger(folder, ["all"])["new"] == ["3"]
    assert actions.choose_by_trigger(folder, ["spread"])["starts"] == []
    assert len(read_meet(folder).choices) == 2


def test_routines_are_chosen_by_hand_in_letters_of_either_case(tmp_path: Path) -> None:
    folder = meet_of(tmp_path / "meet", [Start("B-3", 2), Start("12", 3)])
    assert actions.choose_by_hand(folder, ["b-3", "12", "B-3"])["starts"] == ["B-3", "12"]
    with pytest.raises(DocumentError) as refused:
        actions.choose_by_hand(folder, ["12", "13", "14"])
    assert [one.where for one in refused.value.problems] == ["'13'", "'14'"]


@given(
    number=st.integers(1, 12),
    auditors=st.integers(1, 5),
    double=st.integers(0, 12),
    seed=st.text("abc123", min_size=1, max_size=6),
)
@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.too_slow])
def test_every_routine_has_one_or_two_auditors_evenly_and_by_lot(
    number: int, auditors: int, double: int, seed: str
) -> None:
    twice = min(number, double) if auditors > 1 else 0
    wish = actions.Wish(CODES[:auditors], seed, twice)
    queues = []
    with TemporaryDirectory() as place:
        for name in "ab":
            folder = of(Path(place) / name, number)
            actions.choose_by_hand(folder, names(folder))
            actions.assign(folder, wish)
            queues.append(read_meet(folder).queue)
    first, again = queues
    assert first == again
    by_start = {
        name: [one.auditor for one in first if one.start == name] for name in map(str, range(1, number + 1))
    }
    assert sorted(len(own) for own in by_start.values()) == [1] * (number - twice) + [2] * twice
    assert all(len(set(own)) == len(own) for own in by_start.values())
    loads = [sum(one.auditor == code for one in first) for code in wish.auditors]
    assert max(loads) - min(loads) <= 1
    assert all(one.blind == (len(by_start[one.start]) == 2) for one in first)


def test_who_came_later_catches_up(tmp_path: Path) -> None:
    folder = of(tmp_path, 6)
    actions.choose_by_hand(folder, names(folder)[:3])
    actions.assign(folder, actions.Wish(("K",), "1"))
    actions.choose_by_hand(folder, names(folder)[3:])
    actions.assign(folder, actions.Wish(("K", "L"), "1"))
    assert [one.auditor for one in read_meet(folder).queue] == ["K"] * 3 + ["L"] * 3


def test_another_seed_gives_otherwise(tmp_path: Path) -> None:
    found = set()
    for seed in map(str, range(6)):
        folder = of(tmp_path / seed, 8)
        actions.choose_by_hand(folder, names(folder))
        actions.assign(folder, actions.Wish(("K", "L"), seed))
        found.add(tuple(sorted((one.start, one.auditor) for one in read_meet(folder).queue)))
    assert len(found) > 1


def test_without_a_seed_one_is_made_up_and_kept(tmp_path: Path) -> None:
    folder = of(tmp_path, 2)
    actions.choose_by_hand(folder, names(folder))
    found = actions.assign(folder, actions.Wish(("K", "L")))
    assert {one.seed for one in read_meet(folder).queue} == {found["seed"]}


def test_who_sat_on_the_panel_does_not_audit_it(tmp_path: Path) -> None:
    folder = of(tmp_path, 6)
    actions.choose_by_hand(folder, names(folder))
    barred = {"K": ("1", "2", "3"), "L": ("4",)}
    actions.assign(folder, actions.Wish(("K", "L"), "1", not_for=barred))
    queue = read_meet(folder).queue
    assert not any(one.start in barred[one.auditor] for one in queue)
    assert sum(one.auditor == "K" for one in queue) == 3


@pytest.mark.parametrize(
    ("wish", "said"),
    [
        (actions.Wish(("Anna",), "1"), "Judges are letters here"),
        (actions.Wish(("K", "k"), "1"), "named once each"),
        (actions.Wish((), "1"), "named once each"),
        (actions.Wish(("K",), "1", 1), "One auditor alone audits nothing twice"),
        (actions.Wish(("K", "L"), "1", 5), "Routines that wait for an auditor: 4"),
        (actions.Wish(("K",), "1", not_for={"K": ("1",)}), "Too few auditors are left"),
        (actions.Wish(("K", "L"), "1", 4, not_for={"K": ("1",)}), "Too few auditors are left"),
        (actions.Wish(("K",), "1", not_for={"L": ("1",)}), "none of those named"),
        (actions.Wish(("K",), "1", only=("5",)), "not chosen"),
        (actions.Wish(("K",), "1", only=("99",)), "no such routine"),
    ],
)
def test_what_cannot_be_given_as_wished_is_refused_and_nothing_is_given(
    tmp_path: Path, wish: actions.Wish, said: str
) -> None:
    folder = of(tmp_path, 5)
    actions.choose_by_hand(folder, names(folder)[:4])
    with pytest.raises(DocumentError, match=said):
        actions.assign(folder, wish)
    assert read_meet(folder).queue == ()


def test_who_began_the_meets_cases_is_not_blind_to_them(tmp_path: Path) -> None:
    folder = small_meet.begun(tmp_path / "meet", 2)
    with pytest.raises(DocumentError, match="sees them"):
        small_meet.given(folder, "AB", blind=True)
    assert len(small_meet.given(folder, "AB")) == 2


def test_only_some_are_given_and_none_twice(tmp_path: Path) -> None:
    folder = of(tmp_path, 4)
    actions.choose_by_hand(folder, names(folder))
    assert len(actions.assign(folder, actions.Wish(("K",), "1", only=("3",)))["tasks"]) == 1
    assert len(actions.assign(folder, actions.Wish(("K", "L"), "1"))["tasks"]) == 3
    assert actions.assign(folder, actions.Wish(("K", "L"), "1"))["tasks"] == []


def test_what_several_choose_at_one_time_is_all_kept(tmp_path: Path) -> None:
    folder = of(tmp_path, 12)
    with ThreadPoolExecutor(4) as several:
        list(several.map(lambda name: actions.choose_by_hand(folder, [name]), names(folder)))
    assert sorted(one.starts[0] for one in read_meet(folder).choices) == sorted(names(folder))
    assert [path.name for path in folder.iterdir()] == ["meet.json"]


def test_whoever_gets_no_turn_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(meetholding, "_TRIES", 2)
    folder = of(tmp_path, 2)
    with meetholding.held_meet(folder), pytest.raises(DocumentError, match="Another command is changing"):
        actions.choose_by_hand(folder, ["1"])


def test_one_code_is_not_two_auditors(tmp_path: Path) -> None:
    folder = of(tmp_path, 2)
    actions.choose_by_hand(folder, ["1"])
    actions.assign(folder, actions.Wish(("K",), "1"))
    actions.choose_by_hand(folder, ["2"])
    with pytest.raises(DocumentError, match="in the queue as K"):
        actions.assign(folder, actions.Wish(("k",), "1"))


def test_a_task_is_taken_back_while_it_was_not_sent(tmp_path: Path) -> None:
    folder = small_meet.begun(tmp_path / "meet", 2)
    small_meet.given(folder, "K", only=("1",))
    with pytest.raises(DocumentError, match="has no such task"):
        actions.unassign(folder, "2", "K")
    actions.send(folder, "K", tmp_path / "bag", today=small_meet.TODAY)
    with pytest.raises(DocumentError, match="was sent to auditor K already"):
        actions.unassign(folder, "1", "K")
    actions.assign(folder, actions.Wish(("L",), "1"))
    actions.unassign(folder, "2", "L")
    assert [one.start for one in read_meet(folder).queue] == ["1"]


def test_the_queue_says_what_is_next(tmp_path: Path) -> None:
    folder = small_meet.begun(tmp_path / "meet", 3)
    assert actions.meet_queue(folder)["next"][0].startswith("Choose routines")
    actions.choose_by_hand(folder, ["1", "3"])
    assert "that nobody has yet: 2" in actions.meet_queue(folder)["next"][0]
    actions.assign(folder, actions.Wish(("K", "L"), "1", 1))
    found = actions.meet_queue(folder)
    Draft202012Validator(json.loads(SCHEMA.read_text("utf-8"))).validate(found)
    assert [one["to_do"] for one in found["auditors"]] in ([2, 1], [1, 2])
    assert (len(found["doubles"]), found["agreement"]) == (1, None)
    assert all("reviewer meet send" in one for one in found["next"])


def test_what_is_marked_in_the_meets_own_case_is_said(tmp_path: Path) -> None:
    """Whoever audits at home needs no bag; a blind auditor's routine is not done by that."""
    folder = small_meet.begun(tmp_path / "meet", 4)
    actions.choose_by_hand(folder, ["1", "2", "3"])
    actions.assign(folder, actions.Wish(("K",), "1", only=("2",)))
    actions.assign(folder, actions.Wish(("L",), "1", only=("3",), blind=True))
    assert actions.meet_queue(folder)["marked_here"] == []
    for name in "1234":
        small_meet.mark(folder / "cases" / f"{name}.case", "A")
    found = actions.meet_queue(folder)
    Draft202012Validator(json.loads(SCHEMA.read_text("utf-8"))).validate(found)
    assert found["marked_here"] == ["1", "2"]
