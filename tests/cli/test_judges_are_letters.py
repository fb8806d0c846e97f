"""Judges and authors are letters and athletes codes wherever one is handed in; names are not repeated."""

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions, casefile
from reviewer.actions.samples import letter
from reviewer.terms.codes import is_code, no_athlete_code
from reviewer.terms.problems import DocumentError, ReviewerError

NAMES = ["Alice Smith", "Alice", "Smith, A.", "A. S.", "judge-Alice", "Al", "", " ", "A\n", "ß", "A1234"]
ATHLETES = ["G-07", "12", "2026/114", "bib_3", "athlete-1", "unnamed"]
NO_ATHLETES = ["Anna Müller", "Anna", "Anna 7", "<b>G-07</b>", "G-07\n", "", "7" * 21, "Müller-7", "-7", "٣"]
CODES = ["A", "b", "J1", "E3", "D2", "SJ", "12", "judge-2", "judge-k", "judge-E10"]


@pytest.fixture
def case(tmp_path: Path) -> Path:
    actions.start_case(tmp_path / "a.case", author="A", athlete_code="G-1", consent="given").close()
    return tmp_path / "a.case"


def problems(*words: str | Path) -> tuple[int, list[dict[str, str]]]:
    command = [sys.executable, "-m", "reviewer", *map(str, words), "--json"]
    found = subprocess.run(command, capture_output=True, text=True, timeout=120)
    return found.returncode, json.loads(found.stdout).get("problems", [])


def document(folder: Path, **more: Any) -> Path:
    fault = {"id": "m1", "kind": "fault", "code": "posture", "amount": "0.100"} | more.pop("mark", {})
    said = {"format": "reviewer.marks/1", "rule_book": "demo-bars-2", "marks": [fault], **more}
    path = folder / "marks.json"
    path.write_text(json.dumps(said), encoding="utf-8")
    return path


def test_a_letter_or_a_short_code_is_a_judge_and_a_name_is_none() -> None:
    assert [one for one in CODES if not is_code(one)] == []
    assert [one for one in NAMES if is_code(one)] == []


def test_a_name_is_refused_with_its_remedy_and_is_not_repeated(case: Path, tmp_path: Path) -> None:
    name = "Alice Smith"
    table = tmp_path / "posted.csv"
    table.write_text(f"judge,score\n{name},9.0\n", encoding="utf-8")
    written = tmp_path / "written.csv"
    written.write_text(f"judge,code,amount\n{name},posture,0.1\n", encoding="utf-8")
    before = case.read_bytes()
    for words in (
        ("posted-sheet", case, "--judge", f"{name}=9.0"),
        ("posted-sheet", case, "--csv", table),
        ("posted-sheet", case, "--csv", written),
        ("panel", "--judge", f"{name}=9.0"),
        ("score", document(tmp_path, mark={"judge": name})),
        ("score", document(tmp_path, judges=[name])),
        ("compare", case, document(tmp_path, mark={"judge": name})),
    ):
        code, found = problems(*words)
        assert (code, [one["code"] for one in found]) == (2, ["no-letter"]), words
        assert "such as A" in found[0]["remedy"]
        assert name not in json.dumps(found).replace(str(tmp_path), "")
    assert case.read_bytes() == before


def test_each_door_into_a_case_is_closed_to_names(case: Path, tmp_path: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        with pytest.raises(ReviewerError, match="names of people"):
            actions.place_mark(audit, kind="fact", code="springboard-left", judge="Alice Smith")
        with pytest.raises(ReviewerError, match="names of people"):
            actions.import_marks(audit, document(tmp_path, mark={"judge": "Alice Smith"}))
        assert audit.marks == ()
    with pytest.raises(ReviewerError, match="names of people"):
        actions.open_case(case, author="Alice")
    with pytest.raises(ReviewerError, match="names of people"):
        actions.start_case(tmp_path / "b.case", author="Alice", athlete_code="G-1", consent="given")
    with pytest.raises(ReviewerError, match="names of people"):
        actions.merge_cases(case, case, tmp_path / "c.case", author="Alice")
    assert sorted(one.name for one in tmp_path.glob("*.case*")) == ["a.case"]


def test_a_place_in_the_document_is_named(tmp_path: Path) -> None:
    _, found = problems("score", document(tmp_path, mark={"judge": "Alice Smith"}))
    assert found[0]["where"].endswith("marks[0].judge")


def test_a_sample_of_judges_takes_the_same_letters() -> None:
    assert letter(" e3 ", "here") == "E3"
    with pytest.raises(DocumentError, match="names of people"):
        letter("Alice", "here")


def test_who_asks_is_a_word_of_the_trade_and_no_name(case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        for name in ("Alice", "alice smith", "Coach Smith"):
            with pytest.raises(ReviewerError, match="names of people"):
                actions.file_inquiry(audit, asked_by=name, about="start value")
        assert actions.file_inquiry(audit, asked_by="parent", about="start value") == "q1"


def test_an_athlete_has_a_code_with_a_digit_and_a_name_is_none() -> None:
    assert [one for one in ATHLETES if no_athlete_code(one, "here")] == []
    assert [one for one in NO_ATHLETES if not no_athlete_code(one, "here")] == []


@pytest.mark.parametrize("said", ["Anna Müller", "<b>G-07</b>", "G" * 10_000 + "1"])
def test_no_case_is_begun_with_the_name_of_an_athlete(tmp_path: Path, said: str) -> None:
    code, found = problems("start", tmp_path / "b.case", "--athlete-code", said)
    assert (code, [one["code"] for one in found]) == (2, ["no-athlete-code"])
    assert "such as G-07" in found[0]["remedy"]
    assert said not in json.dumps(found, ensure_ascii=False)
    assert list(tmp_path.iterdir()) == []


def test_an_older_case_with_a_name_opens_and_its_score_says_that_this_is_no_code(tmp_path: Path) -> None:
    path = tmp_path / "old.case"
    with actions.start_case(tmp_path / "new.case", author="A", athlete_code="G-1", consent="given") as new:
        (chosen,) = (one for one in new.case.events if one.kind == "rule-book-chosen")
        with casefile.create_case(path, "A", "Anna Müller", "given") as old:
            old.keep_book(new.book.text)
            old.append(chosen.kind, chosen.payload)
    warnings = actions.score_document(path)["warnings"]
    assert [one["code"] for one in warnings] == ["no-athlete-code"]
