"""What was read of a meet's recordings is kept one by one, and is there after whatever ends the program."""

import sqlite3
import subprocess
import sys
from pathlib import Path

import pytest

from reviewer.shelf import REGISTER, ShelfError, has_register, open_register
from reviewer.terms.indexed import Indexed
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.shelving import Stamp

CITED = {"sha256": "a" * 64, "frames": 90, "time_base": "1/30", "pts_runs": [[0, 1, 90]]}
SOUND = Indexed("a" * 64, CITED, pictures=True)
CUT = Indexed(problem=Problem("no-index", "cut.mp4", message("It is cut off."), message("Copy it again.")))


def test_what_is_kept_is_there_when_it_is_opened_again(tmp_path: Path) -> None:
    assert not has_register(tmp_path)
    with open_register(tmp_path) as register:
        register.keep("day-1/12.mp4", Stamp(5, 7), SOUND)
        register.keep("cut.mp4", Stamp(6, 8), CUT)
        register.keep_case("12", ["a" * 64])
    with open_register(tmp_path) as register:
        assert register.stamps() == {"day-1/12.mp4": Stamp(5, 7), "cut.mp4": Stamp(6, 8)}
        assert register.recording("day-1/12.mp4") == SOUND
        assert register.recording("other.mp4") is None
        assert register.frames() == 90
        ((path, problem),) = register.problems()
        assert (path, str(problem)) == ("cut.mp4", str(CUT.problem))
        assert register.cases() == {"12": frozenset(["a" * 64])}


def test_only_what_can_be_cited_needs_pictures(tmp_path: Path) -> None:
    with open_register(tmp_path) as register:
        register.keep("with.mp4", Stamp(1, 1), SOUND)
        register.keep("without.mp4", Stamp(1, 1), Indexed("b" * 64, CITED))
        register.keep("cut.mp4", Stamp(1, 1), CUT)
        assert register.stamps(pictures=True).keys() == {"with.mp4", "cut.mp4"}


def test_the_same_bytes_are_found_wherever_they_lie(tmp_path: Path) -> None:
    with open_register(tmp_path) as register:
        for path in ("b.mp4", "a.mp4", "c.mp4"):
            register.keep(path, Stamp(1, 1), SOUND)
        for path in ("x.mp4", "y.mp4"):
            register.keep(path, Stamp(1, 1), CUT)  # without a fingerprint: not the same
        assert register.same() == (("a.mp4", "b.mp4", "c.mp4"),)
        register.forget(["a.mp4", "b.mp4"])
        assert register.same() == ()


def test_what_was_kept_survives_a_process_that_is_killed(tmp_path: Path) -> None:
    code = """if True:
        import os, signal, sys
        from pathlib import Path
        from reviewer.shelf import open_register
        from reviewer.terms.indexed import Indexed
        from reviewer.terms.shelving import Stamp
        with open_register(Path(sys.argv[1])) as register:
            register.keep("kept.mp4", Stamp(1, 2), Indexed("c" * 64))
            register._database.conn.execute("BEGIN IMMEDIATE")
            register._database.execute("DELETE FROM recordings")
            os.kill(os.getpid(), signal.SIGKILL)
    """
    ended = subprocess.run([sys.executable, "-c", code, str(tmp_path)], check=False, timeout=60)
    assert ended.returncode == -9
    with open_register(tmp_path) as register:
        assert register.stamps() == {"kept.mp4": Stamp(1, 2)}


@pytest.mark.parametrize("spoilt", ["cut", "other", "text"])
def test_a_register_that_is_no_good_is_refused_and_stays(tmp_path: Path, spoilt: str) -> None:
    with open_register(tmp_path) as register:
        register.keep("a.mp4", Stamp(1, 1), SOUND)
    place = tmp_path / REGISTER
    whole = place.read_bytes()
    if spoilt == "other":
        with sqlite3.connect(place) as other:
            other.execute("PRAGMA user_version = 99")
        other.close()
    else:
        place.write_bytes(whole[: len(whole) - 5000] if spoilt == "cut" else b"no register at all" * 100)
    before = place.read_bytes()
    with pytest.raises(ShelfError) as refused, open_register(tmp_path):
        pass
    assert REGISTER in refused.value.problems[0].where
    assert place.read_bytes() == before
