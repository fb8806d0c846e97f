"""The folder of a report from which files are gone, or that is held against another recording."""

import json
import shutil
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.terms.problems import DocumentError, ReviewerError

ROOT = Path(__file__).resolve().parents[2]
OTHER = ROOT / "sample_clips" / "off-axis-fall.mp4"


@pytest.fixture
def report(demo: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(demo / "report", tmp_path / "report"))


def named(folder: Path, **more: Any) -> list[tuple[str, str]]:
    return [(one["what"], one["where"]) for one in actions.verify(folder, **more)["differences"]]


def rewrite(path: Path, change: Callable[[str], str]) -> None:
    path.write_text(change(path.read_text("utf-8")), "utf-8")


def edit(path: Path, change: Callable[[Any], object]) -> None:
    document = json.loads(path.read_bytes())
    change(document)
    path.write_text(json.dumps(document), encoding="utf-8")


def a_better_score(text: str) -> str:
    assert "9.650" in text
    return text.replace("9.650", "9.850")


@pytest.mark.parametrize("gone", ["report.pdf", "case.json"])
def test_a_page_is_held_against_what_is_left(report: Path, gone: str) -> None:
    (report / gone).unlink()
    assert named(report) == [("file", gone)]
    rewrite(report / "report.html", a_better_score)
    found = named(report)
    assert found[0] == ("file", gone)
    assert {what for what, _ in found[1:]} == {"page"}


def test_a_finding_is_held_against_the_case_without_page_and_paper(report: Path) -> None:
    (report / "report.html").unlink()
    (report / "report.pdf").unlink()
    rewrite(report / "report.json", a_better_score)
    found = named(report)
    assert found[:2] == [("file", "report.html"), ("file", "report.pdf")]
    assert ("ledger", "report.json: score.final_score") in found


def test_a_page_is_held_against_a_finding_made_anew_where_the_recording_is_here(
    report: Path, demo: Path
) -> None:
    clip = demo / "square-on.mp4"
    (report / "report.json").unlink()
    assert named(report, recording=clip) == [("file", "report.json")]
    rewrite(report / "report.html", a_better_score)
    assert {what for what, _ in named(report, recording=clip)[1:]} == {"page"}


def test_only_a_page_is_named_with_all_that_is_missing(report: Path) -> None:
    for name in ("report.json", "case.json", "report.pdf"):
        (report / name).unlink()
    found = actions.verify(report)
    assert [one["where"] for one in found["differences"]] == ["report.pdf", "report.json", "case.json"]
    assert found["checked"] == ["files"]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda finding: finding.pop("clauses"),
        lambda finding: finding["clauses"][0].update(since={"said": None}),
        lambda finding: finding["score"].update(lines=[None]),
    ],
)
def test_a_finding_that_no_page_can_be_made_of_is_named(report: Path, spoil: Callable[[Any], object]) -> None:
    (report / "case.json").unlink()
    edit(report / "report.json", spoil)
    found = named(report)
    assert found[0] == ("file", "case.json")
    assert {what for what, _ in found[1:]} <= {"ledger", "page"}
    assert len(found) > 1


def test_another_recording_differs_with_and_without_its_pictures(report: Path) -> None:
    assert named(report, recording=OTHER) == [("recording", OTHER.name)]
    found = actions.verify(report, recording=OTHER, pictures=True)["differences"]
    assert (found[0]["what"], found[0]["where"]) == ("recording", OTHER.name)
    assert {one["what"] for one in found[1:]} == {"picture"}
    assert "Frame 255 is not in the recording" in found[1]["derived"]


def test_a_file_that_is_no_recording_differs_too(report: Path) -> None:
    found = named(report, recording=report / "case.json", pictures=True)
    assert found == [("recording", "case.json"), ("picture", "case.json")]


@pytest.mark.parametrize("name", ["report.json", "case.json"])
@pytest.mark.parametrize("text", ["[" * 100_000, '{"a":' + "[" * 500 + "]" * 500 + "}"])
def test_a_document_nested_without_end_is_refused_with_its_place(report: Path, name: str, text: str) -> None:
    (report / name).write_text(text)
    with pytest.raises(DocumentError) as refused:
        actions.verify(report)
    (problem,) = refused.value.problems
    assert problem.where == name
    assert "line 1 column 10" in str(problem.message)
    assert str(problem.remedy)


@pytest.mark.parametrize(
    "asked",
    [
        None,
        5,
        {"asked": None},
        {"asked": [None]},
        {"asked": [{"answer": "x"}]},
        {"asked": [{"answer": {"words": 5}}]},
    ],
)
def test_an_inquiry_that_is_none_is_named(report: Path, asked: Any) -> None:
    edit(report / "report.json", lambda finding: finding.update(inquiry=asked, settlement=asked))
    found = named(report)
    assert ("ledger", "report.json: settlement") in found
    assert any(where.startswith("report.json: inquiry") for _, where in found)


def test_a_still_of_no_time_is_refused_by_its_number(report: Path) -> None:
    edit(report / "report.json", lambda finding: finding["stills"][1].update(seconds="soon"))
    with pytest.raises(ReviewerError, match=r"report.json: stills\[1\]"):
        actions.verify(report)


@pytest.mark.parametrize("size", [[720], ["720", 1280], [0, 0], {}])
def test_a_still_of_no_size_is_refused_by_its_number(report: Path, size: Any) -> None:
    edit(report / "report.json", lambda finding: finding["stills"][1].update(size=size))
    with pytest.raises(ReviewerError, match=r"report.json: stills\[1\]"):
        actions.verify(report)


def test_five_lines_of_a_page_are_named_and_the_others_counted(report: Path) -> None:
    rewrite(report / "report.html", lambda text: text.replace("<td", "<td "))
    found = actions.verify(report)["differences"]
    lines = [one for one in found if one["where"].startswith("report.html: line ")]
    assert len(lines) == 5
    (rest,) = (one for one in found if one["where"] == "report.html: further lines")
    assert int(rest["stored"].removesuffix(" more")) > 0


def test_a_line_put_into_a_page_is_the_only_one_named(report: Path) -> None:
    page = report / "report.html"
    lines = page.read_text("utf-8").splitlines(keepends=True)
    page.write_text("".join([*lines[:50], "<p>The judge agreed.</p>\n", *lines[50:]]), "utf-8")
    (found,) = actions.verify(report)["differences"]
    assert found == {
        "what": "page",
        "where": "report.html: line 51",
        "stored": "<p>The judge agreed.</p>",
        "derived": "(absent)",
    }


def test_values_are_said_in_words_and_cut_where_they_are_long(report: Path) -> None:
    def change(finding: Any) -> None:
        finding.update(recording=None, remark={"said": None, "by": "x" * 10_000})

    edit(report / "report.json", change)
    found = {one["where"]: one for one in actions.verify(report)["differences"]}
    assert found["report.json: recording"]["stored"] == "nothing"
    remark = found["report.json: remark"]["stored"]
    assert remark.startswith("said: nothing; by: xxx")
    assert remark.endswith("(cut: 10019 signs in all)")
    assert len(remark) < 250
