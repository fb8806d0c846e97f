"""The sheet is read from start value to final score. The sheet shown here is added up by hand."""

from dataclasses import replace

from reviewer.desk.ledger import Place, Row, rows_of
from reviewer.desk.pairing import paired
from reviewer.desk.posting import full_speed_words, posted_words, reachable_words, resting_words
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import Problem
from reviewer.terms.sheets import (
    Decision,
    FullSpeed,
    JudgeScore,
    Line,
    Note,
    NotEarned,
    Range,
    Reachable,
    ScoreSheet,
)
from reviewer.words import Saying, saying

SAY = Saying()


def points(text: str) -> Points:
    return Points.parse(text)


OPEN = Decision(
    ("m2",),
    message("{name} may cost {low} to {high}.", name="Arms bent", low=points("0.050"), high=points("0.300")),
)
SHEET = ScoreSheet(
    rule_book=("b", "0"),
    start_value=points("9.500"),
    value_parts=5,
    judges=(JudgeScore("A", points("9.400")), JudgeScore("B", points("9.300"))),
    panel_average=points("9.350"),
    final_score=points("9.050"),
    reachable=Reachable((points("9.000"), points("9.050")), points("9.000"), points("9.050"), True, (OPEN,)),
    lines=(
        Line("start.1", "start-value", None, points("-0.500"), (), message("no mount"), "from memory"),
        Line("e.1", "execution", "A", points("-0.100"), ("m2",), message("arms bent"), "published: a card"),
        Line("e.1", "execution", "B", points("-0.200"), ("m3",), message("arms bent"), "from memory"),
        Line("n.1", "neutral", None, points("-0.300"), ("m4",), message("mats"), "from memory"),
    ),
    not_earned=(NotEarned("v.1", ("m1",), "spotted", message("spotted")),),
    notes=(Note("one-error", "o.1", ("m2", "m5"), message("This may be one error.")),),
    problems=(Problem("no-element", "m6", message("It belongs to m9."), message("Name an element.")),),
)
ROWS = rows_of(SHEET)


def row(kind: str, rows: tuple[Row, ...] = ROWS) -> Row:
    """The first row of a kind."""
    return next(one for one in rows if one.kind == kind)


def total(words: str, rows: tuple[Row, ...]) -> Row:
    """A sub-total by its name."""
    return next(one for one in rows if one.kind == "total" and one.words == words)


def test_lines_stand_before_the_sub_total_they_lead_to() -> None:
    assert [one.points for one in ROWS if one.kind in ("line", "total")] == [
        "−0.50", "9.500", "−0.10", "9.400", "−0.20", "9.300", "9.350", "−0.30", "9.050",
    ]  # fmt: skip


def test_the_reason_comes_first_and_its_source_is_short_to_the_eye_and_whole_to_the_ear() -> None:
    line = next(one for one in ROWS if one.marks == ("m2",))
    assert (line.words, line.rests, line.span) == ("arms bent", "published", "0.05–0.30")
    assert "a card" not in line.where
    assert line.whole == "arms bent. (0.05–0.30) m2 · Execution · e.1 · published: a card"


def test_a_line_says_at_which_frame_it_lies() -> None:
    rows = rows_of(SHEET, lambda mark: Place(f"frame {mark[1:]}", f"{mark}, frame {mark[1:]}"))
    assert next(one for one in rows if one.marks == ("m2",)).where == "frame 2 · e.1"


def test_every_total_leads_to_the_marks_that_it_rests_on() -> None:
    rows = rows_of(SHEET, earned=("m1", "m7"))
    assert total("Start value", rows).marks == ("m1", "m7")
    assert total("Score of judge A", rows).marks == ("m2",)
    assert total("Final score", rows).marks == ("m2", "m3", "m4")


def test_what_is_wrong_stands_first_with_its_remedy_then_what_may_be_charged_twice() -> None:
    assert [one.kind for one in ROWS[:2]] == ["problem", "warning"]
    assert row("problem").more == "Name an element."
    assert row("problem").marks == ("m6",)
    assert row("warning").marks == ("m2", "m5")


