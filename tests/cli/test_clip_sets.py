"""``reviewer clip-set``: recipes made into folders and films, made again the same, gone on with when stopped.

Sources: ffprobe and ffmpeg for what is in the files, webvtt-py as another reader of captions, Chromium with
the rules of axe-core for the page.
"""

import json
import subprocess
from collections.abc import Callable
from fractions import Fraction
from pathlib import Path
from shutil import copy
from typing import Any

import numpy as np
import pytest
import webvtt
from jsonschema import Draft202012Validator
from playwright.sync_api import Browser

from reviewer import actions
from reviewer.actions.cliprecipes import MOST
from reviewer.actions.documents import schema
from reviewer.terms.problems import ReviewerError
from tests.reports.browsing import rules_broken

ROOT = Path(__file__).resolve().parents[2]
TODAY = "2026-11-26"
FIRST, SECOND = "square-on", "off-axis-fall"

Call = Callable[..., tuple[int, str, str]]
Entry = dict[str, Any]


@pytest.fixture(scope="module")
def cases(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Two cases of two recordings, one of them turned and half as fast; consent to teaching."""
    folder = tmp_path_factory.mktemp("cases")
    for name in (FIRST, SECOND):
        recording = folder / f"{name}.mp4"
        copy(ROOT / "sample_clips" / recording.name, recording)
        kept = {"author": "A", "athlete_code": "G-12", "consent": "given", "recording": recording}
        with actions.start_case(folder / f"{name}.case", **kept) as audit:  # type: ignore[arg-type]
            actions.import_marks(audit, ROOT / "annotations" / f"{name}.marks.json")
            actions.give_consent(audit, ["teaching"], "2026-12-31", TODAY)
    return folder


@pytest.fixture
def folder(cases: Path, tmp_path: Path) -> Path:
    """Copies of them."""
    for one in cases.iterdir():
        if one.suffix in (".case", ".mp4"):
            copy(one, tmp_path / one.name)
    return tmp_path


def recipe(folder: Path, *clips: Entry, **said: Any) -> Path:
    place = folder / "recipe.json"
    document = {"format": "reviewer.clips/1", "title": "Casts & <b>falls</b>", "clips": list(clips), **said}
    assert list(Draft202012Validator(schema("clips")).iter_errors(document)) == []
    place.write_text(json.dumps(document), encoding="utf-8")
    return place


def some(first: int, last: int, **said: Any) -> Entry:
    return {"case": f"{FIRST}.case", "frames": [first, last], **said}


def others(first: int, last: int, **said: Any) -> Entry:
    return {"case": f"{SECOND}.case", "frames": [first, last], **said}


def made(place: Path, out: Path, **said: Any) -> dict[str, Any]:
    found = actions.make_set(place, out, author="A", today=lambda: TODAY, **said)
    assert list(Draft202012Validator(schema("clip-set")).iter_errors(found)) == []
    return found


def hashes(path: Path) -> list[str]:
    """SHA-256 of each picture as ffmpeg decodes it."""
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-fps_mode", "passthrough", "-f", "framehash", "-"]
    said = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    return [line.split(",")[-1].strip() for line in said.splitlines() if not line.startswith("#")]


def probed(path: Path) -> dict[str, Any]:
    shown = ["-show_streams", "-show_packets", "-of", "json"]
    said = subprocess.run(["ffprobe", "-v", "error", *shown, str(path)], capture_output=True, check=True)
    return dict(json.loads(said.stdout))


def lasting(path: Path) -> list[Fraction]:
    """Seconds of each picture."""
    found = probed(path)
    base = Fraction(found["streams"][0]["time_base"])
    return [int(one["duration"]) * base for one in found["packets"]]


def pictures(path: Path, *options: str, size: tuple[int, int]) -> np.ndarray:
    command = ["ffmpeg", "-v", "error", "-i", str(path), *options, "-fps_mode", "passthrough"]
    command += ["-pix_fmt", "gray", "-f", "rawvideo", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    return np.frombuffer(raw, np.uint8).astype(int).reshape(-1, size[1], size[0])


def test_a_folder_holds_clips_captions_and_a_page(folder: Path) -> None:
    out = folder / "set"
    place = recipe(folder, some(3, 6, caption="Arms <i>bent</i> --> & 0.100"), others(3, 6, captioned=False))
    found = made(place, out)
    assert {one.name for one in out.iterdir()} == {
        "01.mp4", "02.mp4", "01.vtt", "02.vtt", "clips.json", "index.html",
    }  # fmt: skip
    assert [one["file"] for one in found["clips"]] == ["01.mp4", "02.mp4"]
    (cue,) = webvtt.read(out / "01.vtt")
    assert (
        cue.text == "Arms <i>bent</i> --> & 0.100"
        or cue.raw_text == "Arms &lt;i&gt;bent&lt;/i&gt; --&gt; &amp; 0.100"
    )
    assert (cue.start, cue.end) == ("00:00:00.000", "00:00:00.267")
    assert len(webvtt.read(out / "02.vtt")) == 0
    page = (out / "index.html").read_text(encoding="utf-8")
    assert "Arms &lt;i&gt;bent&lt;/i&gt;" in page
    assert "does not replace" in page
    assert str(folder) not in page + (out / "clips.json").read_text(encoding="utf-8")


def test_made_again_from_its_recipe_it_has_the_same_frames(folder: Path) -> None:
    place = recipe(folder, some(3, 9, freeze=5), others(30, 34), freeze_s="0.5")
    for name in ("one", "two"):
        made(place, folder / name)
        made(place, folder / f"{name}.mp4")
    for name in ("01.mp4", "02.mp4"):
        assert hashes(folder / "one" / name) == hashes(folder / "two" / name)
    assert hashes(folder / "one.mp4") == hashes(folder / "two.mp4")
    assert (folder / "one" / "index.html").read_bytes() == (folder / "two" / "index.html").read_bytes()


def test_one_that_was_stopped_goes_on_where_it_was(folder: Path) -> None:
    place, out = recipe(folder, some(3, 6), some(10, 13), some(20, 23)), folder / "set"
    asked = iter([True] * 6 + [False])
    with pytest.raises(ReviewerError) as refusal:
        made(place, out, going_on=lambda: next(asked))
    assert refusal.value.problems[0].code == "stopped"
    assert {one.name for one in out.iterdir()} == {"01.mp4", "01.vtt", "clips.json"}
    written = (out / "01.mp4").stat().st_mtime_ns
    assert made(place, out)["kept"] == 1
    assert (out / "01.mp4").stat().st_mtime_ns == written
    assert made(place, out)["kept"] == 3


def test_only_what_is_made_from_something_else_is_made_anew(folder: Path) -> None:
    out = folder / "set"
    made(recipe(folder, some(3, 6), some(10, 13), some(20, 23)), out)
    assert made(recipe(folder, some(3, 6), some(10, 13, caption="other"), some(20, 23)), out)["kept"] == 2
    (out / "01.mp4").write_bytes((out / "01.mp4").read_bytes() + b"x")
    assert made(recipe(folder, some(3, 6), some(10, 13, caption="other")), out)["kept"] == 1
    assert not (out / "03.mp4").exists()
    assert not (out / "03.vtt").exists()


def test_one_film_of_all_keeps_the_times_of_each(folder: Path) -> None:
    """30 frames a second beside 30000/1001 or whatever the other has: each picture stays as long as there."""
    out = folder / "all.mp4"
    place = recipe(folder, some(3, 6), others(5, 9), card_s="2.5", speed="1/3", freeze_s="0")
    found = made(place, out)
    own = [one for name, frames in ((FIRST, (3, 7)), (SECOND, (5, 10))) for one in of_source(name, frames)]
    assert lasting(out) == [Fraction(5, 2), *(3 * one for one in own)]
    assert found["size"] == [1280, 1280]
    assert all(value % 2 == 0 for value in found["size"])


def of_source(name: str, frames: tuple[int, int]) -> list[Fraction]:
    found = probed(ROOT / "sample_clips" / f"{name}.mp4")
    base = Fraction(found["streams"][0]["time_base"])
    pts = sorted(one["pts"] for one in found["packets"])
    return [
        (after - before) * base
        for before, after in zip(pts[slice(*frames)], pts[frames[0] + 1 :], strict=False)
    ]


def test_a_second_camera_runs_beside_the_first_in_time(folder: Path) -> None:
    """The pictures on the right are those the case says are on screen at that time."""
    case = folder / f"{FIRST}.case"
    with actions.open_case(case, author="A") as audit:
        actions.add_recording(audit, folder / f"{SECOND}.mp4")
        first, second = (one.sha256 for one in audit.state.recordings)
        actions.join_recordings(audit, first, 100, second, 40)
        beside = [actions.counterpart(audit, frame, of=first, on=second) for frame in range(98, 104)]
    out = folder / "beside.mp4"
    entry = some(98, 103, recording=1, beside={"recording": 2}, captioned=False)
    found = made(recipe(folder, entry, speed="1", freeze_s="0", card_s="0"), out)
    assert found["clips"][0]["sides"][1]["recording"] == 2
    left = found["size"][0] - 404
    right = pictures(out, "-vf", f"crop=404:720:{left}:0,scale=80:144", size=(80, 144))
    source = pictures(folder / f"{SECOND}.mp4", "-vf", "scale=80:144", size=(80, 144))
    nearest = [int(np.abs(source - picture).sum(axis=(1, 2)).argmin()) for picture in right]
    assert nearest == beside


def test_two_athletes_come_to_their_tops_at_the_same_moment(folder: Path) -> None:
    out = folder / "two.mp4"
    entry = some(
        40,
        50,
        freeze=45,
        beside={"case": f"{SECOND}.case", "frames": [20, 40], "freeze": 33},
        captioned=False,
    )
    made(recipe(folder, entry, speed="1", freeze_s="1", card_s="0", drawn=False), out)
    lasts = lasting(out)
    still = lasts.index(max(lasts))
    assert max(lasts) >= 1
    assert len(lasts) == 11  # the second changes its picture with the first, a few microseconds aside
    for name, frame, (left, wide), size in (
        (FIRST, 45, (0, 1280), (160, 90)), (SECOND, 33, (1280, 404), (80, 144)),
    ):  # fmt: skip
        scaled = f"scale={size[0]}:{size[1]}"
        (seen,) = pictures(out, "-vf", f"select='eq(n,{still})',crop={wide}:720:{left}:0,{scaled}", size=size)
        near = f"select='between(n,{frame - 3},{frame + 3})',{scaled}"
        source = pictures(folder / f"{name}.mp4", "-vf", near, size=size)
        assert int(np.abs(source - seen).sum(axis=(1, 2)).argmin()) == 3


def test_a_case_without_consent_keeps_all_from_leaving(folder: Path) -> None:
    with actions.open_case(folder / f"{SECOND}.case", author="A") as audit:
        actions.give_consent(audit, ["inquiry"], None, TODAY)
    place = recipe(folder, some(3, 6), others(3, 6))
    for out in (folder / "set", folder / "all.mp4"):
        with pytest.raises(ReviewerError) as refusal:
            made(place, out)
        assert refusal.value.problems[0].code == "no-consent"
        assert not out.exists()


def test_consent_that_ends_meanwhile_keeps_a_clip_from_its_place(folder: Path) -> None:
    days = iter([TODAY, "2027-01-01"])
    place, out = recipe(folder, some(3, 6)), folder / "set"
    with pytest.raises(ReviewerError) as refusal:
        actions.make_set(place, out, author="A", today=lambda: next(days))
    assert refusal.value.problems[0].code == "consent-ended"
    assert list(out.iterdir()) == []


def test_every_case_keeps_what_was_made_of_it(folder: Path) -> None:
    made(recipe(folder, some(3, 6), others(3, 6), some(8, 9)), folder / "all.mp4")
    for name, frames in ((FIRST, [(3, 6), (8, 9)]), (SECOND, [(3, 6)])):
        with actions.open_case(folder / f"{name}.case", author=None) as audit:
            (event,) = (one for one in audit.case.events if one.kind == "clip-written")
        assert [(one["first"], one["last"]) for one in event.payload["shown"]] == frames


def test_all_that_is_wrong_with_a_recipe_is_said_at_once(reviewer: Call, folder: Path) -> None:
    place = recipe(folder, some(9, 3), {"case": "none.case", "mark": "m1"}, some(3, 6, speed="9"))
    code, out, _ = reviewer("clip-set", "make", place, "-o", folder / "set", "--json")
    problems = json.loads(out)["problems"]
    assert code == 2
    assert [one["where"].partition("]")[0] for one in problems] == [
        f"recipe.json: clips[{n}" for n in range(3)
    ]
    assert [one["code"] for one in problems[::2]] == ["frames-turned", "no-speed"]
    place.write_text('{"format": "reviewer.clips/1", "title": "", "clips": [{"case": "a"}]}')
    code, out, _ = reviewer("clip-set", "make", place, "-o", folder / "set", "--json")
    assert code == 2
    remedies = {one["where"]: one["remedy"] for one in json.loads(out)["problems"]}
    assert set(remedies) >= {"recipe.json: title", "recipe.json: clips[0]"}
    assert "a mark or two frames" in remedies["recipe.json: clips[0]"]


def test_a_recipe_is_begun_from_faults_and_from_what_was_found(reviewer: Call, folder: Path) -> None:
    out = folder / "begun.json"
    code, said, _ = reviewer("clip-set", "begin", folder / f"{FIRST}.case", "-o", out, "--json")
    assert code == 0
    assert {one["mark"] for one in json.loads(said)["clips"]} == {"m4", "m6", "m12"}
    assert list(Draft202012Validator(schema("clips")).iter_errors(json.loads(out.read_text()))) == []
    words = ("clip-set", "begin", folder / f"{SECOND}.case", "--code", "cast", "-o", out)
    assert reviewer(*words)[0] == 2
    assert reviewer(*words, "--replace")[0] == 0
    assert [one["mark"] for one in json.loads(out.read_text())["clips"]] == ["m1"]
    code, said, _ = reviewer("find", folder, "--json")
    (folder / "found.json").write_text(said)
    code, said, _ = reviewer(
        "clip-set", "begin", "--found", folder / "found.json", "-o", folder / "f.json", "--json"
    )
    assert code == 0
    timed = [one for one in json.loads((folder / "found.json").read_text())["passages"] if one["recording"]]
    assert len(json.loads(said)["clips"]) == len(timed) > 3


def test_what_was_found_is_told_from_wherever_the_answer_lies(
    reviewer: Call, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The answer names its folder as it was typed, which is another one from elsewhere."""
    (folder / "cases").mkdir()
    (folder / "elsewhere").mkdir()
    for one in list(folder.glob("*.case")):
        one.rename(folder / "cases" / one.name)
    monkeypatch.chdir(folder)
    (folder / "found.json").write_text(reviewer("find", "cases", "--limit", "3", "--json")[1])
    monkeypatch.chdir(folder / "elsewhere")
    code, said, remarks = reviewer("clip-set", "begin", "--found", "../found.json", "-o", "r.json", "--json")
    assert code == 0
    assert {one["case"].split("/")[:2] == ["..", "cases"] for one in json.loads(said)["clips"]} == {True}
    assert "the answer holds 3" in remarks
    (folder / "found.json").rename(folder / "elsewhere" / "found.json")
    code, said, _ = reviewer("clip-set", "begin", "--found", "found.json", "-o", "s.json", "--json")
    assert (code, json.loads(said)["problems"][0]["code"]) == (2, "cases-not-here")
    assert not (folder / "elsewhere" / "s.json").exists()


def test_a_set_that_no_recipe_can_hold_is_not_begun(
    reviewer: Call, folder: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("reviewer.actions.cliprecipes.MOST", 2)
    code, said, _ = reviewer("clip-set", "begin", folder / f"{FIRST}.case", "-o", folder / "r.json", "--json")
    assert (code, json.loads(said)["problems"][0]["code"]) == (2, "too-many-clips")
    assert schema("clips")["properties"]["clips"]["maxItems"] == 999 == MOST


def test_smaller_pictures_fill_the_film_of_larger_ones(folder: Path) -> None:
    small = folder / "small.mp4"
    shrink = ("-vf", "scale=320:180", "-frames:v", "30")
    subprocess.run(["ffmpeg", "-v", "error", "-i", folder / f"{FIRST}.mp4", *shrink, small], check=True)
    kept = {"author": "A", "athlete_code": "G-12", "consent": "given", "recording": small}
    with actions.start_case(folder / "small.case", **kept) as audit:  # type: ignore[arg-type]
        actions.give_consent(audit, ["teaching"], "2026-12-31", TODAY)
    place = recipe(folder, some(3, 4), {"case": "small.case", "frames": [3, 4]}, card_s="0", freeze_s="0")
    made(place, folder / "all.mp4")
    first, _, second, _ = pictures(folder / "all.mp4", size=(1280, 720))
    assert np.abs(first - second).mean() < 12, "as large as the larger one"


@pytest.mark.parametrize("language", ["en", "de"])
def test_its_page_plays_and_breaks_no_rule(browser: Browser, folder: Path, language: str) -> None:
    out = folder / "set"
    made(recipe(folder, some(3, 30), others(3, 20), language=language, speed="1"), out)
    page = browser.new_page(viewport={"width": 390, "height": 844})
    faults: list[str] = []
    page.on("console", lambda said: faults.append(said.text))
    page.goto((out / "index.html").as_uri())
    for place in range(2):
        video = page.locator("video").nth(place)
        video.evaluate("one => { one.muted = true; return one.play(); }")
        page.wait_for_function("one => one.currentTime > 0.2", arg=video.element_handle())
        assert video.evaluate("one => one.videoWidth") > 0
    assert faults == []
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    page.close()
    assert rules_broken((out / "index.html").read_text(encoding="utf-8"), folder, 390) == []
