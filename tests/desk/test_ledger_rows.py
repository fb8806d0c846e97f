"""The sheet is read from start value to final score. The sheet shown here is added up by hand."""

from reviewer.desk.ledger import posted_words, reachable_words, rows_of
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.sheets import JudgeScore, Line, NotEarned, Reachable, ScoreSheet


def points(text: str) -> Points:
    return Points.parse(text)


SHEET = ScoreSheet(
    rule_book=("b", "0"),
    start_value=points("9.500"),
    value_parts=5,
    judges=(JudgeScore("A", points("9.400")), JudgeScore("B", points("9.300"))),
    panel_average=points("9.350"),
    final_score=points("9.050"),
    reachable=Reachable((points("9.000"), points("9.050")), points("9.000"), points("9.050"), True, ()),
    lines=(
        Line("start.1", "start-value", None, points("-0.500"), (), message("no mount"), "from memory"),
        Line("e.1", "execution", "A", points("-0.100"), ("m2",), message("arms bent"), "from memory"),
        Line("e.1", "execution", "B", points("-0.200"), ("m3",), message("arms bent"), "from memory"),
        Line("n.1", "neutral", None, points("-0.300"), ("m4",), message("mats"), "from memory"),
    ),
    not_earned=(NotEarned("v.1", ("m1",), "spotted", message("spotted")),),
)


def test_lines_stand_before_the_sub_total_they_lead_to() -> None:
    assert [row.points for row in rows_of(SHEET)] == [
        "−0.50", "9.500", "−0.10", "9.400", "−0.20", "9.300", "9.350", "−0.30", "9.050", "",
    ]  # fmt: skip


def test_every_line_names_clause_source_and_marks() -> None:
    row = rows_of(SHEET)[2]
    assert row.marks == ("m2",)
    assert "e.1" in row.beneath
    assert "from memory" in row.beneath


def test_a_posted_score_is_held_against_what_can_be_reached() -> None:
    assert reachable_words(SHEET) == "Can be reached: 9.000 to 9.050"
    assert "nearest is 9.050" in posted_words(SHEET, points("9.600"))
    assert "can be reached" in posted_words(SHEET, points("9.000"))
