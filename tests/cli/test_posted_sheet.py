"""What a panel posted, held against itself and against the marks.

Four judges, the middle two averaged: published sheets of a 2023 national meet (open PDF). Difficulty and
execution less penalty: published tables of uneven bars.
"""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.actions.documents import schema
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet, WrittenDeduction
from reviewer.terms.problems import Problem, ReviewerError
from tests.actions.small_routine import begin, events

HEAD = "judge,score,start_value,neutral,average,final\n"
SCORES = HEAD + "A,9.0,9.2,0.3,8.9,8.6\nB,8.8,,,,\n"


def points(text: str | None) -> Points | None:
    return None if text is None else Points.parse(text)


def sheet(
    *scores: str,
    start_value: str | None = None,
    neutral: str | None = None,
    average: str | None = None,
    final: str | None = None,
) -> PostedSheet:
    judges = tuple((letter, Points.parse(score)) for letter, score in zip("ABCDEFG", scores, strict=False))
    return PostedSheet(points(start_value), judges, points(neutral), points(average), points(final))


def found(case: Path, *given: PostedSheet) -> dict[str, Any]:
    """The document after entering some sheets, as its published schema has it."""
    with actions.open_case(case, author="A") as audit:
        for one in given:
            actions.enter_posted_sheet(audit, one)
        document = actions.posted_sheet_document(audit)
    assert list(Draft202012Validator(schema("posted-sheet")).iter_errors(document)) == []
    return document


def within(document: dict[str, Any]) -> dict[str, Any]:
    return {one["part"]: one["stands"] for one in document["within_itself"]}


def against(document: dict[str, Any], part: str) -> dict[str, Any]:
    return dict(next(one for one in document["against_marks"] if one["part"] == part))


@pytest.fixture
def case(tmp_path: Path) -> Path:
    """The small routine: start value 8.700, average 8.500, 2.300 taken from it, 6.200."""
    return begin(tmp_path / "routine.case")


@pytest.fixture
def international(tmp_path: Path) -> Path:
    path = tmp_path / "international.case"
    actions.start_case(
        path, author="A", athlete_code="G-12", consent="given", rule_book="international-bars"
    ).close()
    return path


@pytest.mark.parametrize(
    ("scores", "average"),
    [
        (("9.3", "9.0", "8.9", "9.1"), "9.050"),
        (("8.8", "8.5", "8.7", "8.4"), "8.600"),
        (("9.2", "9.2", "9.1", "9.1"), "9.150"),
        (("8.3", "8.4", "8.6", "8.5"), "8.450"),
        (("9.0", "8.8", "8.6", "8.9"), "8.850"),
    ],
)
def test_published_averages_of_four_judges_stand(
    international: Path, scores: tuple[str, ...], average: str
) -> None:
    assert within(found(international, sheet(*scores, average=average))) == {"average": True}
    off = str(Points.parse(average) + Points(50))
    document = found(international, sheet(*scores, average=off))
    assert document["within_itself"][0]["derived"] == average
    assert actions.contradicts_itself(document)


@pytest.mark.parametrize(
    ("difficulty", "average", "neutral", "final"),
    [
        ("6.7", "8.500", None, "15.200"),
        ("6.3", "8.533", None, "14.833"),
        ("3.3", "5.566", "0.3", "8.566"),
        ("5.8", "8.200", "0.3", "13.700"),
    ],
)
def test_published_finals_stand(
    international: Path, difficulty: str, average: str, neutral: str | None, final: str
) -> None:
    posted = sheet(start_value=difficulty, average=average, neutral=neutral, final=final)
    assert within(found(international, posted)) == {"final": True}


def test_a_final_that_no_neutral_deduction_explains_contradicts_itself(case: Path) -> None:
    document = found(case, sheet("9.0", "8.8", average="8.9", final="9.0"))
    assert within(document) == {"average": True, "final": False}


def test_where_neutral_deductions_were_not_kept_it_says_how_many_there_would_be(case: Path) -> None:
    (final,) = found(case, sheet(average="8.9", final="8.6"))["within_itself"]
    assert final["stands"] is None
    assert "0.300 of them would explain it" in final["why"]