def test_each_decision_left_open_leads_to_its_mark_beneath_what_they_span() -> None:
    heading = next(one for one in ROWS if one.words == "Left open by the marks")
    assert heading.more == "They span 9.000 to 9.050."
    assert row("decision").words == "Arms bent may cost 0.050 to 0.300."
    assert row("decision").marks == heading.marks == ("m2",)


def test_what_the_panel_posted_stands_beside_each_total() -> None:
    posted = PostedSheet(points("9.600"), (("B", points("9.300")),), neutral=points("0.100"))
    rows = rows_of(SHEET, posted=posted)
    assert total("Start value", rows).more == "Posted 9.600: 0.100 more."
    assert total("Score of judge A", rows).more == ""
    assert total("Score of judge B", rows).more == "Posted 9.300: the same."
    assert (total("Neutral deductions", rows).points, total("Neutral deductions", rows).more) == (
        "0.300", "Posted 0.100: 0.200 less.",
    )  # fmt: skip


def test_a_posted_score_is_held_against_what_can_be_reached() -> None:
    assert reachable_words(SHEET, SAY) == "Can be reached: 9.000 to 9.050. Left open: 1."
    assert "nearest is 9.050" in posted_words(SHEET, points("9.600"), SAY)
    assert "can be reached" in posted_words(SHEET, points("9.000"), SAY)
    assert posted_words(SHEET, points("9.050"), SAY) == "the same as the marks come to"


def test_points_are_counted_by_what_they_rest_on_and_stand_with_the_final_score() -> None:
    assert resting_words(SHEET, SAY) == "Points by source: 1.000 from memory, 0.100 published."
    assert "Points by source" in total("Final score", ROWS).more


def test_german_points_by_source_have_decimal_commas() -> None:
    assert "1,000" in resting_words(SHEET, saying("de"))


def test_beside_the_score_at_full_speed_stands_what_could_be_reached_there_and_the_posted_score() -> None:
    reach = Range((points("9.100"), points("9.200")), points("9.100"), points("9.200"), True)
    seen = FullSpeed(SHEET.judges, points("9.150"), ("m2",), reach)
    rows = rows_of(replace(SHEET, full_speed=seen), posted=PostedSheet(final=points("9.200")))
    row = total("Seen at full speed", rows)
    assert row.points == "9.150"
    assert "Can be reached at full speed: 9.100 to 9.200." in row.more
    assert "Posted 9.200 can be reached at full speed." in row.more
    assert "cannot" in full_speed_words(seen, points("9.150"), SAY)


def test_what_is_supposed_stands_beside_line_by_line_and_in_the_totals() -> None:
    lines = (replace(SHEET.lines[1], points=points("-0.300")), *SHEET.lines[2:])
    new = Line("x.1", "neutral", None, points("-0.100"), ("m8",), message("late"), "from memory")
    other = replace(SHEET, lines=(*lines, new), final_score=points("8.850"), problems=())
    found = {one.words: (one.points, one.supposed) for one in paired(ROWS, rows_of(other), SAY)}
    assert found["no mount"] == ("−0.50", "gone")
    assert found["It belongs to m9."] == ("", "gone")
    assert found["late"] == ("", "−0.10")
    assert found["mats"] == ("−0.30", "")
    assert found["Final score"] == ("9.050", "8.850")
    assert found["Average of the panel"] == ("9.350", "")


def test_a_new_line_stands_where_it_would_stand() -> None:
    lines = list(SHEET.lines)
    lines.insert(2, replace(lines[1], clause="e.2", marks=("m8",), why=message("legs bent")))
    words = [one.words for one in paired(ROWS, rows_of(replace(SHEET, lines=tuple(lines))), SAY)]
    assert words.index("legs bent") == words.index("Score of judge A") - 1
