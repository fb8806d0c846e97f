"""An own book is amended to a sound book or not at all; remarks, order and all else stay."""

import difflib
from collections.abc import Callable
from pathlib import Path

import pytest

from reviewer import rules
from reviewer.rules import amending
from reviewer.rules.comparing import Comparison

SMALL = Path(__file__).parent / "small-book.yaml"
FROM_MEMORY = {"since": "2027-01-01", "source": "from memory"}
WOBBLE = """\
# a fault of our own
id: fault.wobble
title: Wobble
rule: fault
since: 2026-08-01
source: from memory
fault: wobble
name: Wobble
amount: 0.100 points
scope: each
"""


@pytest.fixture
def own(tmp_path: Path) -> Path:
    path = tmp_path / "own.yaml"
    path.write_bytes(SMALL.read_bytes())
    return path


def differing(before: str, after: str) -> list[str]:
    lines = difflib.unified_diff(before.splitlines(), after.splitlines(), lineterm="", n=0)
    return [line for line in lines if line[:1] in "+-" and line[:3] not in ("+++", "---")]


def amended(path: Path, change: Callable[[], Comparison]) -> tuple[Comparison, list[str]]:
    before = path.read_text(encoding="utf-8")
    found = change()
    assert rules.check(path) == ()
    return found, differing(before, path.read_text(encoding="utf-8"))


def refused(path: Path, change: Callable[[], object]) -> tuple[str, ...]:
    before = path.read_bytes() if path.is_file() else None
    with pytest.raises(rules.RuleBookError) as error:
        change()
    assert (path.read_bytes() if path.is_file() else None) == before
    assert [one.name for one in path.parent.iterdir() if one.name.startswith(f".{path.name}.")] == []
    assert all(one.remedy and one.where for one in error.value.problems)
    return tuple(one.code for one in error.value.problems)


def test_a_copy_differs_in_its_id_and_title_alone(tmp_path: Path) -> None:
    path = tmp_path / "copy.yaml"
    original = rules.find("demo-bars-2").read_text(encoding="utf-8")
    amending.copy_book(rules.find("demo-bars-2"), path, id="copy", title="Ours: a copy")
    lines = differing(original, path.read_text(encoding="utf-8"))
    assert [line for line in lines if line.startswith("+")] == ["+id: copy", '+title: "Ours: a copy"']
    assert rules.load(path).title == "Ours: a copy"


def test_a_clause_in_brackets_is_amended_in_them(own: Path) -> None:
    _, lines = amended(
        own, lambda: amending.amend_clause(own, "cast.line", {"line": "hand-ankle"}, **FROM_MEMORY)
    )
    assert [line for line in lines if line.startswith("+")] == [
        "+  - {id: cast.line, title: The line, rule: cast line, since: 2027-01-01, source: from memory, "
        "line: hand-ankle}"
    ]


def test_a_copy_needs_an_id_of_its_own(tmp_path: Path) -> None:
    path = tmp_path / "copy.yaml"
    for taken in ("demo-bars-2", "demo-bars-2-previous"):
        assert refused(path, lambda id=taken: amending.copy_book(rules.find("demo-bars-2"), path, id=id)) == (
            "id-taken",
        )
    assert refused(path, lambda: amending.copy_book(rules.find("demo-bars-2"), path, id="No Id")) == (
        "bad-value",
    )


def test_an_amended_amount_names_its_date_and_source_and_touches_four_lines_at_most(own: Path) -> None:
    found, lines = amended(
        own,
        lambda: amending.amend_clause(
            own,
            "fault.hop",
            {"up-to": "0.200 points"},
            since="2027-01-01",
            source="published: Our code, page 3",
        ),
    )
    assert [line for line in lines if line.startswith("+")] == [
        "+    since: 2027-01-01",
        '+    source: "published: Our code, page 3"',
        "+    up-to: 0.200 points",
    ]
    assert [one.after.id for one in found.changed] == ["fault.hop"]
    assert [str(one) for one in rules.load(own).fault("hop").amounts] == ["0.050", "0.100", "0.150", "0.200"]


def test_a_value_may_change_its_kind(own: Path) -> None:
    changes = {"up-to": "", "amount": "0.100 points"}
    amended(own, lambda: amending.amend_clause(own, "fault.hop", changes, **FROM_MEMORY))
    assert rules.load(own).fault("hop").flat


def test_an_element_inside_its_list_can_be_amended(own: Path) -> None:
    found, _ = amended(
        own,
        lambda: amending.amend_clause(
            own, "elements.without-value", {"elements.leg-cut.may-be": ["mount"]}, **FROM_MEMORY
        ),
    )
    assert "elements.leg-cut.may-be" in [one.field for one in found.changed[0].changes]
    assert rules.load(own).element("leg-cut").may_be == ("mount",)