def test_judges_scores_entered_before_count_where_the_sheet_has_none(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.enter_panel(audit, {"A": Points(9000), "B": Points(8800)})
        actions.enter_panel(audit, {"A": Points(9000), "B": Points(8900)}, when="after")
    assert within(found(case, sheet(average="8.95"))) == {"average": True}


def test_the_clause_that_explains_a_start_value_is_named(case: Path) -> None:
    """Missing in these marks: three value parts of 0.100, a circle and a dismount of 0.500 each (common
    practice, no source); a panel that posts 9.200 cannot have missed both."""
    part = against(found(case, sheet(start_value="9.2")), "start-value")
    assert (part["posted"], part["marked"], part["differs"]) == ("9.200", "8.700", "0.500")
    ways = [[(step["clause"], step["points"]) for step in way] for way in part["explained_by"]]
    assert ways == [[("requirement.circle", "0.500")], [("requirement.dismount", "0.500")]]


@pytest.mark.parametrize("posted", ["8.6", "8.2", "8.8", "9.0", "9.3", "9.4", "9.5", "9.7", "10.0", "7.7"])
def test_every_explanation_comes_to_the_difference(case: Path, posted: str) -> None:
    part = against(found(case, sheet(start_value=posted)), "start-value")
    assert part["explained_by"]
    for way in part["explained_by"]:
        moved = sum(Points.parse(step["points"]).thousandths * step["times"] for step in way)
        assert moved == Points.parse(part["differs"]).thousandths
        assert len({step["clause"] for step in way}) == len(way)


def test_an_equal_start_value_needs_no_explanation_and_an_odd_one_has_none(case: Path) -> None:
    for posted in ("8.7", "8.735"):
        assert against(found(case, sheet(start_value=posted)), "start-value")["explained_by"] == []


def test_written_deductions_stand_beside_the_marks(case: Path) -> None:
    """An element is named by its place or by its mark; each judge is held against that judge's own score."""
    wrote = (
        WrittenDeduction("A", "2", "arms-bent", Points(200)),
        WrittenDeduction("A", "m3", "legs-bent", Points(100)),
        WrittenDeduction("B", "m2", "arms-bent", Points(100)),
    )
    posted = PostedSheet(Points(9200), (("A", Points(8900)), ("B", Points(9000))), deductions=wrote)
    document = found(case, posted)
    assert [(one["mark"], one["marked"]) for one in document["written"]] == [
        ("m4", "0.100"), (None, None), ("m4", "0.100"),
    ]  # fmt: skip
    judges = [(one["judge"], one["derived"], one["stands"]) for one in document["within_itself"]]
    assert judges == [("A", "8.900", True), ("B", "9.100", False)]


def test_parts_entered_one_after_another_stand_together_each_a_step_of_undo(case: Path) -> None:
    number = events(case)
    document = found(case, sheet("9.0", "8.8"), sheet(average="8.9"), sheet(final="8.6", neutral="0.3"))
    assert events(case) == number + 3
    assert document["sheet"] == {
        "judges": [{"judge": "A", "score": "9.000"}, {"judge": "B", "score": "8.800"}],
        "average": "8.900", "final": "8.600", "neutral": "0.300",
    }  # fmt: skip
    with actions.open_case(case, author="A") as audit:
        assert audit.posted == Points(8600)
        actions.undo(audit)
        assert audit.posted is None
        assert audit.state.posted_sheet == sheet("9.0", "8.8", average="8.9")


def test_after_a_merge_a_written_deduction_is_still_on_its_element(tmp_path: Path) -> None:
    """Both cases have the cast m2, which is one mark once they are merged."""
    paths = [tmp_path / f"{author}.case" for author in "AB"]
    for path in paths:
        with actions.start_case(path, author=path.stem, athlete_code="G-12", consent="given") as audit:
            actions.place_mark(audit, kind="element", code="pullover", order=1, roles=("mount",))
            actions.place_mark(audit, kind="element", code="cast", order=2)
            actions.place_mark(
                audit, kind="fault", code="arms-bent", element="m2", amount=Points(100), judge=path.stem
            )
    with actions.open_case(paths[1], author="B") as audit:
        wrote = WrittenDeduction("C", "m2", "arms-bent", Points(100))
        actions.enter_posted_sheet(audit, PostedSheet(deductions=(wrote,)))
    merged = tmp_path / "merged.case"
    actions.merge_cases(*paths, merged, author="A", although_other_recording=True)
    with actions.open_case(merged, author=None) as audit:
        (one,) = actions.posted_sheet_document(audit)["written"]
    assert (one["element"], one["mark"]) == ("m2", "B.m3")


def read(case: Path, text: str | bytes) -> PostedSheet:
    path = case.with_name("posted.csv")
    path.write_bytes(text.encode() if isinstance(text, str) else text)
    with actions.open_case(case, author=None) as audit:
        return actions.read_posted(audit, path)


@pytest.mark.parametrize(
    "text",
    [
        SCORES,
        b"\xef\xbb\xbf" + SCORES.encode(),
        SCORES.replace(".", ";").replace(",", "\t").replace(";", ","),
        SCORES.replace(",", ";").replace(".", ",").replace("\n", "\r\n"),
        "Final,AVERAGE,neutral,start_value,club,score,judge\n8.6,8.9,0.3,9.2,Harbour,9.0,A\n,,,,,8.8,B\n",
        HEAD + "A,9.0,,,,\nB,8.8,,,,\n,,9.2,0.3,8.9,8.6\n",
        HEAD + "A,9.0,9.2,0.3,8.9,8.6\nB,8.8,9.2,0.3,8.9,8.6\n",
    ],
    ids=["commas", "BOM", "tabs", "semicolons", "another order", "figures apart", "figures in each row"],
)
def test_tables_from_many_hands_are_read(case: Path, text: str | bytes) -> None:
    wanted = sheet("9.0", "8.8", start_value="9.2", neutral="0.3", average="8.9", final="8.6")
    assert read(case, text) == wanted


def test_written_deductions_are_read(case: Path) -> None:
    text = "judge;element;code;amount\nA;2;arms-bent;0,1\nB;;legs-bent;0,05\n"
    assert read(case, text).deductions == (
        WrittenDeduction("A", "2", "arms-bent", Points(100)),
        WrittenDeduction("B", None, "legs-bent", Points(50)),
    )


def problems(case: Path, text: str | bytes) -> list[tuple[str, str]]:
    with pytest.raises(ReviewerError) as caught:
        read(case, text)
    assert all(
        isinstance(one, Problem) and str(one.message) and str(one.remedy) for one in caught.value.problems
    )
    return [(one.code, one.where) for one in caught.value.problems]


@pytest.mark.parametrize(
    ("text", "said"),
    [
        (HEAD + "A,nine,,,,\n", [("bad-value", "posted.csv:2: score")]),
        (HEAD + "A,9.0,,-0.3,,\n", [("bad-value", "posted.csv:2: neutral")]),
        (HEAD + "A,19.0,,,,\n", [("no-score", "posted.csv:2: score")]),
        (HEAD + ",9.0,,,,\n", [("no-letter", "posted.csv:2: judge")]),
        (HEAD + "A,9.0,,,,\nA,9.1,,,,\n", [("judge-twice", "posted.csv:3: judge")]),
        (HEAD + "A,9.0,9.2,,,\nB,9.0,9.3,,,\n", [("two-values", "posted.csv:3: start_value")]),
        (HEAD + "A,9.0,,,,,,7\n", [("too-many-cells", "posted.csv:2")]),
        ("judge,average\nA,9.0\n", [("missing-column", "posted.csv:1")]),
        ("judge,code,amount\nA,no-such,0.1\n", [("unknown-fault", "posted.csv:2: code")]),
        (
            "judge,code,amount\nA,,\n",
            [("bad-value", "posted.csv:2: amount"), ("no-code", "posted.csv:2: code")],
        ),
        (
            "judge,element,code,amount\nA,4,arms-bent,0.1\n",
            [("unknown-element-mark", "posted.csv:2: element")],
        ),
        (
            "judge,element,code,amount\nA,0,arms-bent,0.1\n",
            [("unknown-element-mark", "posted.csv:2: element")],
        ),
        (b"judge,score\nA,\xff\n", [("not-utf-8", "posted.csv:2")]),
        ('judge,score\n"A,9.0\n', [("not-csv", "posted.csv:2")]),
        ("", [("no-rows", "posted.csv:1")]),
    ],
)
def test_a_bad_table_is_named_by_line_and_column(
    case: Path, text: str | bytes, said: list[tuple[str, str]]
) -> None:
    before = case.read_bytes()
    assert problems(case, text) == said
    assert case.read_bytes() == before


@pytest.mark.parametrize(
    "given",
    [
        sheet("10.001"),
        PostedSheet(deductions=(WrittenDeduction("A", None, "no-such", Points(100)),)),
        PostedSheet(deductions=(WrittenDeduction("A", "m4", "arms-bent", Points(100)),)),
    ],
    ids=["more than a judge can give", "an unknown fault", "a fault for an element"],
)
def test_what_no_panel_can_have_posted_is_refused(case: Path, given: PostedSheet) -> None:
    before = case.read_bytes()
    with pytest.raises(ReviewerError):
        found(case, given)
    assert case.read_bytes() == before


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    done = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in done.stderr + done.stdout
    return done


def test_the_command_keeps_tables_and_figures_and_says_what_contradicts(case: Path, tmp_path: Path) -> None:
    table = tmp_path / "posted.csv"
    table.write_text(SCORES, encoding="utf-8")
    done = run("posted-sheet", case, "--csv", table, "--json")
    assert done.returncode == 0, done.stderr
    assert json.loads(done.stdout)["format"] == "reviewer.posted-sheet/1"
    done = run("posted-sheet", case, "--final", "8.7")
    assert done.returncode == 1
    assert "Final score 8.700 is not the 8.600 that the other parts come to." in done.stdout
    assert "Start value posted 9.200, by the marks 8.700." in done.stdout
    number = events(case)
    assert run("posted-sheet", case).stdout == done.stdout
    assert events(case) == number


def test_the_command_names_what_is_bad_and_keeps_nothing(case: Path, tmp_path: Path) -> None:
    before = case.read_bytes()
    table = tmp_path / "posted.csv"
    table.write_text(HEAD + "A,nine,,,,\n", encoding="utf-8")
    for words in (("--csv", table), ("--csv", tmp_path / "none.csv"), ("--judge", "A=9", "--judge", "A=8")):
        done = run("posted-sheet", case, "--final", "8.6", *words)
        assert done.returncode == 2
        assert done.stderr
    assert case.read_bytes() == before
