"""`reviewer short-codes` as a user types it."""

import json
import os
import subprocess
import sys
from pathlib import Path


def run(folder: Path, *words: str) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", "short-codes", *words],
        capture_output=True,
        text=True,
        timeout=120,
        env={**os.environ, "REVIEWER_SETTINGS": str(folder / "settings.toml")},
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


def test_codes_are_kept_listed_and_taken_out(tmp_path: Path) -> None:
    assert run(tmp_path, "ab", "arms-bent 0.1").returncode == 0
    listed = json.loads(run(tmp_path, "--json").stdout)
    assert (listed["format"], listed["rule_book"]) == ("reviewer.short-codes/1", "demo-bars-2")
    assert [(one["code"], one["words"]) for one in listed["codes"]] == [("ab", "arms-bent 0.1")]
    assert run(tmp_path, "ab", "--remove").returncode == 0
    assert json.loads(run(tmp_path, "--json").stdout)["codes"] == []


def test_a_word_of_the_edition_is_refused_with_a_remedy(tmp_path: Path) -> None:
    found = run(tmp_path, "fall", "cast", "--json")
    assert found.returncode == 2
    assert json.loads(found.stdout)["problems"][0]["code"] == "word-of-the-edition"
    assert run(tmp_path, "ab").returncode == 2
    assert run(tmp_path, "ab", "x", "--remove").returncode == 2