def test_a_clause_can_be_given_another_id(own: Path) -> None:
    amended(own, lambda: amending.amend_clause(own, "fault.hop", {"id": "fault.slight-hop"}, **FROM_MEMORY))
    assert rules.load(own).fault("hop").clause == "fault.slight-hop"


def test_a_clause_is_added_behind_those_of_its_kind_with_its_remark(own: Path) -> None:
    found, lines = amended(own, lambda: amending.add_clause(own, WOBBLE))
    assert [one.id for one in found.added] == ["fault.wobble"]
    assert lines[:2] == ["+  # a fault of our own", "+  - id: fault.wobble"]
    assert not [line for line in lines if line.startswith("-")]
    ids = [one.id for one in rules.load(own).clauses if one.rule == "fault"]
    assert ids[-1] == "fault.wobble"


def test_a_clause_is_added_where_it_is_wanted(own: Path) -> None:
    as_item = "- " + "  ".join(WOBBLE.splitlines(keepends=True)[1:])
    amended(own, lambda: amending.add_clause(own, as_item, after="fault.fall"))
    ids = [one.id for one in rules.load(own).clauses]
    assert ids[ids.index("fault.fall") + 1] == "fault.wobble"


def test_a_clause_added_and_taken_away_again_leaves_the_file_as_it_was(own: Path) -> None:
    before = own.read_bytes()
    amending.add_clause(own, WOBBLE.partition("\n")[2])
    amending.take_away_clause(own, "fault.wobble")
    assert own.read_bytes() == before


def test_taking_a_clause_away_leaves_the_heading_of_the_next_part(own: Path) -> None:
    remarks = [line for line in own.read_text(encoding="utf-8").splitlines() if line.strip().startswith("#")]
    _, lines = amended(own, lambda: amending.take_away_clause(own, "extra-swings"))
    assert {line[:1] for line in lines} == {"-"}
    after = own.read_text(encoding="utf-8").splitlines()
    assert [line for line in after if line.strip().startswith("#")] == remarks


def test_the_head_can_be_amended(own: Path) -> None:
    changes = {"season": "2027-28", "cautions": ["Not official, ever.", "Ours."]}
    found, _ = amended(own, lambda: amending.amend_head(own, changes))
    assert {one.field for one in found.head} == {"season", "cautions"}
    assert rules.load(own).cautions == ("Not official, ever.", "Ours.")


@pytest.mark.parametrize(
    ("clause", "changes", "code"),
    [
        ("fault.hop", {"up-to": "0.070 points"}, "bad-value"),
        ("fault.hop", {"up-to": "lots"}, "bad-value"),
        ("fault.hop", {"up-to": "-0.100 points"}, "bad-value"),
        ("fault.hop", {"up-to": "1e999999 points"}, "bad-value"),
        ("fault.hop", {"amount": "0.100 points"}, "amount"),
        ("fault.hop", {"amont": "0.100 points"}, "unknown-field"),
        ("fault.hop", {"amount": ""}, "unknown-field"),
        ("fault.hop", {"title": "\x00"}, "not-text"),
        ("fault.hop", {"title": "a\udcffb"}, "not-text"),
        ("fault.hop", {"id": ["a", "b"]}, "no-text"),
        ("elements.restricted", {"elements.giants.name": "Giants"}, "unknown-field"),
        ("steps-together", {"faults": ["small-step", "no-such"]}, "unknown-fault"),
        ("fault.hop", {"name: x\n    b": "c"}, "bad-field"),
        ("no-such", {"amount": "0.100 points"}, "unknown-clause"),
    ],
)
def test_what_would_be_no_sound_book_is_refused_and_nothing_is_written(
    own: Path, clause: str, changes: dict[str, str | list[str]], code: str
) -> None:
    assert code in refused(own, lambda: amending.amend_clause(own, clause, changes, **FROM_MEMORY))


@pytest.mark.parametrize(
    ("since", "source"), [("", "from memory"), ("soon", "from memory"), ("2027-01-01", "")]
)
def test_no_value_is_amended_without_a_date_and_a_source(own: Path, since: str, source: str) -> None:
    changes = {"up-to": "0.200 points"}
    assert refused(own, lambda: amending.amend_clause(own, "fault.hop", changes, since=since, source=source))


