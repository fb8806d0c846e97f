"""Several recordings of one start by commands: added, joined, counted, marked on, reported and verified."""

import json
import subprocess
import sys
from pathlib import Path

import pytest

from reviewer import cli
from reviewer.cli.program import program
from reviewer.cli.recordings import recordings

COMMANDS = ("list", "add", "join", "beside", "attempt", "count")
MOVING = ("-v", "error", "-nostdin", "-f", "lavfi", "-i")


@pytest.fixture(scope="module")
def clips(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A clip of 30 pictures a second, one of 25, and one of another attempt; made with ffmpeg."""
    folder = tmp_path_factory.mktemp("clips")
    for name, rate, hue in (("table.mkv", 30, 0), ("stand.mkv", 25, 0), ("again.mkv", 30, 90)):
        source = (f"testsrc2=s=64x36:r={rate}:d=3", "-vf", f"hue=h={hue}", "-c:v", "ffv1", name)
        subprocess.run(["ffmpeg", *MOVING, *source], cwd=folder, check=True)
    return folder


class Terminal:
    """Commands in this process: exit code, standard output, standard error."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> None:
        self._monkeypatch, self._capsys = monkeypatch, capsys
        if "recordings" not in program.commands:
            monkeypatch.setitem(program.commands, "recordings", recordings)

    def __call__(self, *words: str | int | Path) -> tuple[int, str, str]:
        self._monkeypatch.setattr(sys, "argv", ["reviewer", *map(str, words)])
        code = cli.run(lambda *_: 0)
        said = self._capsys.readouterr()
        return code, said.out, said.err

    def well(self, *words: str | int | Path) -> str:
        code, out, err = self(*words)
        assert (code, err) == (0, "")
        return out


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Terminal:
    return Terminal(monkeypatch, capsys)


@pytest.fixture
def case(run: Terminal, clips: Path, tmp_path: Path) -> Path:
    made = tmp_path / "routine.case"
    run.well("start", made, "--consent", "given", "--recording", clips / "table.mkv")
    run.well("recordings", "add", made, clips / "stand.mkv")
    return made


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_explains_itself_with_an_example(run: Terminal, command: str) -> None:
    assert f"Example: reviewer recordings {command}" in run.well("recordings", command, "--help")


def test_two_cameras_are_joined_and_each_shows_the_other(run: Terminal, case: Path) -> None:
    said = run.well("recordings", "join", case, 1, 30, 2, 25)
    assert "± 0.030 s (95 %)" in said  # 1.96 sqrt((33^2 + 40^2) / 12) ms; mkv ticks in whole ms
    found = json.loads(run.well("recordings", "list", case, "--json"))
    assert found["format"] == "reviewer.recordings/1"
    first, second = found["recordings"]
    assert (first["offset"], first["attempt"], first["counts"]) == (None, 1, True)
    assert second["offset"] == {"to": 1, "seconds": "-0.003500", "u_s": "0.014969"}
    assert Path(second["where"]).name == "stand.mkv"
    assert "Frame 25 of recording 2." in run.well("recordings", "beside", case, 30)
    beside = json.loads(run.well("recordings", "beside", case, 25, "--of", 2, "--on", 1, "--json"))
    assert (beside["recording"], beside["frame"], beside["pts"]) == (1, 30, 1000)


def test_past_the_end_of_the_other_camera_the_answer_is_no(run: Terminal, case: Path) -> None:
    run.well("recordings", "join", case, 1, 80, 2, 0)
    assert run("recordings", "beside", case, 10)[0] == 1
    code, out, _ = run("recordings", "beside", case, 10, "--json")
    assert (code, json.loads(out)["frame"]) == (1, None)


def test_marks_of_both_cameras_stand_in_routine_order(run: Terminal, case: Path) -> None:
    run.well("recordings", "join", case, 1, 30, 2, 25)
    run.well("marks", "add", case, "element", "pullover", "--frame", 10)
    run.well("marks", "add", case, "element", "back-hip-circle", "--frame", 70)
    run.well("marks", "add", case, "element", "cast", "--frame", 40, "--recording", 2, "--by-eye", "met")
    listed = [line.split()[:2] for line in run.well("marks", "list", case).splitlines()]
    assert listed == [["m1", "1:10"], ["m3", "2:40"], ["m2", "1:70"]]


def test_an_exercise_begun_twice_is_scored_by_the_attempt_that_counts(
    run: Terminal, case: Path, clips: Path
) -> None:
    run.well("recordings", "add", case, clips / "again.mkv", "--attempt", 2)
    run.well("marks", "add", case, "element", "pullover", "--frame", 10)
    fault = ("marks", "add", case, "fault", "arms-bent", "--amount", "0.100")
    run.well(*fault, "--element", "m1", "--frame", 12)
    before = json.loads(run.well("score", case, "--json"))
    assert "Attempt 2 counts; marks set aside: 2." in run.well("recordings", "count", case, 2)
    run.well("marks", "add", case, "element", "pullover", "--frame", 20)  # of the attempt that counts
    run.well("marks", "add", case, "element", "back-hip-circle", "--end-frame", 30)
    after = json.loads(run.well("score", case, "--json"))
    assert (before["set_aside"], after["set_aside"], after["attempt"]) == ([], ["m1", "m2"], 2)
    assert [line["marks"] for line in after["lines"] if line["stage"] == "execution"] == []
    said = run.well("score", case)
    assert "m1 is of another attempt and does not count; attempt 2 does." in said
    run.well("recordings", "attempt", case, 3, "--is", 1)
    assert json.loads(run.well("score", case, "--json"))["set_aside"] == []
    listed = run.well("recordings", "list", case)
    assert listed.count("attempt 1, which counts") == 3


def test_cameras_that_are_not_joined_are_named_beside_the_score(run: Terminal, case: Path) -> None:
    run.well("marks", "add", case, "element", "pullover", "--frame", 10)
    run.well("marks", "add", case, "element", "pullover", "--frame", 10, "--recording", 2)
    code, out, err = run("score", case)
    assert code == 0
    assert "Final score" in out
    assert "not joined" in err
    assert "recordings join" in err


def test_a_report_and_its_verification_take_every_recording(
    run: Terminal, case: Path, clips: Path, tmp_path: Path
) -> None:
    files = [word for name in ("table.mkv", "stand.mkv") for word in ("--recording", clips / name)]
    run.well("recordings", "join", case, 1, 30, 2, 25)
    run.well("marks", "add", case, "element", "pullover", "--frame", 10)
    fault = ("marks", "add", case, "fault", "arms-bent", "--amount", "0.100", "--element", "m1")
    run.well(*fault, "--frame", 12, "--recording", 2)
    assert "12 of recording 2" in run.well("score", case)
    run.well("report", case, "-o", tmp_path / "report", *files)
    code, out, _ = run("verify", tmp_path / "report", *files, "--pictures", "--json")
    assert (code, json.loads(out)["not_checked"]) == (0, [])
    code, out, _ = run("verify", tmp_path / "report", *files[:2], "--pictures", "--json")
    assert (code, [one["what"] for one in json.loads(out)["not_checked"]]) == (3, ["recording", "pictures"])


@pytest.mark.parametrize(
    ("words", "named"),
    [
        (("join", "1", "30", "3", "0"), "names none of them"),
        (("join", "1", "30", "1", "0"), "joined with itself"),
        (("join", "1", "900", "2", "0"), "from 0 to 89"),
        (("count", "2"), "shows attempt 2"),
        (("attempt", "2", "--is", "0"), "from 1 to 99"),
        (("add", "none.mkv"), "none.mkv"),
    ],
)
def test_what_cannot_be_is_bad_input_with_a_remedy(
    run: Terminal, case: Path, words: tuple[str, ...], named: str
) -> None:
    status, out, err = run("recordings", words[0], case, *words[1:])
    assert (status, out) == (2, "")
    assert named in err
    assert len(err.splitlines()) == 1


def test_a_fault_is_one_document_where_one_is_asked_for(run: Terminal, case: Path) -> None:
    status, out, _ = run("recordings", "beside", case, 10, "--json")
    assert (status, json.loads(out)["problems"][0]["code"]) == (2, "recordings-not-joined")
