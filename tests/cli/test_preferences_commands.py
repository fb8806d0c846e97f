"""`reviewer settings` as a user types it."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

KEYS = ["picture-memory", "small-picture-disk", "small-pictures"]


def run(file: Path, *words: str) -> subprocess.CompletedProcess[str]:
    found = subprocess.run(
        [sys.executable, "-m", "reviewer", "settings", *words],
        capture_output=True,
        text=True,
        timeout=120,
        env={**os.environ, "REVIEWER_SETTINGS": str(file)},
    )
    assert "Traceback" not in found.stderr + found.stdout
    return found


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "mine" / "settings.toml"


def test_the_command_explains_itself_with_an_example(file: Path) -> None:
    found = run(file, "--help")
    assert found.returncode == 0
    assert "Example: reviewer settings" in found.stdout


def test_the_list_says_what_holds_and_where_it_comes_from(file: Path) -> None:
    found = run(file, "--json")
    listed = json.loads(found.stdout)
    assert found.returncode == 0
    assert (listed["format"], listed["file"]) == ("reviewer.settings/1", str(file))
    assert [(one["key"], one["value"], one["from"]) for one in listed["settings"]][:3] == [
        ("picture-memory", "1 GiB", "default"),
        ("small-picture-disk", "4 GiB", "default"),
        ("small-pictures", "on", "default"),
    ]
    assert not file.parent.exists()
    said = run(file).stdout
    assert all(key in said for key in KEYS)


def test_what_is_set_holds_from_then_on(file: Path) -> None:
    assert run(file, "small-pictures", "off").returncode == 0
    set_now = json.loads(run(file, "picture-memory", "512 MiB", "--json").stdout)["settings"]
    (asked,) = json.loads(run(file, "picture-memory", "--json").stdout)["settings"]
    assert set_now == [asked]
    assert (asked["value"], asked["bytes"], asked["from"]) == ("512 MiB", 2**29, f"{file}: line 2")
    assert file.read_text(encoding="utf-8") == 'small-pictures = "off"\npicture-memory = "512 MiB"\n'


@pytest.mark.parametrize(
    ("words", "code"),
    [
        (("picture-memory", "1 MiB"), "bad-setting"),
        (("picture-memory", "1 GB"), "bad-setting"),
        (("small-pictures", "maybe"), "bad-setting"),
        (("colour", "red"), "unknown-setting"),
        (("colour",), "unknown-setting"),
    ],
)
def test_what_does_not_hold_is_refused_and_nothing_is_written(
    words: tuple[str, ...], code: str, file: Path
) -> None:
    found = run(file, *words, "--json")
    assert found.returncode == 2
    (problem,) = json.loads(found.stdout)["problems"]
    assert problem["code"] == code
    assert problem["remedy"]
    assert not file.exists()


def test_a_file_with_faults_is_listed_beside_what_still_holds(file: Path) -> None:
    file.parent.mkdir()
    file.write_text('picture-memory = "2 GiB"\ncolour = "red"\nsmall-pictures = 3\n', encoding="utf-8")
    found = run(file, "--json")
    listed = json.loads(found.stdout)
    assert found.returncode == 2
    assert [problem["code"] for problem in listed["problems"]] == ["unknown-setting", "bad-setting"]
    assert [one["value"] for one in listed["settings"]][:3] == ["2 GiB", "4 GiB", "on"]
    assert "line 2" in run(file).stderr


def test_a_place_that_cannot_be_written_is_named(tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("a file where a folder should be", encoding="utf-8")
    found = run(tmp_path / "mine" / "settings.toml", "small-pictures", "off", "--json")
    assert found.returncode == 2
    assert str(tmp_path / "mine") in json.loads(found.stdout)["problems"][0]["where"]