def test_every_problem_is_told_at_once_and_at_its_clause(own: Path) -> None:
    changes = {"name": "", "scope": "always"}
    with pytest.raises(rules.RuleBookError) as error:
        amending.amend_clause(own, "fault.hop", changes, since="soon", source="somebody")
    assert len(error.value.problems) == 4
    assert {one.where for one in error.value.problems} == {f"{own}: clause fault.hop"}


def test_a_clause_that_others_need_is_not_taken_away(own: Path) -> None:
    assert "unknown-fault" in refused(own, lambda: amending.take_away_clause(own, "fault.small-step"))


@pytest.mark.parametrize("text", ["", "- a\n- b\n", "id: [", "just words", "id: &x a\n"])
def test_what_is_no_clause_is_not_added(own: Path, text: str) -> None:
    assert refused(own, lambda: amending.add_clause(own, text, name="clause.yaml"))


def test_a_clause_is_not_added_twice(own: Path) -> None:
    amending.add_clause(own, WOBBLE)
    assert "given-twice" in refused(own, lambda: amending.add_clause(own, WOBBLE))


@pytest.mark.parametrize("field", ["clauses", "clauses.fault.hop.name", "format"])
def test_the_head_is_not_a_way_round_date_and_source(own: Path, field: str) -> None:
    assert refused(own, lambda: amending.amend_head(own, {field: "x"})) == ("not-head",)


def test_a_shipped_edition_is_never_amended() -> None:
    path = rules.find("demo-bars-2")
    for change in (
        lambda: amending.amend_clause(path, "fault.hop", {"up-to": "0.200 points"}, **FROM_MEMORY),
        lambda: amending.add_clause(path, WOBBLE),
        lambda: amending.take_away_clause(path, "extra-swings"),
        lambda: amending.amend_head(path, {"season": "2027-28"}),
    ):
        assert refused(path, change) == ("shipped",)


def test_a_shipped_edition_is_not_amended_through_a_link_either(tmp_path: Path) -> None:
    link = tmp_path / "link.yaml"
    link.symlink_to(rules.find("demo-bars-2"))
    assert refused(link, lambda: amending.take_away_clause(link, "extra-swings")) == ("shipped",)


def test_a_link_stays_a_link_and_rights_stay_as_they_were(own: Path, tmp_path: Path) -> None:
    own.chmod(0o640)
    link = tmp_path / "link.yaml"
    link.symlink_to(own)
    amending.amend_head(link, {"season": "2027-28"})
    assert link.is_symlink()
    assert rules.load(own).season == "2027-28"
    assert own.stat().st_mode & 0o777 == 0o640


def test_a_protected_file_stays_as_it_is(own: Path) -> None:
    own.chmod(0o444)
    assert refused(own, lambda: amending.amend_head(own, {"season": "2027-28"})) == ("unwritable",)


def test_a_file_that_is_there_is_never_written_over(own: Path) -> None:
    assert refused(own, lambda: amending.new_book(own)) == ("exists",)
    assert refused(own, lambda: amending.copy_book(own, own, id="other")) == ("exists",)


def test_a_folder_is_no_file_and_a_missing_folder_is_said(tmp_path: Path) -> None:
    assert refused(tmp_path, lambda: amending.new_book(tmp_path)) == ("folder",)
    nowhere = tmp_path / "nowhere" / "own.yaml"
    with pytest.raises(rules.RuleBookError, match="cannot be written"):
        amending.new_book(nowhere)


def test_line_ends_of_another_system_and_their_mark_are_kept(own: Path) -> None:
    other = "\ufeff" + own.read_text(encoding="utf-8").replace("\n", "\r\n")
    own.write_bytes(other.encode())
    amending.amend_clause(own, "fault.hop", {"up-to": "0.200 points"}, **FROM_MEMORY)
    amending.add_clause(own, WOBBLE)
    text = own.read_bytes().decode()
    assert text.startswith("\ufeff")
    assert text.count("\r\n") == text.count("\n")
    assert rules.check(own) == ()


def test_a_book_that_has_problems_is_mended_before_it_is_amended(own: Path) -> None:
    own.write_text(own.read_text(encoding="utf-8").replace("scope: each", "scope: now", 1))
    assert "bad-value" in refused(own, lambda: amending.amend_head(own, {"season": "2027-28"}))


def test_an_element_is_added_to_its_list_by_putting_its_code_first(own: Path) -> None:
    changes = {"elements.own-turn.code": "own-turn", "elements.own-turn.name": "A turn of our own"}
    clause = next(one.id for one in rules.load(own).clauses if one.rule == "elements")
    amending.amend_clause(own, clause, changes, **FROM_MEMORY)
    added = rules.load(own).element("own-turn")
    assert (added.name, added.clause) == ("A turn of our own", clause)
