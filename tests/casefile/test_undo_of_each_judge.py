"""Undo and redo work as in any editor, for each author alone, and undone events never happened."""

import os
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from reviewer.casefile import Case, CaseError, CaseState, check_chain, create_case, fold, open_case

MARK = {"kind": "element", "code": "cast"}
GESTURES = some.lists(
    some.sampled_from(["place", "change", "withdraw", "posted", "undo", "redo"]), max_size=14
)


@contextmanager
def new_case() -> Iterator[Case]:
    memory = "/dev/shm" if os.access("/dev/shm", os.W_OK) else None
    with (
        tempfile.TemporaryDirectory(dir=memory) as folder,
        create_case(Path(folder) / "a.case", "judge-1", "G-07", "given") as case,
    ):
        yield case


def gesture(case: Case, what: str, number: int) -> None:
    ids = [mark.id for mark in case.state.marks]
    if what == "place" or (what in ("change", "withdraw") and not ids):
        case.append("mark-placed", {"mark": {**MARK, "id": f"m{number}", "order": number}})
    elif what == "change":
        case.append("mark-changed", {"mark": {**MARK, "id": ids[0], "order": -number}})
    elif what == "withdraw":
        case.append("mark-withdrawn", {"id": ids[-1]})
    else:
        case.append("posted-entered", {"score": f"8.{number:03d}"})


def seen(state: CaseState) -> tuple[object, ...]:
    return (state.marks, state.readings, state.posted, state.consent)


@given(GESTURES)
@settings(max_examples=60, deadline=None)
def test_undo_and_redo_walk_the_history_of_an_editor(gestures: list[str]) -> None:
    with new_case() as case:
        done, undone = [seen(case.state)], []
        for number, what in enumerate(gestures):
            if what == "undo":
                if len(done) > 1:
                    case.undo()
                    undone.append(done.pop())
                else:
                    with pytest.raises(CaseError, match="no change to undo"):
                        case.undo()
            elif what == "redo":
                if undone:
                    case.redo()
                    done.append(undone.pop())
                else:
                    with pytest.raises(CaseError, match="nothing undone"):
                        case.redo()
            else:
                gesture(case, what, number)
                done.append(seen(case.state))
                undone.clear()
            assert seen(case.state) == done[-1]
        assert check_chain(case.events) == ()
        for end in range(len(case.events) + 1):
            fold(case.events[:end])
        with open_case(case.path, None) as reader:
            assert reader.state == case.state


@given(some.lists(some.tuples(some.sampled_from("AB"), some.booleans()), max_size=12))
@settings(max_examples=40, deadline=None)
def test_one_judge_never_undoes_another(gestures: list[tuple[str, bool]]) -> None:
    with new_case() as case:
        kept: dict[str, list[str]] = {"A": [], "B": []}
        for number, (author, place) in enumerate(gestures):
            case.author = author
            if place:
                case.append("mark-placed", {"mark": {**MARK, "id": f"{author}{number}"}})
                kept[author].append(f"{author}{number}")
            elif kept[author]:
                case.undo()
                kept[author].pop()
            else:
                with pytest.raises(CaseError) as refused:
                    case.undo()
                assert refused.value.problems[0].code == "nothing-to-undo"
            assert {mark.id for mark in case.state.marks} == {*kept["A"], *kept["B"]}


def test_another_judges_event_cannot_be_undone_by_naming_it(case: Case) -> None:
    event = case.append("mark-placed", {"mark": {**MARK, "id": "m1"}})
    case.author = "judge-2"
    with pytest.raises(CaseError) as refused:
        case.append("undone", {"event": event.hash})
    assert refused.value.problems[0].code == "not-undoable"
    assert len(case.state.marks) == 1


def test_consent_citations_and_reports_cannot_be_undone(case: Case) -> None:
    case.append("rule-book-chosen", {"id": "b", "sha256": "a" * 64, "clauses": {}})
    case.append("report-written", {"files": {"report.html": "a" * 64}})
    case.append("consent-changed", {"consent": "withdrawn"})
    with pytest.raises(CaseError) as refused:
        case.undo()
    assert refused.value.problems[0].code == "nothing-to-undo"
    assert case.state.consent == "withdrawn"


def test_a_change_of_a_mark_that_was_never_placed_is_no_mark(case: Case) -> None:
    case.append("mark-placed", {"mark": {**MARK, "id": "m1"}})
    case.author = "judge-2"
    case.append("mark-changed", {"mark": {**MARK, "id": "m1", "order": 7}})
    case.author = "judge-1"
    case.undo()
    assert case.state.marks == ()
    case.redo()
    assert [mark.order for mark in case.state.marks] == [7]


def test_every_mark_and_reading_leads_to_its_event(case: Case) -> None:
    case.append("mark-placed", {"mark": {**MARK, "id": "m1"}})
    changed = case.append("mark-changed", {"mark": {**MARK, "id": "m1", "order": 2}})
    taken = case.append("reading-taken", {"reading": {"id": "r1", "pts": 3}})
    assert case.state.events_of == {"m1": changed.hash, "r1": taken.hash}
    assert case.state.readings == ({"id": "r1", "pts": 3},)
    case.append("mark-withdrawn", {"id": "m1"})
    assert case.state.events_of == {"r1": taken.hash}


def test_marks_are_in_routine_order(case: Case) -> None:
    for name, at in (("m1", 900), ("m2", 300), ("m3", None)):
        case.append("mark-placed", {"mark": {**MARK, "id": name} | ({} if at is None else {"start": at})})
    assert [mark.id for mark in case.state.marks] == ["m2", "m1", "m3"]
