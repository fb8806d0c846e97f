"""What is on the strip besides marks: begin and end of the exercise, damage, notes."""

from dataclasses import replace

from reviewer import actions
from reviewer.desk.strip.layout import laid_out
from reviewer.desk.strip.routine import Row, collected
from reviewer.desk.window import DeskWindow
from reviewer.terms.exact import Points
from reviewer.terms.measures import Measure
from tests.desk.hands import tick


def rows(desk: DeskWindow, kind: str) -> list[Row]:
    return [row for row in collected(desk.bench).rows if row.kind == kind]


def test_the_exercise_begins_with_its_first_element_and_ends_with_its_last(desk: DeskWindow) -> None:
    assert rows(desk, "begins") == rows(desk, "ends") == []
    audit = desk.bench.open_audit()
    actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 30), end=tick(desk, 45))
    actions.place_mark(audit, kind="element", code="pullover", start=tick(desk, 10), end=tick(desk, 20))
    assert [row.tick for row in rows(desk, "begins")] == [tick(desk, 10)]
    assert [row.tick for row in rows(desk, "ends")] == [tick(desk, 45)]
    assert rows(desk, "begins")[0].words == f"begins {desk.bench.facts.time(10).seconds()} s"  # type: ignore[union-attr]


def test_without_an_end_of_the_last_element_no_end_is_claimed(desk: DeskWindow) -> None:
    actions.place_mark(desk.bench.open_audit(), kind="element", code="cast", start=tick(desk, 3))
    assert rows(desk, "ends") == []


def test_a_fall_after_which_she_goes_on_too_late_ends_the_exercise(desk: DeskWindow) -> None:
    audit = desk.bench.open_audit()
    actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 10), end=tick(desk, 20))
    actions.place_mark(audit, kind="element", code="pullover", start=tick(desk, 60), end=tick(desk, 70))
    actions.place_mark(
        audit, kind="fault", code="fall", at=tick(desk, 18), element="m1", amount=Points.parse("0.5")
    )
    fall = desk.bench.mark("m3")
    assert fall is not None
    actions.change_mark(audit, replace(fall, clock=Measure.time("46 s")))
    (end,) = rows(desk, "ends")
    assert end.tick == tick(desk, 18)
    assert "out of time" in end.words


def test_damage_is_named_with_its_frames(desk: DeskWindow) -> None:
    assert desk.bench.facts is not None
    desk.bench.facts = replace(desk.bench.facts, suspect=((5, 9),))
    (row,) = rows(desk, "damage")
    assert (row.words, row.tick, row.until) == ("damaged, frames 5 to 9", tick(desk, 5), tick(desk, 9))


def test_a_note_stands_at_its_moment_with_its_words(desk: DeskWindow) -> None:
    case = desk.bench.open_audit().case
    case.append("note-written", {"sha256": case.keep_text("Grip slips here"), "at": tick(desk, 7)})
    case.append("note-written", {"sha256": "0" * 64, "at": None})
    assert [(row.words, row.tick) for row in rows(desk, "note")] == [
        ("a note, its words erased", None),
        ("Grip slips here", tick(desk, 7)),
    ]


def test_a_fault_without_a_time_stands_behind_its_element(desk: DeskWindow) -> None:
    audit, amount = desk.bench.open_audit(), Points.parse("0.1")
    for code in ("cast", "pullover"):
        actions.place_mark(audit, kind="element", code=code)
    actions.place_mark(audit, kind="fault", code="arms-bent", element="m1", amount=amount)
    assert [row.mark for row in collected(desk.bench).rows] == ["m1", "m3", "m2"]


def test_a_mark_without_a_time_stays_behind_the_one_it_follows(desk: DeskWindow) -> None:
    audit = desk.bench.open_audit()
    actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 10))
    actions.place_mark(audit, kind="fault", code="arms-bent", element="m1", amount=Points.parse("0.1"))
    order = [row.kind for row in collected(desk.bench).rows]
    assert order == ["begins", "element", "fault"]


def test_a_fact_without_a_time_stands_below_all_that_has_one(desk: DeskWindow) -> None:
    """It was so of the whole exercise: it does not stand at the fall it was said after, nor move with it."""
    audit, amount = desk.bench.open_audit(), Points.parse("0.5")
    actions.place_mark(audit, kind="element", code="cast", start=tick(desk, 10), end=tick(desk, 20))
    actions.place_mark(audit, kind="fault", code="fall", at=tick(desk, 18), element="m1", amount=amount)
    actions.place_mark(audit, kind="fact", code="exercise-ended")
    actions.place_mark(audit, kind="element", code="pullover", start=tick(desk, 40), end=tick(desk, 50))
    last = [row.words for row in collected(desk.bench).rows][-2:]
    assert last == ["without a time", "exercise-ended"]
    shown = laid_out(collected(desk.bench), desk.strip.scale, 20, ())
    assert [name.row.words for name in shown][-2:] == last
    assert shown[-1].stands > desk.strip.scale.whole - 40
