"""A report's paper, language and captions are derived again; what was changed in them is named."""

import json
import os
import shutil
import subprocess
import sys
from base64 import b64encode
from collections.abc import Callable
from hashlib import sha256
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions


@pytest.fixture
def report(demo: Path, tmp_path: Path) -> Path:
    return Path(shutil.copytree(demo / "report", tmp_path / "report"))


def edit(path: Path, change: Callable[[Any], None]) -> None:
    document = json.loads(path.read_bytes())
    change(document)
    path.write_text(json.dumps(document), encoding="utf-8")


def named(folder: Path) -> list[tuple[str, str]]:
    return [(one["what"], one["where"]) for one in actions.verify(folder)["differences"]]


def test_a_changed_paper_is_named(report: Path) -> None:
    paper = report / "report.pdf"
    paper.write_bytes(paper.read_bytes().replace(b"/Title", b"/Titel", 1))
    assert named(report) == [("page", "report.pdf")]


def test_a_paper_that_is_gone_is_named(report: Path) -> None:
    (report / "report.pdf").unlink()
    assert named(report) == [("file", "report.pdf")]


def test_a_paper_of_another_typesetter_is_said_not_to_be_checked(report: Path) -> None:
    edit(report / "report.json", lambda finding: finding.update(typeset_by="typst 0.1.0"))
    found = actions.verify(report)
    assert found["same"]
    assert [one["what"] for one in found["not_checked"]] == ["recording", "report.pdf", "pictures"]


def test_a_changed_caption_is_named_without_the_recording(report: Path) -> None:
    def change(finding: Any) -> None:
        finding["stills"][0]["caption"] = "cast angle -46.000°"

    edit(report / "report.json", change)
    assert ("ledger", "report.json: stills[0].caption") in named(report)


def test_a_changed_overlay_is_named_without_the_recording(report: Path) -> None:
    def change(finding: Any) -> None:
        finding["stills"][0]["overlay"] = finding["stills"][0]["overlay"].replace("−38.2", "−46.2")

    edit(report / "report.json", change)
    assert ("ledger", "report.json: stills[0].overlay") in named(report)


def test_a_still_of_a_recording_that_the_case_does_not_cite_is_named(report: Path) -> None:
    edit(report / "report.json", lambda finding: finding["stills"][0].update(recording=7))
    assert ("ledger", "report.json: stills[0].recording") in named(report)


def test_a_language_that_nobody_speaks_here_is_named(report: Path) -> None:
    edit(report / "report.json", lambda finding: finding.update(language="xx"))
    assert ("ledger", "report.json: language") in named(report)


def test_a_still_that_is_no_picture_is_named_though_every_fingerprint_fits(report: Path) -> None:
    """Forged: the page carries other bytes and the finding their fingerprint; nothing can be set of them."""
    page = report / "report.html"
    text = page.read_text(encoding="utf-8")
    start = text.index("base64,", text.index('id="frame-346-picture"')) + len("base64,")
    forged = b64encode(b"no picture at all").decode()
    page.write_text(text[:start] + forged + text[text.index('"', start) :], encoding="utf-8")

    def change(finding: Any) -> None:
        still = next(one for one in finding["stills"] if one["frame"] == 346)
        still["jpeg_sha256"] = sha256(b"no picture at all").hexdigest()

    edit(report / "report.json", change)
    (found,) = actions.verify(report)["differences"]
    assert (found["what"], found["where"]) == ("page", "report.pdf")
    assert "cannot be set" in found["derived"]


def test_a_report_is_asked_for_in_a_language_from_the_command_line(demo: Path, tmp_path: Path) -> None:
    case = shutil.copy(demo / "square-on.case", tmp_path)
    asked = [sys.executable, "-m", "reviewer", "report", case, "-o", str(tmp_path / "out"), "--language"]
    refused = subprocess.run([*asked, "xx"], capture_output=True, text=True)
    assert (refused.returncode, (tmp_path / "out").exists()) == (2, False)
    assert "Traceback" not in refused.stderr
    clip = ["--recording", str(demo / "square-on.mp4")]
    assert subprocess.run([*asked, "de", *clip], capture_output=True).returncode == 0
    assert json.loads((tmp_path / "out" / "report.json").read_bytes())["language"] == "de"


def test_a_german_report_derives_again_in_german(demo: Path, tmp_path: Path) -> None:
    case = shutil.copy(demo / "square-on.case", tmp_path)
    clip = demo / "square-on.mp4"
    with actions.open_case(Path(case), author="A", recording=[clip]) as audit:
        actions.write_report(audit, tmp_path / "bericht", language="de")
    finding = json.loads((tmp_path / "bericht" / "report.json").read_bytes())
    assert finding["language"] == "de"
    assert finding["score"]["not_earned"][0]["why"] == "Tap swing ist nicht gelistet."
    assert [line["points"] for line in finding["score"]["lines"]] == ["-0.100", "-0.100", "-0.150"]
    assert "Die Frage und der Befund" in (tmp_path / "bericht" / "report.html").read_text("utf-8")
    found = actions.verify(tmp_path / "bericht", recording=clip, pictures=True)
    assert found["differences"] == []
    assert "pages" in found["checked"]


def test_two_machines_write_the_same_bytes(demo: Path, tmp_path: Path) -> None:
    """Other folders, time zones, locales and orders of hashing."""
    places = {
        "one": {"TZ": "UTC", "LC_ALL": "C.UTF-8", "LANGUAGE": "", "PYTHONHASHSEED": "1"},
        "a/longer/place": {"TZ": "Asia/Kathmandu", "LC_ALL": "C", "LANGUAGE": "de", "PYTHONHASHSEED": "2"},
    }
    prints = []
    for place, environment in places.items():
        folder = tmp_path / place
        folder.mkdir(parents=True)
        for name in ("square-on.case", "square-on.mp4"):
            shutil.copy(demo / name, folder)
        asked = [sys.executable, "-m", "reviewer", "report", "square-on.case", "-o", "out"]
        subprocess.run(asked, cwd=folder, env=os.environ | environment, check=True, capture_output=True)
        files = sorted((folder / "out").iterdir())
        prints.append({file.name: sha256(file.read_bytes()).hexdigest() for file in files})
    assert set(prints[0]) == {"report.html", "report.pdf", "report.json", "case.json"}
    assert prints[0] == prints[1]
