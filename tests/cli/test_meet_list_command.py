"""A meet from its table to its cases, from the command line; also stopped half-way, and by two at once."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from tests.actions.drawn_films import draw_films
from tests.casefile.test_published_schemas import schema

Run = Callable[..., tuple[int, str, str]]
LIST = Draft202012Validator(schema("meet-list"))
MANY = 40


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


@pytest.fixture
def table(tmp_path: Path) -> Path:
    path = tmp_path / "starts.csv"
    rows = "".join(f"{number},G-{number},9.{number:03d}\n" for number in range(1, 5))
    path.write_text(f"start,athlete,final,Coach\n{rows}", encoding="utf-8")
    return path


@pytest.fixture
def films(tmp_path: Path) -> Path:
    return draw_films(tmp_path / "films", "1.mp4", "02.mp4", "3 left.mp4", "3 right.mp4", "crowd.mp4")


@pytest.fixture
def meet(reviewer: Run, tmp_path: Path, table: Path, films: Path) -> Path:
    code, _, notes = reviewer("meet", "begin", table, "-o", tmp_path / "meet", "--recordings", films)
    assert (code, "Not read: coach." in notes) == (0, True)
    return tmp_path / "meet"


def shown(reviewer: Run, meet: Path) -> dict[str, object]:
    code, out, _ = reviewer("meet", "show", meet, "--json")
    assert code == 0
    found: dict[str, object] = json.loads(out)
    LIST.validate(found)
    return found


def test_a_meet_is_shown_at_a_glance(reviewer: Run, meet: Path) -> None:
    code, out, _ = reviewer("meet", "show", meet)
    assert code == 0
    assert out.splitlines() == [
        "Routines 4: matched 2, unclear 1, without recording 1.",
        "Recordings 5: indexed 0 (0 frames). Cases 0.",
        "Unclear: 3: 3 left.mp4, or 3 right.mp4",
        "Without recording: 4",
        "Recordings without routine: crowd.mp4",
    ]
    found = shown(reviewer, meet)
    assert found["unclear"] == [{"start": "3", "candidates": ["3 left.mp4", "3 right.mp4"]}]


def test_a_meet_has_a_title_of_one_line(reviewer: Run, tmp_path: Path, table: Path) -> None:
    code, _, _ = reviewer("meet", "begin", table, "-o", tmp_path / "titled", "--title", "Autumn\n meet")
    assert code == 0
    document = json.loads((tmp_path / "titled" / "meet.json").read_bytes())
    assert document["title"] == "Autumn meet"
    Draft202012Validator(schema("meet")).validate(document)
    code, _, told = reviewer("meet", "begin", table, "-o", tmp_path / "long", "--title", "a" * 81)
    assert (code, "Write up to 80 letters, in one line." in told) == (2, True)
    assert not (tmp_path / "long").exists()


def test_long_lists_are_shortened_on_the_terminal_alone(reviewer: Run, tmp_path: Path) -> None:
    table = tmp_path / "many.csv"
    table.write_text("start\n" + "".join(f"{number}\n" for number in range(100)), encoding="utf-8")
    _, out, _ = reviewer("meet", "begin", table, "-o", tmp_path / "many")
    assert "9 … and 90 more" in out
    assert shown(reviewer, tmp_path / "many")["without_recording"] == [str(number) for number in range(100)]


def test_matching_by_hand_stays_when_it_is_looked_anew(reviewer: Run, meet: Path, films: Path) -> None:
    code, out, _ = reviewer("meet", "match", meet, "3", films / "3 left.mp4", films / "3 right.mp4")
    assert (code, out) == (0, "Start 3: 3 left.mp4, 3 right.mp4.\n")
    assert reviewer("meet", "match", meet, "1", "--none")[1] == "Start 1: no recording.\n"
    (films / "4.mp4").write_bytes(b"new")
    assert shown(reviewer, meet)["new"] == ["4"]
    assert reviewer("meet", "match", meet, "--again")[0] == 0
    found = shown(reviewer, meet)
    assert (found["matched"], found["by_hand"], found["new"], found["without_recording"]) == (3, 2, [], ["1"])


def test_another_pattern_makes_clear_what_was_unclear(reviewer: Run, meet: Path) -> None:
    assert reviewer("meet", "match", meet, "--again", "--pattern", "{start}[ l]*")[0] == 0
    assert shown(reviewer, meet)["matched"] == 0
    assert reviewer("meet", "match", meet, "--again", "--pattern", "{start} left.mp4")[0] == 0
    assert shown(reviewer, meet)["matched"] == 1
    assert reviewer("meet", "match", meet, "--again", "--pattern", "no place")[0] == 2
    assert shown(reviewer, meet)["pattern"] == "{start} left.mp4"


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (("9", "--none"), "9"),
        (("1", "elsewhere.mp4"), "elsewhere.mp4"),
        (("1", "../starts.csv"), "starts.csv"),
        (("1",), "--none"),
        (("1", "--none", "--again"), "--again"),
        (("1", "--none", "--pattern", "{start}"), "--again"),
        ((), "--again"),
    ],
)
def test_what_cannot_be_matched_is_refused(
    reviewer: Run, meet: Path, words: tuple[str, ...], says: str
) -> None:
    before = (meet / "meet.json").read_bytes()
    code, _, notes = reviewer("meet", "match", meet, *words)
    assert (code, says in notes) == (2, True)
    assert (meet / "meet.json").read_bytes() == before


def test_faults_are_shortened_on_the_terminal_and_nothing_is_written(reviewer: Run, tmp_path: Path) -> None:
    table = tmp_path / "bad.csv"
    table.write_text("start,final\n" + "".join(f"{number},11\n" for number in range(80)), encoding="utf-8")
    code, _, notes = reviewer("meet", "begin", table, "-o", tmp_path / "bad")
    assert code == 2
    assert len(notes.splitlines()) == 51
    assert notes.splitlines()[-1] == "… and 30 more; --json lists them all."
    assert "bad.csv:2: final is 11.000, more than the edition demo-bars-2 can give." in notes
    _, out, _ = reviewer("meet", "begin", table, "-o", tmp_path / "bad", "--json")
    assert len(json.loads(out)["problems"]) == 80
    assert not (tmp_path / "bad").exists()


def test_a_meet_that_is_there_stays(reviewer: Run, meet: Path, table: Path, tmp_path: Path) -> None:
    before = (meet / "meet.json").read_bytes()
    assert reviewer("meet", "begin", table, "-o", meet)[0] == 2
    assert reviewer("meet", "begin", table, "-o", table)[0] == 2
    gone = tmp_path / "gone"
    assert reviewer("meet", "begin", table, "-o", tmp_path / "new", "--recordings", gone)[0] == 2
    assert (meet / "meet.json").read_bytes() == before
    assert not (tmp_path / "new").exists()
    assert reviewer("meet", "show", gone)[0] == 2


def test_recordings_named_in_a_table_need_their_folder(reviewer: Run, tmp_path: Path) -> None:
    table = tmp_path / "named.csv"
    table.write_text("start,recording\n1,\n2,b.mp4\n", encoding="utf-8")
    code, _, notes = reviewer("meet", "begin", table, "-o", tmp_path / "named")
    assert (code, "named.csv:3" in notes) == (2, True)


def command(*words: str | Path) -> list[str]:
    return [sys.executable, "-m", "reviewer", "meet", *map(str, words)]


def test_two_who_match_at_once_lose_nothing(reviewer: Run, tmp_path: Path, films: Path) -> None:
    table = tmp_path / "eight.csv"
    table.write_text("start\n" + "".join(f"B{number}\n" for number in range(8)), encoding="utf-8")
    reviewer("meet", "begin", table, "-o", tmp_path / "eight", "--recordings", films)
    at_once = [
        subprocess.Popen(command("match", tmp_path / "eight", f"B{number}", "crowd.mp4"))
        for number in range(8)
    ]
    assert [one.wait(120) for one in at_once] == [0] * 8
    assert shown(reviewer, tmp_path / "eight")["by_hand"] == 8


def test_a_meet_is_indexed_by_other_processes(reviewer: Run, meet: Path) -> None:
    code, out, notes = reviewer("meet", "index", meet, "--json")
    assert code == 0
    assert json.loads(out) == {
        "format": "reviewer.meet-indexed/1",
        "recordings": 5,
        "cases": 4,
        "cited": 0,
        "gone": [],
        "complete": True,
        "without_pictures": 0,
        "problems": [],
    }
    assert "recordings: 5 of 5" in notes
    found = shown(reviewer, meet)
    assert (found["indexed"], found["frames"], found["cases"]) == (5, 150, 4)
    assert reviewer("meet", "index", meet)[1] == "Recordings read: 0. Cases made: 0; given a recording: 0.\n"


def test_a_damaged_recording_is_told_at_the_end(reviewer: Run, meet: Path, films: Path) -> None:
    (films / "crowd.mp4").write_bytes(b"no recording")
    code, out, notes = reviewer("meet", "index", meet, "--processes", "1", "--without-pictures")
    assert (code, "Recordings read: 5. Cases made: 4" in out) == (2, True)
    assert "crowd.mp4: " in notes


def _begun_to_index(meet: Path) -> "subprocess.Popen[str]":
    """A meet being indexed by a process of its own, some recordings done."""
    process = subprocess.Popen(
        command("index", meet), stderr=subprocess.PIPE, text=True, start_new_session=True
    )
    assert process.stderr is not None
    while ": 4 of" not in process.stderr.readline():
        assert process.poll() is None
    return process


def _many(reviewer: Run, tmp_path: Path) -> Path:
    table = tmp_path / "many.csv"
    table.write_text("start\n" + "".join(f"{number}\n" for number in range(MANY)), encoding="utf-8")
    films = draw_films(tmp_path / "many-films", *(f"{number}.mp4" for number in range(MANY)))
    reviewer("meet", "begin", table, "-o", tmp_path / "many", "--recordings", films)
    return tmp_path / "many"


def _workers_of(session: int) -> list[str]:
    listed = subprocess.run(
        ["ps", "-o", "pid=", "-s", str(session)], capture_output=True, text=True, check=False
    )
    return listed.stdout.split()


def test_what_was_read_before_a_kill_is_not_read_again(reviewer: Run, tmp_path: Path) -> None:
    meet = _many(reviewer, tmp_path)
    process = _begun_to_index(meet)
    with process:
        os.kill(process.pid, signal.SIGKILL)
    done = shown(reviewer, meet)["indexed"]
    assert isinstance(done, int)
    assert 4 <= done < MANY
    until = time.monotonic() + 20
    while _workers_of(process.pid) and time.monotonic() < until:
        time.sleep(0.2)
    assert not _workers_of(process.pid), "those who worked for it have ended too"
    _, out, _ = reviewer("meet", "index", meet, "--json")
    found = json.loads(out)
    assert (found["recordings"], found["cases"], found["complete"]) == (MANY - done, MANY, True)


def test_ctrl_c_ends_with_a_sentence_and_all_is_kept(reviewer: Run, tmp_path: Path) -> None:
    meet = _many(reviewer, tmp_path)
    process = _begun_to_index(meet)
    os.killpg(process.pid, signal.SIGINT)
    _, notes = process.communicate(timeout=60)
    assert process.returncode == 3
    assert "Stopped. What is done is kept; run it again to go on." in notes
    assert "Traceback" not in notes
    done = shown(reviewer, meet)["indexed"]
    assert isinstance(done, int)
    assert done >= 4
    _, out, _ = reviewer("meet", "index", meet, "--json")
    assert json.loads(out)["recordings"] == MANY - done
