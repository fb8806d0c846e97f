"""What leaves a case, and the gate in front of it: consent for this use, not withdrawn, not over.

That consent names a purpose and an end, and that a withdrawal ends the use, is the purpose limitation and the
right to withdraw of the data protection rules for children (read in summaries of the UK Children's code and
of club policies).
"""

import json
import subprocess
import sys
from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer.actions.documents import schema

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"
MARKS = ROOT / "annotations" / "square-on.marks.json"


def run(*words: str | Path) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", *map(str, words)], capture_output=True, text=True, timeout=120
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


def answer(*words: str | Path, code: int = 0) -> dict[str, Any]:
    found = run(*words, "--json")
    assert found.returncode == code, found.stdout + found.stderr
    document = dict(json.loads(found.stdout))
    if words[0] in ("consent", "export") and not code:
        assert list(Draft202012Validator(schema(str(words[0]))).iter_errors(document)) == []
    return document


def refused(*words: str | Path) -> str:
    """The code of the one problem a command ends with."""
    (problem,) = answer(*words, code=2)["problems"]
    assert problem["message"]
    assert problem["remedy"]
    return str(problem["code"])


def begun(folder: Path, *words: str) -> Path:
    """A case of the sample clip, with its marks."""
    case = folder / "routine.case"
    assert run("start", case, "--recording", CLIP, *words).returncode == 0
    assert run("marks", "import", case, MARKS).returncode == 0
    return case


@pytest.fixture
def case(tmp_path: Path) -> Path:
    return begun(tmp_path, "--consent", "given")


def test_a_bare_given_covers_the_inquiry_alone(case: Path, tmp_path: Path) -> None:
    assert answer("consent", case)["uses"] == ["inquiry"]
    assert refused("report", case, "-o", tmp_path / "out", "--use", "teaching") == "no-consent"
    assert not (tmp_path / "out").exists()
    answer("report", case, "-o", tmp_path / "out")


def test_without_consent_an_inquiry_is_answered_and_nothing_else_leaves(tmp_path: Path) -> None:
    case = begun(tmp_path)
    answer("report", case, "-o", tmp_path / "out")
    page = (tmp_path / "out" / "report.html").read_text(encoding="utf-8")
    assert "Consent to the use of the recording: not recorded." in page
    found = run("pack", case, "-o", tmp_path / "bag")
    assert found.returncode == 2
    assert "reviewer consent routine.case --for inquiry" in found.stderr
    assert not (tmp_path / "bag").exists()
    assert run("export", case, "--as", "chapters", "-o", tmp_path / "c.vtt").returncode == 2
    assert not (tmp_path / "c.vtt").exists()
    assert answer("consent", case, "--for", "inquiry")["uses"] == ["inquiry"]
    answer("pack", case, "-o", tmp_path / "bag")


def test_while_nobody_recorded_consent_report_letter_and_marks_may_answer_and_say_so(tmp_path: Path) -> None:
    case = begun(tmp_path)
    assert run("inquiry", "file", case, "--by", "coach", "--about", "score").returncode == 0
    letter = tmp_path / "answer.txt"
    for words in (
        ("report", case, "-o", tmp_path / "out"),
        ("inquiry", "letter", case, "q1", "-o", letter),
        ("marks", "export", case, "-o", tmp_path / "marks.json"),
        ("marks", "export", case),
    ):
        found = run(*words)
        assert found.returncode == 0
        assert "Nobody has recorded consent to the use of this recording" in found.stderr, words
    assert "Consent to the use of the recording: not recorded." in letter.read_text("utf-8")
    assert run("marks", "export", case, "--use", "coach").returncode == 2
    answer("consent", case, "--for", "inquiry")
    assert "Nobody" not in run("marks", "export", case).stderr


def test_marks_typed_from_paper_may_answer_an_inquiry(tmp_path: Path) -> None:
    case = tmp_path / "paper.case"
    assert run("start", case).returncode == 0
    answer("report", case, "-o", tmp_path / "out")
    assert refused("report", case, "-o", tmp_path / "more", "--use", "coach") == "no-consent"


def test_consent_ends_after_its_last_day(case: Path, tmp_path: Path) -> None:
    today = date.today()
    kept = answer("consent", case, "--for", "coach,inquiry", "--until", today.isoformat())
    assert kept["uses"] == ["inquiry", "coach"]
    answer("report", case, "-o", tmp_path / "out", "--use", "coach")
    answer("pack", case, "-o", tmp_path / "bag", "--use", "coach")
    assert (tmp_path / "bag" / "data" / "report" / "report.html").is_file()
    yesterday = (today - timedelta(days=1)).isoformat()
    assert refused("consent", case, "--for", "inquiry", "--until", yesterday) == "no-day"
    assert refused("consent", case, "--for", "inquiry", "--until", "30.6.2027") == "no-day"


def test_consent_withdrawn_locks_the_case_to_read_only(case: Path, tmp_path: Path) -> None:
    assert answer("consent", case, "--withdraw")["uses"] == []
    before = case.read_bytes()
    assert refused("report", case, "-o", tmp_path / "out") == "consent-withdrawn"
    added = run("marks", "add", case, "fact", "springboard-left")
    assert added.returncode == 2
    assert "locks the case" in added.stderr
    assert run("marks", "undo", case).returncode == 2
    assert case.read_bytes() == before
    assert answer("score", case)["final_score"]


def test_an_export_is_for_a_use_that_consent_covers(case: Path, tmp_path: Path) -> None:
    out = tmp_path / "chapters.vtt"
    for_coach = ("export", case, "--as", "chapters", "-o", out, "--use", "coach")
    assert refused(*for_coach) == "no-consent"
    assert not out.exists()
    answer("consent", case, "--for", "coach")
    found = answer(*for_coach)
    assert (found["format"], found["as"], found["use"]) == ("reviewer.export/1", "chapters", "coach")
    assert out.read_text(encoding="utf-8").startswith("WEBVTT\n\n")
    assert (
        refused("export", case, "--as", "csv", "-o", tmp_path / "none" / "a.csv", "--use", "coach")
        == "no-folder"
    )


@pytest.mark.parametrize(
    "words",
    [("--for", ""), ("--for", "publicity"), ("--until", "2027-06-30"), ("--withdraw", "--for", "coach")],
    ids=["no use", "another use", "an end of nothing", "both"],
)
def test_what_is_no_consent_is_refused_and_nothing_is_written(case: Path, words: tuple[str, ...]) -> None:
    before = case.read_bytes()
    refused("consent", case, *words)
    assert case.read_bytes() == before
