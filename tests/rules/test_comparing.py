"""What changed from one edition to another is said in full, and nothing else."""

from collections.abc import Callable

from reviewer import rules
from reviewer.rules.comparing import compare
from reviewer.terms.rulebook import RuleBook

TEXT = rules.find("demo-bars-2").read_text(encoding="utf-8")
BOOK = rules.parse(TEXT, "book")


def changed(change: Callable[[str], str]) -> RuleBook:
    text = change(TEXT)
    assert text != TEXT
    return rules.parse(text, "changed")


def without(clause: str) -> Callable[[str], str]:
    def change(text: str) -> str:
        start = text.index(f"  - id: {clause}\n")
        return text[:start] + text[text.index("  - id: ", start + 1) :]

    return change


def test_an_edition_is_the_same_as_itself() -> None:
    assert compare(BOOK, BOOK).same


def test_remarks_alone_change_nothing() -> None:
    assert compare(BOOK, changed(lambda text: f"# a remark\n{text}")).same


def test_the_shipped_pair_differs_as_the_season_did() -> None:
    """Common practice, no source: a medium step rose from 0.10 to 0.15; the cast clause has new words."""
    found = compare(rules.load(rules.find("demo-bars-2-previous")), BOOK)
    by_id = {one.after.id: one for one in found.changed}
    assert [(one.before, one.after) for one in by_id["fault.medium-step"].changes if one.kind == "value"] == [
        ("0.100 points", "0.150 points")
    ]
    assert by_id["cast.limit"].changes
    assert not by_id["cast.limit"].values
    assert "season" in {one.field for one in found.head}


def test_both_ways_round_the_same_clauses_differ() -> None:
    previous = rules.load(rules.find("demo-bars-2-previous"))
    there, back = compare(previous, BOOK), compare(BOOK, previous)
    assert {one.id for one in there.added} == {one.id for one in back.taken_away}
    assert {one.after.id for one in there.changed} == {one.after.id for one in back.changed}


def test_a_changed_amount_is_a_changed_value() -> None:
    found = compare(BOOK, changed(lambda text: text.replace("up-to: 0.300 points", "up-to: 0.250 points", 1)))
    (clause,) = found.changed
    (change,) = clause.changes
    assert (change.field, change.before, change.after) == ("up-to", "0.300 points", "0.250 points")
    assert clause.values


def test_another_date_source_or_name_is_no_changed_value() -> None:
    found = compare(
        BOOK,
        changed(
            lambda text: (
                text.replace("name: Rhythm\n", "name: Rhythm of it\n")
                .replace("title: Rhythm of an", "title: The rhythm of an")
                .replace("{code: giant, name: Giant circle", "{code: giant, name: Giant")
            )
        ),
    )
    assert {change.kind for one in found.changed for change in one.changes} == {"words"}
    assert not any(one.values for one in found.changed)


def test_an_element_is_named_by_its_code_in_what_changed() -> None:
    found = compare(
        BOOK, changed(lambda text: text.replace("{code: leg-cut,", "{code: leg-cut, may-be: [mount],"))
    )
    (clause,) = found.changed
    assert [(one.field, one.before, one.after) for one in clause.changes] == [
        ("elements.leg-cut.may-be", None, "[mount]")
    ]


def test_a_clause_taken_away_is_one_added_the_other_way() -> None:
    shorter = changed(without("fault.third-run-up"))
    assert [one.id for one in compare(BOOK, shorter).taken_away] == ["fault.third-run-up"]
    assert [one.id for one in compare(shorter, BOOK).added] == ["fault.third-run-up"]


def test_clauses_in_another_order_are_told_since_the_first_that_fits_gives_the_reason() -> None:
    def later(text: str) -> str:
        start = text.index("  - id: credit.restricted\n")
        middle = text.index("  - id: ", start + 1)
        end = text.index("  - id: ", middle + 1)
        return text[:start] + text[middle:end] + text[start:middle] + text[end:]

    found = compare(BOOK, changed(later))
    assert len(found.moved) == 1
    assert not found.changed
    assert not found.same
