"""An own rule book under the pen: each change on disk at once, refused whole, and taken back step by step."""

from pathlib import Path

import pytest

from reviewer.actions.books import copy_book
from reviewer.actions.ownbooks import HEAD, OwnBook, Wanted
from reviewer.rules import RuleBookError

FROM = ("2026-11-01", "published: Circular 3, page 2")


@pytest.fixture
def path(tmp_path: Path) -> Path:
    made = tmp_path / "club-3.yaml"
    copy_book("demo-bars-2", made, id="club-3")
    return made


@pytest.fixture
def own(path: Path) -> OwnBook:
    return OwnBook(str(path))


def hop(amount: str) -> Wanted:
    return Wanted("fault.hop", {"up-to": amount}, *FROM)


def test_what_is_tried_out_shows_what_would_differ_and_writes_nothing(own: OwnBook, path: Path) -> None:
    before = path.read_bytes()
    would_be = own.try_out(hop("0.20 points"))
    assert own.opened is not None
    found = own.against(own.opened, would_be)
    assert found is not None
    value = found.changed[0].changes[0]
    assert (value.field, value.before, value.after) == ("up-to", "0.100 points", "0.20 points")
    assert path.read_bytes() == before
    assert own.steps == 0


def test_a_kept_change_is_in_the_file_and_undo_leads_back_to_how_it_was_opened(
    own: OwnBook, path: Path
) -> None:
    before = path.read_bytes()
    own.keep(hop("0.20 points"))
    own.keep(Wanted(HEAD, {"season": "2027-28"}))
    assert b"up-to: 0.20 points" in path.read_bytes()
    assert own.undo()
    assert own.undo()
    assert not own.undo()
    assert path.read_bytes() == before
    assert own.redo()
    assert b"up-to: 0.20 points" in path.read_bytes()


def test_a_bad_value_is_refused_once_with_place_and_remedy(own: OwnBook, path: Path) -> None:
    before = path.read_bytes()
    with pytest.raises(RuleBookError) as refused:
        own.keep(hop("0,20 points"))
    assert [one.code for one in refused.value.problems] == ["bad-value"]
    assert "clause fault.hop" in refused.value.problems[0].where
    assert path.read_bytes() == before
    assert own.steps == 0


def test_an_edition_that_travels_with_the_program_is_never_changed() -> None:
    shipped = OwnBook("demo-bars-2")
    before = shipped.path.read_bytes()
    assert shipped.shipped
    for change in (hop("0.20 points"), Wanted(HEAD, {"season": "2027-28"})):
        with pytest.raises(RuleBookError, match="never amended"):
            shipped.keep(change)
    assert shipped.path.read_bytes() == before


def test_a_book_with_problems_is_mended_one_by_one_and_no_problem_may_be_added(
    own: OwnBook, path: Path
) -> None:
    text = path.read_text(encoding="utf-8")
    path.write_text(
        text.replace("takes: 2.000 points", "takes: two").replace("edge: included", "edge: in", 1),
        encoding="utf-8",
    )
    assert own.read_again()
    assert [own.clause_at(one).id for one in own.problems if own.clause_at(one)] == [  # type: ignore[union-attr]
        *("cast.limit", "few-value-parts"),
    ]
    with pytest.raises(RuleBookError, match="'up-to'"):
        own.keep(hop("much"))
    own.keep(Wanted("few-value-parts", {"takes": "2.000 points"}, *FROM))
    assert own.book is None
    assert len(own.problems) == 1
    own.keep(Wanted("cast.limit", {"edge": "included"}, *FROM))
    assert own.book is not None
    assert own.problems == ()


def test_undo_does_not_write_over_what_somebody_else_wrote(own: OwnBook, path: Path) -> None:
    own.keep(hop("0.20 points"))
    theirs = path.read_bytes() + b"# a remark\n"
    path.write_bytes(theirs)
    with pytest.raises(RuleBookError, match="changed elsewhere"):
        own.undo()
    assert path.read_bytes() == theirs
    assert own.read_again()
    assert own.undo()
    assert b"# a remark" not in path.read_bytes()


def test_a_clause_is_repeated_under_its_own_id_and_code_and_taken_away(own: OwnBook) -> None:
    own.repeat("fault.hop", "fault.wobble")
    assert own.book is not None
    assert own.book.fault("wobble").amounts == own.book.fault("hop").amounts
    own.take_away("fault.wobble")
    assert "wobble" not in own.book.fault_of


def test_an_example_that_a_new_amount_contradicts_is_named_at_its_clause(own: OwnBook) -> None:
    own.keep(Wanted("cast.tolerance", {"takes": "0.200 points"}, *FROM))
    assert own.book is not None
    assert {clause.id for one in own.problems if (clause := own.clause_at(one))} == {"cast.tolerance"}
    own.keep(Wanted("cast.tolerance", {"examples": ""}, *FROM))
    assert own.problems == ()
