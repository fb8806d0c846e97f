"""Benchmarks: how exact and immediate the picture is, how quick the score. Figures, not gates: exit code 0.

From the root of the repository, in an environment with the project's ``test`` extra and with ``ffmpeg``,
``ffprobe`` and (where there is no screen) ``Xvfb`` on the path::

    python -m tests.benchmarks                        everything, about half an hour on two cores
    python -m tests.benchmarks --quick                a smoke run; its figures mean little
    python -m tests.benchmarks --only stepping,random_access/2160p60
    python -m tests.benchmarks --json figures.json --keep folder-for-the-large-recordings

Every figure that can be is a ratio to the shortest loop over libav that does the same work (`plain`), taken
in the same run, in turns with ours; OpenCV's reader stands beside it. The median of the rounds is given, and
the least and greatest of them. Take figures only on a machine that does nothing else: the load at the start
stands at the top.
"""

import argparse
import json
import subprocess
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

from tests.benchmarks.clips import Setting, large
from tests.benchmarks.display import screen
from tests.benchmarks.figures import Figure
from tests.benchmarks.machine import described
from tests.benchmarks.rows import ROWS, Job, jobs
from tests.benchmarks.telling import Outcome, as_data, table

EVERY = "exact: all recipes of the tests"
QUICK = "few rounds on one short recording a row"


def main() -> None:
    """Measure what is asked for, print the table, write the JSON."""
    asked = _asked()
    machine, outcomes = described(), []
    with _setting(asked.keep, quick=asked.formats == "few") as setting, screen() as environment:
        for job in asked.jobs:
            _tell(f"{job} …")
            outcomes.append(_measured(job, setting, environment))
    print(table(machine, outcomes))
    if asked.json:
        asked.json.write_text(json.dumps(as_data(machine, outcomes), indent=2) + "\n", "utf-8")


def _asked() -> argparse.Namespace:
    rows = "; ".join(f"{name}: {row.says}" for name, row in ROWS.items())
    words = argparse.ArgumentParser("python -m tests.benchmarks", description=__doc__.split("\n")[0])
    words.add_argument("--only", default="", help=f"rows, or row/recording, with commas between. {rows}")
    words.add_argument("--every-format", dest="formats", action="store_const", const="every", help=EVERY)
    words.add_argument("--quick", dest="formats", action="store_const", const="few", help=QUICK)
    words.add_argument("--keep", type=Path, help="folder to keep the recordings in from run to run")
    words.add_argument("--json", type=Path, help="file to write the figures to")
    asked = words.parse_args()
    try:
        asked.jobs = jobs(frozenset(filter(None, asked.only.split(","))), asked.formats)
    except LookupError as fault:
        words.error(str(fault))
    return asked


@contextmanager
def _setting(keep: Path | None, *, quick: bool) -> Iterator[Setting]:
    with TemporaryDirectory(prefix="benchmarks-") as made:
        folder, scratch = keep or Path(made) / "recordings", Path(made) / "scratch"
        folder.mkdir(parents=True, exist_ok=True)
        scratch.mkdir()
        yield Setting(folder.absolute(), scratch, quick)


def _measured(job: Job, setting: Setting, environment: dict[str, str]) -> Outcome:
    try:
        if ROWS[job.row].about and ROWS[job.row].recorded:
            large(setting, job.about)  # outside the time limit: it is made once
    except (OSError, subprocess.CalledProcessError) as fault:
        return Outcome(job, (), f"the recording could not be made: {fault}")
    places = [str(setting.folder), str(setting.scratch), *(["quick"] if setting.quick else [])]
    command = [sys.executable, "-m", "tests.benchmarks.measuring_one", job.row, job.about, *places]
    with subprocess.Popen(
        command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, env=environment
    ) as process:
        said, why = _said(process, ROWS[job.row].limit)
    figures = [Figure(**json.loads(line)) for line in said.splitlines() if line.startswith("{")]
    return Outcome(job, tuple(figures), why)


def _said(process: "subprocess.Popen[str]", limit: int) -> tuple[str, str]:
    """What it printed, and why it did not go well, if it did not."""
    try:
        said, complaint = process.communicate(timeout=limit)
    except subprocess.TimeoutExpired:
        process.kill()
        return process.communicate()[0], f"not at its end after {limit} s"
    if process.returncode == 0:
        return said, ""
    last = complaint.strip().splitlines()[-1:] or ["without a word"]
    return said, f"ended with {process.returncode}: {last[0]}"


def _tell(words: str) -> None:
    print(words, file=sys.stderr, flush=True)


if __name__ == "__main__":
    main()
