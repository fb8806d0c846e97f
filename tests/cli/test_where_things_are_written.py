"""What is written goes where it can: a case, a recording or a folder that is there stays as it is."""

import shutil
import sys
from contextlib import redirect_stderr, redirect_stdout
from io import StringIO
from pathlib import Path
from unittest.mock import patch

import pytest

from reviewer import actions
from reviewer.cli import program
from tests.actions import small_routine

CLIP = Path(__file__).resolve().parents[2] / "sample_clips" / "square-on.mp4"


@pytest.fixture
def place(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with a case of a recording, an inquiry in it, another case, a file and a folder."""
    shutil.copyfile(CLIP, tmp_path / "routine.mp4")
    small_routine.begin(tmp_path / "other.case")
    case = tmp_path / "routine.case"
    with actions.start_case(
        case, author="A", athlete_code="G-1", consent="given", recording=tmp_path / "routine.mp4"
    ) as audit:
        actions.file_inquiry(audit, asked_by="coach", about="falls")
    (tmp_path / "folder").mkdir()
    (tmp_path / "notes.txt").write_text("kept", encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return tmp_path


def run(*words: str) -> tuple[int, str]:
    """Exit code and complaint of a command."""
    with (
        patch.object(sys, "argv", ["reviewer", *words]),
        redirect_stdout(StringIO()),
        redirect_stderr(StringIO()) as complaint,
    ):
        code = program.run(lambda *_: 0)
    return code, complaint.getvalue()


FILES = {
    "letter": ("inquiry", "letter", "routine.case", "q1"),
    "table": ("export", "routine.case", "--as", "csv"),
    "marks": ("marks", "export", "routine.case"),
    "still": ("still", "routine.mp4", "3"),
}
PLACES = {
    "folder": ("This is a folder", "Name a file in it"),
    "other.case": ("This is a case", "Name another file"),
    "routine.mp4": ("stays as it is", "Name another file"),
    "nowhere/out": ("There is no folder nowhere", "Make it first"),
    "notes.txt/out": ("There is no folder notes.txt", "name a file elsewhere"),
}


@pytest.mark.parametrize("where", PLACES)
@pytest.mark.parametrize("what", FILES)
def test_a_file_is_written_over_no_case_no_recording_and_no_folder(
    place: Path, what: str, where: str
) -> None:
    kept = {path.name: path.read_bytes() for path in place.iterdir() if path.is_file()}
    code, complaint = run(*FILES[what], "-o", where)
    assert code == 2
    assert all(words in complaint for words in PLACES[where])
    assert {path.name: path.read_bytes() for path in place.iterdir() if path.is_file()} == kept


@pytest.mark.parametrize("what", FILES)
def test_a_file_of_the_same_kind_is_written_anew(place: Path, what: str) -> None:
    assert run(*FILES[what], "-o", "notes.txt")[0] == 0
    assert (place / "notes.txt").read_bytes() != b"kept"


@pytest.mark.parametrize("words", [("report", "routine.case"), ("demo", "--no-window")])
@pytest.mark.parametrize(
    ("where", "said"),
    [
        ("notes.txt", "notes.txt is a file"),
        ("routine.case", "routine.case is a case"),
        ("notes.txt/report", "notes.txt is a file"),
    ],
)
def test_a_folder_is_made_where_no_file_stands(
    place: Path, words: tuple[str, ...], where: str, said: str
) -> None:
    code, complaint = run(*words, "-o", where)
    assert code == 2
    assert said in complaint
    assert "Name a folder" in complaint
    assert (place / "notes.txt").read_text(encoding="utf-8") == "kept"
