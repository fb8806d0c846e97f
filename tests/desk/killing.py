"""Kills a working desk again and again with SIGKILL: what its screen had shown must be on disk each time.

``python -m tests.desk.killing --times 200 --seed 1`` prints one JSON document and exits 1 where a mark was
lost, a chain was broken, or the desk did not open again on the frame where it was left.
"""

import argparse
import json
import os
import random
import subprocess
import sys
import tempfile
import time
from collections import Counter
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from reviewer import actions
from reviewer.casefile import check_chain, fold
from reviewer.scoring import score

ANEW = 15
"""Kills after which a fresh case is begun, so that cases stay of a usual size."""
OPENING = 40.0
"""Seconds within which a desk must show its case."""


@dataclass
class Toll:
    """What came of the kills.

    Attributes:
        during: the gestures that were under way, with their numbers.
        marks: marks on the screen when it was killed, over all kills.
        same_frame: kills after which the desk opened on the very frame painted last at rest.
    """

    kills: int = 0
    during: Counter[str] = field(default_factory=Counter)
    marks: int = 0
    same_frame: int = 0
    failures: list[str] = field(default_factory=list)


def kill_many(times: int, seed: int, folder: Path) -> Toll:
    """Kill desks in a folder, each on what the one before left."""
    chance, toll, case, left = random.Random(seed), Toll(), Path(), None
    for number in range(times):
        if number % ANEW == 0:
            case, left = _fresh_case(folder / f"{number}"), None
        lines = _killed(case, chance, folder / "channel.jsonl", toll)
        toll.kills += 1
        _examine(case, lines, left, toll)
        left = _left(case)
    return toll


def _fresh_case(folder: Path) -> Path:
    command = [sys.executable, "-m", "reviewer", "demo", "-o", str(folder), "--no-window"]
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return folder / "square-on.case"


def _killed(case: Path, chance: random.Random, channel: Path, toll: Toll) -> list[dict[str, Any]]:
    """Let a desk work for a while and kill it; what it had said."""
    command = [sys.executable, "-m", "tests.desk.killed", str(case), str(chance.randrange(10**6))]
    early, after = chance.random() < 0.1, chance.choice((chance.uniform(0, 0.4), chance.uniform(0, 2.5)))
    with channel.open("wb") as told, channel.with_suffix(".err").open("wb") as wrong:
        desk = subprocess.Popen(command, stdout=told, stderr=wrong, cwd=case.parent)
        end = time.monotonic() + OPENING
        while not early and b"begins" not in channel.read_bytes() and time.monotonic() < end:
            time.sleep(0.005)
        time.sleep(after)
        if desk.poll() is not None or time.monotonic() > end:
            toll.failures.append(
                f"{case}: the desk ended or hung: {channel.with_suffix('.err').read_text()[-2000:]}"
            )
        desk.kill()
        desk.wait()
    whole = [line for line in channel.read_text().splitlines(keepends=True) if line.endswith("\n")]
    return [json.loads(line) for line in whole]


def _examine(case: Path, lines: list[dict[str, Any]], left: int | None, toll: Toll) -> None:
    """Hold the case on disk against all that the screen had shown."""
    shown = [line for line in lines if "events" in line]
    with actions.open_case(case, author=None) as audit:
        events = audit.case.events
        toll.failures += [f"{case}: {problem}" for problem in check_chain(events)]
        for line in shown:
            if line["events"] > len(events):
                toll.failures.append(f"{case}: shown but not on disk: {line}")
                continue
            marks = fold(events[: line["events"]]).marks
            if not set(line["marks"]) <= {one.id for one in marks}:
                toll.failures.append(f"{case}: marks shown that are not on disk: {line}")
            if line is shown[-1] and line["score"] != str(score(marks, audit.book).final_score):
                toll.failures.append(f"{case}: another score than on disk: {line}")
    if any(line["writes"] != "A" for line in shown):
        toll.failures.append(f"{case}: opened to read only after a kill")
    if left is not None and shown and shown[0]["frame"] != left:
        toll.failures.append(f"{case}: opened on frame {shown[0]['frame']}, left on {left}")
    _count(case, lines, shown, toll)


def _count(case: Path, lines: list[dict[str, Any]], shown: list[dict[str, Any]], toll: Toll) -> None:
    """What was under way, and whether the frame painted last is the one remembered."""
    begun = [line["begins"] for line in lines if "begins" in line]
    during = begun[-1] if begun else "opening"
    toll.during[during] += 1
    if not shown:
        return
    left = _left(case)
    toll.marks += len(shown[-1]["marks"])
    rested = [line["frame"] for line in shown if line["rests"]]
    toll.same_frame += rested[-1:] == [left]
    on_the_way = during in ("_look", "_move", "opening")  # the next frame is kept before it is painted
    if rested[-1:] != [left] and not on_the_way:
        toll.failures.append(f"{case}: left on {rested[-1:]}, remembered {left} ({during})")


def _left(case: Path) -> int | None:
    """The frame that the desk remembers of a case."""
    found = actions.recall().left_at(case.resolve())
    return found.frame if found is not None else None


def main() -> int:
    """Read the command line; the exit code."""
    reading = argparse.ArgumentParser(prog="python -m tests.desk.killing")
    reading.add_argument("--times", type=int, default=200)
    reading.add_argument("--seed", type=int, default=1)
    asked, begun = reading.parse_args(), time.monotonic()
    with tempfile.TemporaryDirectory() as name:
        os.environ["REVIEWER_SETTINGS"] = f"{name}/settings/settings.toml"
        os.environ["REVIEWER_DESK"] = f"{name}/settings/desk.json"
        toll = kill_many(asked.times, asked.seed, Path(name))
    seconds = round(time.monotonic() - begun)
    print(json.dumps({**vars(toll), "seconds": seconds}, indent=1))
    return 1 if toll.failures else 0


if __name__ == "__main__":
    sys.exit(main())
