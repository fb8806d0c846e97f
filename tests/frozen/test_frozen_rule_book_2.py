"""What rule books of version 2, and a case scored by one, said when they were frozen, they say for ever."""

import json
import shutil
from hashlib import sha256
from pathlib import Path

import pytest

from reviewer import actions, rules
from reviewer.actions.examples import run_cases
from reviewer.casefile import check_chain, open_case, read_books, read_events
from reviewer.terms.exact import Points
from reviewer.terms.measures import Measure
from reviewer.terms.provisions import Cap, PanelSize, Required, Spread, TimeLimit, Withheld
from reviewer.terms.rulebook import clause_data

HERE = Path(__file__).parent
CASE = HERE / "rules.v2.case"
BOOKS = ("demo-bars-2.v2.yaml", "own-book.v2.yaml")
RECORDED = json.loads((HERE / "recorded.v2.json").read_text(encoding="utf-8"))
WORKED = {
    "format": "reviewer.marks/1",
    "marks": [
        {"id": "m1", "kind": "element", "code": "pullover", "roles": ["mount"], "order": 1},
        {"id": "m2", "kind": "element", "code": "cast", "order": 2, "angle": {"deg": "-52", "by": "eye"}},
        {"id": "m3", "kind": "element", "code": "sole-circle-dismount", "roles": ["dismount"],
         "with": ["spotted"], "order": 3},
        {"id": "m4", "kind": "fault", "code": "arms-bent", "element": "m2", "amount": "0.100", "judge": "A"},
        {"id": "m5", "kind": "fact", "code": "springboard-left"},
    ],
}  # fmt: skip
"""The pinned worked example."""


@pytest.mark.parametrize("name", [*BOOKS, CASE.name])
def test_the_frozen_files_are_those_that_were_frozen(name: str) -> None:
    assert sha256((HERE / name).read_bytes()).hexdigest() == RECORDED["files"][name]


@pytest.mark.parametrize("name", BOOKS)
def test_a_frozen_book_is_sound_and_its_clauses_say_what_they_said(name: str) -> None:
    book = rules.load(HERE / name)
    said = {one: sha256(text.encode()).hexdigest() for one, text in clause_data(book).items()}
    chosen = [event.payload for event in read_events(CASE) if event.kind == "rule-book-chosen"]
    assert said in [dict(one["clauses"]) for one in chosen]
    assert sorted({clause.rule for clause in book.clauses}) == RECORDED["kinds_of_clause"][name]
    assert [one.clause for one in book.interpretations] == RECORDED["left_open"][name]


@pytest.mark.parametrize("name", BOOKS)
def test_the_examples_of_a_frozen_book_come_out_as_written(name: str) -> None:
    number, differing = run_cases(rules.load(HERE / name), name)
    assert number == RECORDED["examples"][name]
    assert differing == ()


def test_the_frozen_edition_provides_what_its_lines_say() -> None:
    """Read off the file by hand: quantities, edges, scopes, tests and tables of version 2."""
    book = rules.load(HERE / BOOKS[0])
    assert (book.apparatus, book.effective) == ("uneven bars", ("2026-08-01", "2027-07-31"))
    assert [str(one.points) for one in book.all(Required)] == ["0.500"] * 4
    cast = book.cast
    assert (str(cast.limit.at_least), cast.limit.edge_included) == ("-45.000", True)
    assert (str(cast.tolerance.below), cast.tolerance.edge_included) == ("10.000", True)
    assert (cast.tolerance.scope, cast.tolerance.spared) == ("exercise", ("amplitude",))
    (limit,) = book.all(TimeLimit)
    assert (limit.within, limit.edge_included) == (Measure.time("45 seconds"), True)
    assert [(one.judges, one.middle) for one in book.all(PanelSize)] == [
        (1, None), (2, None), (3, None), (4, 2)
    ]  # fmt: skip
    assert [(str(one.average), str(one.allowed)) for one in book.all(Spread)] == [
        ("9.500", "0.200"), ("9.000", "0.500"), ("8.000", "0.750"), ("0.000", "1.000")
    ]  # fmt: skip
    assert [str(one.at_most) for one in book.all(Cap)] == ["0.400"]
    assert len(book.all(Withheld)) == RECORDED["withheld"]
    assert [str(one) for one in book.fault("arms-bent").amounts] == [
        "0.050", "0.100", "0.150", "0.200", "0.250", "0.300"
    ]  # fmt: skip
    assert str(book.fact("extra-matting").more_than) == "9 in"


