"""A rule-book file as a form shows it: every field of every clause, with what it may say, sound or not."""

from pathlib import Path

import pytest

from reviewer import rules
from reviewer.rules import amending, outlining
from reviewer.rules.outlining import HEAD, Field, Outlined


def outlined(edition: str) -> dict[str, Outlined]:
    text = rules.find(edition).read_text(encoding="utf-8")
    return {one.id: one for one in outlining.outline(text, edition)}


def field(clause: Outlined, place: str) -> Field:
    return next(one for one in clause.fields if one.place == place)


@pytest.mark.parametrize("edition", [path.stem for path in rules.shipped()])
def test_the_clauses_are_those_of_the_book_in_its_order_and_at_its_lines(edition: str) -> None:
    found = list(outlined(edition).values())
    assert found[0].id == HEAD
    book = rules.load(rules.find(edition))
    assert [(one.id, one.lines[0], one.since, one.source) for one in found[1:]] == [
        (clause.id, clause.line, clause.since, str(clause.source)) for clause in book.clauses
    ]
    assert all(one.chapter for one in found[1:])


@pytest.mark.parametrize("edition", [path.stem for path in rules.shipped()])
def test_every_field_that_stands_in_a_clause_can_be_changed_and_says_of_which_kind_it_is(
    edition: str,
) -> None:
    """A field whose kind no reader tells would be offered as plain text: none of a quantity is."""
    for clause in list(outlined(edition).values())[1:]:
        texts = [one for one in clause.fields if one.form.kind == "text" and one.value is not None]
        assert [one.place for one in texts if str(one.value).endswith(" points")] == []


def test_an_amount_may_be_said_in_two_other_ways() -> None:
    hop = outlined("demo-bars-2")["fault.hop"]
    assert field(hop, "up-to").value == "0.100 points"
    assert field(hop, "up-to").instead == ("amount", "up-to", "one-of")
    assert (field(hop, "one-of").value, field(hop, "one-of").form.kind) == (None, "quantities")


def test_a_list_offers_the_codes_of_the_book_and_a_closed_word_its_list() -> None:
    clauses = outlined("demo-bars-2")
    assert field(clauses["requirement.cast"], "not-in").form.allowed == ("mount", "dismount")
    assert field(clauses["cast.limit"], "edge").form.allowed == ("included", "excluded")
    assert "amplitude" in field(clauses["cast.tolerance"], "not-on-top-of-it").form.allowed


def test_the_other_reading_and_the_elements_of_a_list_have_fields_of_their_own() -> None:
    clause = outlined("demo-bars-2")["elements.long-hang-pullover"]
    assert field(clause, "elements.long-hang-pullover.name").value == "Long-hang pullover"
    other = field(clause, "left-open.elements.long-hang-pullover.fulfils")
    assert (other.value, other.form.kind) == (("circle",), "codes")


def test_a_field_that_could_be_added_is_there_without_a_value() -> None:
    clause = outlined("demo-bars-2")["fault.hop"]
    assert field(clause, "full-from") == Field("full-from", None, field(clause, "full-from").form)
    assert field(clause, "full-from").form.unit == "degrees"


def test_a_file_that_is_not_sound_is_outlined_all_the_same() -> None:
    text = rules.find("demo-bars-2").read_text(encoding="utf-8").replace("takes: 2.000 points", "takes: two")
    clauses = {one.id: one for one in outlining.outline(text, "own.yaml")}
    assert field(clauses["few-value-parts"], "takes").value == "two"
    assert outlining.outline("a: [", "own.yaml") == ()


def test_places_are_those_by_which_a_book_is_amended(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    amending.copy_book(rules.find("demo-bars-2"), path, id="own")
    for one in outlined("demo-bars-2").values():
        for said in one.fields:
            if said.value is None or one.id == HEAD:
                continue
            found = amending.amend_clause(
                path, one.id, {said.place: said.value}, since=one.since, source=one.source, keep=False
            )
            assert found.same, (one.id, said.place)
