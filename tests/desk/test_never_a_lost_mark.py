"""A desk that is killed in the midst of a gesture, and one that a monkey plays with: nothing is lost."""

import subprocess
import sys
from pathlib import Path

from tests.desk.killing import kill_many


def test_a_desk_killed_in_the_midst_of_a_gesture_has_lost_nothing_it_had_shown(
    screen: dict[str, str], tmp_path: Path
) -> None:
    toll = kill_many(3, 3, tmp_path)
    assert toll.failures == []
    assert toll.marks > 2 * 12, "marks were on the screen each time"


def test_five_hundred_random_keys_and_clicks_break_nothing(screen: dict[str, str]) -> None:
    command = [sys.executable, "-m", "tests.desk.monkey", "--events", "500", "--seed", "7"]
    done = subprocess.run(command, env=screen, cwd=Path(__file__).parents[2], capture_output=True, text=True)
    assert done.returncode == 0, done.stdout + done.stderr[-3000:]