def test_the_frozen_chain_is_whole_and_ends_in_the_recorded_hash() -> None:
    events = read_events(CASE)
    assert check_chain(events) == ()
    assert [event.kind for event in events] == RECORDED["kinds"]
    assert events[-1].hash == RECORDED["last_hash"]
    assert set(read_books(CASE)) == {RECORDED["files"][name] for name in BOOKS}


def test_the_frozen_case_gives_the_recorded_state() -> None:
    with open_case(CASE, None) as case:
        state = case.state
    assert state.rule_book is not None
    said = {
        "rule_book": state.rule_book.id,
        "marks": [mark.to_json() for mark in state.marks],
        "interpretations": dict(state.interpretations),
        "panel": {when: dict(own) for when, own in state.panel.items()},
        "posted": state.posted,
    }
    assert said == RECORDED["state"]


def test_the_frozen_case_scores_as_worked_out_by_hand() -> None:
    """10.000 - 0.300 value parts - 0.500 circle - 0.500 dismount = 8.700; judge 0.100 for the cast's height,
    0.100 arms, 0.500 fall = 8.000; 0.300 board and 0.300 matting; four performed, so nothing for few = 7.400.

    Common practice, no source.
    """
    score = actions.score_document(CASE)
    assert (score["start_value"], score["value_parts"]) == ("8.700", 2)
    assert (score["panel_average"], score["final_score"]) == ("8.000", "7.400")
    assert score["full_speed"]["final_score"] == "7.900"
    assert score["reachable"]["scores"] == ["7.200", "7.250", "7.300", "7.350", "7.400", "7.450"]
    assert [one["clause"] for one in score["interpretations"]] == ["few-value-parts"]
    assert [one["reason"] for one in score["not_earned"]] == ["not-seen", "spotted"]
    assert [one["code"] for one in score["notes"]] == ["time-limit", "only-slowed"]
    assert {when: one["final_score"] for when, one in score["panel"].items()} == {
        "before": "7.550", "after": "7.550"
    }  # fmt: skip


def test_the_frozen_case_can_be_worked_on(tmp_path: Path) -> None:
    copy = Path(shutil.copy(CASE, tmp_path / "case.case"))
    with actions.open_case(copy, author="judge-1") as audit:
        assert audit.book.id == "demo-bars-2"
        actions.redo(audit)
        assert audit.book.id == "own-book"
        actions.undo(audit)
        actions.undo(audit)
        assert audit.posted is None
        actions.choose_interpretation(audit, "few-value-parts", "stated")
        assert str(audit.sheet.final_score) == "5.400"


def test_the_frozen_case_verifies() -> None:
    found = actions.verify(CASE)
    assert (found["same"], found["differences"]) == (True, [])


@pytest.mark.parametrize("name", ["demo-bars-2.v1.yaml", "demo-bars-2.v2.yaml"])
def test_the_frozen_editions_score_the_worked_example_exactly(name: str, tmp_path: Path) -> None:
    """Worked by hand: 10.0 - 0.3 - 0.5 - 0.5 = 8.7; - 0.1 - 0.1 by the judge; - 0.3 - 2.0 from the average.

    Common practice, no source.
    """
    marks = tmp_path / "marks.json"
    marks.write_text(json.dumps(WORKED), encoding="utf-8")
    score = actions.score_document(marks, rule_book=str(HERE / name), posted=Points.parse("8.900"))
    assert (score["start_value"], score["value_parts"], score["final_score"]) == ("8.700", 2, "6.200")
    assert score["judges"] == [{"judge": "A", "score": "8.500"}]
    assert score["reachable"]["scores"] == ["6.000", "6.050", "6.100", "6.150", "6.200", "6.250"]
    assert score["posted"] == {"score": "8.900", "reachable": False, "nearest": "6.250"}
    assert score["problems"] == []
