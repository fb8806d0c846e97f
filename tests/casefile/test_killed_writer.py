"""A writer killed at any moment loses nothing that was said to be kept, and leaves nothing stuck."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from reviewer.casefile import Case, CaseError, open_case

WRITERS = """
import os, sys
from pathlib import Path
from reviewer.casefile import open_case
for first in map(int, sys.stdin):
    writer = os.fork()  # once for each line: a new process without a new start of Python
    if writer == 0:
        with open_case(Path(sys.argv[1]), "judge-k") as case:
            os.write(1, b"%d\\n" % os.getpid())
            for number in range(first, 1_000_000):
                case.append("mark-placed", {"mark": {"id": f"k{number}", "kind": "element", "code": "cast"}})
                os.write(1, b"%d\\n" % number)  # one write, so a kill cannot cut a line
    os.waitpid(writer, 0)
    os.write(1, b"killed\\n")
"""


def killed_after(writers: subprocess.Popen[str], path: Path, first: int, seconds: float) -> list[int]:
    """Numbers that a writer said were kept before kill -9 ended it."""
    assert writers.stdin is not None
    assert writers.stdout is not None
    print(first, file=writers.stdin, flush=True)
    writer = int(writers.stdout.readline())
    with pytest.raises(CaseError, match="judge-k"):
        open_case(path, "judge-2")
    time.sleep(seconds)
    os.kill(writer, signal.SIGKILL)
    return [int(line) for line in iter(writers.stdout.readline, "killed\n")]


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is a signal of POSIX systems")
def test_kill_9_loses_nothing_and_the_next_writer_takes_over(case: Case) -> None:
    case.close()
    said: list[int] = []
    command = [sys.executable, "-c", WRITERS, str(case.path)]
    with subprocess.Popen(command, stdin=subprocess.PIPE, stdout=subprocess.PIPE, text=True) as writers:
        for turn in range(20):
            said += killed_after(writers, case.path, 10_000 * turn, 0.002 * turn)
            with open_case(case.path, "judge-2") as after:
                kept = [event.payload["mark"]["id"] for event in after.events[1:]]
            assert {f"k{number}" for number in said} <= set(kept)
            assert len(kept) <= len(said) + turn + 1, "at most one a kill was committed and not yet said"
    assert len(said) > 20


def test_a_hold_left_behind_by_a_dead_process_is_taken_over(case: Case) -> None:
    case.close()
    left = case.path.with_name(case.path.name + ".writing")
    left.write_text('{"author": "judge-k", "process": 1}')
    with open_case(case.path, "judge-2") as after:
        assert "judge-2" in left.read_text()
        assert len(after.events) == 1
    assert not left.exists()


@pytest.mark.skipif(os.name != "posix", reason="kill -9 is a signal of POSIX systems")
def test_a_reader_mends_what_a_killed_writer_left_half_done(case: Case, tmp_path: Path) -> None:
    for number in range(40):
        case.append("mark-placed", {"mark": {"id": f"m{number}", "kind": "element", "code": "cast"}})
    case.close()
    script = (
        "import os, signal, sqlite3, sys\n"
        "db = sqlite3.connect(sys.argv[1], isolation_level=None)\n"
        "db.execute('PRAGMA cache_size = 1')\n"
        "db.execute('BEGIN IMMEDIATE')\n"
        "db.executemany('INSERT INTO texts VALUES (?, ?)', ((str(n), 'x' * 4000) for n in range(200)))\n"
        "os.kill(os.getpid(), signal.SIGKILL)\n"
    )
    subprocess.run([sys.executable, "-c", script, str(case.path)], check=False)
    assert case.path.with_name("routine.case-journal").exists()
    with open_case(case.path, None) as reader:
        assert reader.events == case.events
        assert reader.text("0") is None
