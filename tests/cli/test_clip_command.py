"""``reviewer clip``: exact passages, for a use that consent covers until the end, and nothing half-written.

Sources: ffprobe and ffmpeg for what is in the files; the sample clip's own pictures.
"""

import json
import os
import resource
import subprocess
import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from fractions import Fraction
from itertools import pairwise
from pathlib import Path
from shutil import copy
from typing import Any

import numpy as np
import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.actions.clipplans import caption_of
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.documents import schema
from reviewer.actions.passages import passages_of
from reviewer.terms.covers import Cover, Followed, fingerprint_of
from reviewer.terms.marks import CastAngle
from reviewer.terms.problems import ReviewerError
from tests.cli.judged_routine import filmed, judged

ROOT = Path(__file__).resolve().parents[2]
SQUARE, UPRIGHT = (ROOT / "sample_clips" / name for name in ("square-on.mp4", "off-axis-fall.mp4"))
TODAY = "2026-11-26"

Call = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def demo(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's case and recording: measured casts, faults, consent to the inquiry alone."""
    folder = tmp_path_factory.mktemp("demo")
    actions.run_demo(folder)
    return folder


@pytest.fixture
def case(demo: Path, tmp_path: Path) -> Path:
    """A copy of it, with consent to teaching."""
    for name in ("square-on.case", "square-on.mp4"):
        copy(demo / name, tmp_path / name)
    recording = tmp_path / "square-on.mp4"
    with actions.open_case(tmp_path / "square-on.case", author="A", recording=recording) as audit:
        actions.give_consent(audit, ["inquiry", "teaching"], "2026-12-31", TODAY)
    return tmp_path / "square-on.case"


@pytest.fixture
def upright(tmp_path: Path) -> Path:
    """A case on a recording that is stored lying and shown upright, with nothing marked."""
    copy(UPRIGHT, tmp_path / UPRIGHT.name)
    case, place = tmp_path / "upright.case", tmp_path / UPRIGHT.name
    kept = {"author": "A", "athlete_code": "G-12", "consent": "given", "recording": place}
    with actions.start_case(case, **kept) as audit:  # type: ignore[arg-type]
        actions.give_consent(audit, ["teaching"], None, TODAY)
    return case


def probed(path: Path) -> dict[str, Any]:
    shown = ["-show_format", "-show_streams", "-show_packets", "-of", "json"]
    said = subprocess.run(["ffprobe", "-v", "error", *shown, str(path)], capture_output=True, check=True)
    return dict(json.loads(said.stdout))


def pictures(path: Path, *options: str) -> Iterator[np.ndarray]:
    """The pictures of a file by the ffmpeg command, as displayed, small and grey."""
    command = ["ffmpeg", "-v", "error", "-i", str(path), "-fps_mode", "passthrough", *options]
    command += ["-pix_fmt", "gray", "-f", "rawvideo", "-"]
    raw = subprocess.run(command, capture_output=True, check=True).stdout
    yield from np.frombuffer(raw, np.uint8).astype(int).reshape(-1, 90, 160)


def answer(reviewer: Call, *words: str | Path, code: int = 0) -> dict[str, Any]:
    found, out, err = reviewer(*words, "--json")
    assert found == code, out + err
    document = dict(json.loads(out))
    if not code:
        assert list(Draft202012Validator(schema("clip")).iter_errors(document)) == []
    return document


def refused(reviewer: Call, *words: str | Path) -> str:
    (problem,) = answer(reviewer, "clip", *words, code=2)["problems"]
    assert problem["message"]
    assert problem["remedy"]
    return str(problem["code"])


def left(folder: Path) -> set[str]:
    return {one.name for one in folder.iterdir()} - {"square-on.case", "square-on.mp4"}


def test_it_holds_the_frames_named_at_the_times_of_the_recording(reviewer: Call, case: Path) -> None:
    out = case.parent / "cut.mp4"
    found = answer(reviewer, "clip", case, "--frames", "100", "160", "--plain", "-o", out)
    source, clip = probed(SQUARE), probed(out)
    pts = sorted(packet["pts"] for packet in source["packets"])
    assert Fraction(clip["streams"][0]["time_base"]) == Fraction(source["streams"][0]["time_base"])
    assert [one["pts"] for one in clip["packets"]] == [tick - pts[100] for tick in pts[100:161]]
    assert found["ticks"] == clip["streams"][0]["duration_ts"] == pts[161] - pts[100]
    assert (found["pictures"], found["sides"][0]["first"]["pts"]) == (61, pts[100])


def test_each_picture_is_that_very_frame(reviewer: Call, case: Path) -> None:
    """Of all frames around it, the one it is nearest to, by ffmpeg's pictures of both files."""
    out = case.parent / "cut.mp4"
    answer(reviewer, "clip", case, "--frames", "225", "245", "--plain", "-o", out)
    around = list(pictures(SQUARE, "-vf", "select='between(n,220,250)',scale=160:90"))
    for number, picture in enumerate(pictures(out, "-vf", "scale=160:90"), start=225):
        apart = [np.abs(picture - other).sum() for other in around]
        assert apart.index(min(apart)) + 220 == number


def test_slow_motion_stretches_every_time_and_adds_no_picture(reviewer: Call, case: Path) -> None:
    out = case.parent / "slow.mp4"
    found = answer(reviewer, "clip", case, "--frames", "10", "29", "--speed", "0.25", "-o", out)
    packets = probed(out)["packets"]
    base = Fraction(probed(out)["streams"][0]["time_base"])
    times = [one["pts"] * base for one in packets]
    assert [after - before for before, after in pairwise(times)] == [Fraction(4, 30)] * 19
    assert found["seconds"] == "2.667"


def test_the_decisive_frame_of_a_cast_stands_still_under_its_protractor(reviewer: Call, case: Path) -> None:
    plain, drawn = case.parent / "plain.mp4", case.parent / "drawn.mp4"
    words = (case, "--mark", "m10", "--freeze-for", "2.5", "--caption", "")
    answer(reviewer, "clip", *words, "--plain", "-o", plain)
    found = answer(reviewer, "clip", *words, "-o", drawn)
    still = found["sides"][0]["still"]["frame"] - found["sides"][0]["first"]["frame"]
    lasting = [Fraction(one["duration"], 30_000) for one in map(with_numbers, probed(drawn)["packets"])]
    assert lasting[still] == Fraction(1, 30) + Fraction(5, 2)
    assert set(lasting[:still] + lasting[still + 1 :]) == {Fraction(1, 30)}
    both = zip(*(pictures(path, "-vf", "scale=160:90") for path in (plain, drawn)), strict=True)
    differ = [np.abs(one - other).max() > 40 for one, other in both]
    assert [number for number, different in enumerate(differ) if different] == [still]


def test_made_again_it_has_the_same_bytes_whatever_memory_held_before(tmp_path: Path) -> None:
    """``MALLOC_PERTURB_`` of the GNU C library (mallopt(3)) fills memory before it is handed out."""
    made = judged(tmp_path / "routine.case", filmed(tmp_path / "routine.mp4"))
    with actions.open_case(made, author=None) as audit:
        mark = next(one.id for one in audit.marks if one.kind == "fault")
    words = ["--mark", mark, "--speed", "1/2", "--freeze-for", "2", "--caption", "Elbows <i>first</i>"]
    for fill in ("0", "1", "2", "170"):
        command = [sys.executable, "-m", "reviewer", "clip", made, *words, "-o", tmp_path / f"{fill}.mp4"]
        subprocess.run(command, check=True, capture_output=True, env=os.environ | {"MALLOC_PERTURB_": fill})
    assert len({(tmp_path / f"{fill}.mp4").read_bytes() for fill in ("0", "1", "2", "170")}) == 1


@pytest.mark.parametrize(
    ("mark", "words"),
    [("m2", "Cast, −38.2° ± 1.5° (95 %), met"), ("m5", "Cast, −51.0° ± 1.5° (95 %), within tolerance")],
)
def test_a_cast_is_told_with_how_it_was_counted(case: Path, mark: str, words: str) -> None:
    """Angles and limits as in the marks of the sample, so that the caption is what the score sheet says."""
    with actions.open_case(case, author=None) as audit:
        assert caption_of(audit, ClipWish(mark=mark))[0] == words
        by_eye = next(one for one in audit.marks if one.id == mark)
    with actions.open_case(case, author="A") as audit:
        actions.change_mark(audit, replace(by_eye, angle=CastAngle("eye", verdict="not met")))
        assert caption_of(audit, ClipWish(mark=mark))[0] == "Cast, not met"


def with_numbers(packet: dict[str, Any]) -> dict[str, Any]:
    return packet | {"duration": int(packet["duration"])}


def test_a_mark_has_its_lead_in_and_run_out_and_its_words_beneath(reviewer: Call, case: Path) -> None:
    out = case.parent / "m6.mp4"
    words = ("--mark", "m6", "--lead-in", "0.5", "--run-out", "0.2", "-o", out)
    found = answer(reviewer, "clip", case, *words)
    with actions.open_case(case, author=None) as audit:
        (shown,) = audit.shown(("m6",))
        (passage,) = (one for one in passages_of(audit) if one.id == "m6")
    assert found["size"] == [1280, 720 + 128]
    side = found["sides"][0]
    assert side["first"]["pts"] == shown.pts - 15_000
    assert side["last"]["pts"] == (passage.end or 0) + 5_000


def test_pictures_that_are_turned_come_out_as_displayed(reviewer: Call, upright: Path) -> None:
    out = upright.parent / "upright.mp4"
    found = answer(reviewer, "clip", upright, "--frames", "40", "44", "-o", out)
    stream = probed(out)["streams"][0]
    assert found["size"] == [stream["width"], stream["height"]] == [720, 1280]
    assert "side_data_list" not in stream


def test_a_name_that_ends_otherwise_is_refused(reviewer: Call, case: Path) -> None:
    for name in ("one.mov", "one"):
        out = case.parent / name
        code, said, _ = reviewer("clip", case, "--frames", "5", "6", "-o", out, "--json")
        assert (code, json.loads(said)["problems"][0]["code"], out.exists()) == (2, "no-mp4", False)


def test_a_passage_of_one_frame_is_a_clip(reviewer: Call, case: Path) -> None:
    found = answer(reviewer, "clip", case, "--frames", "825", "825", "-o", case.parent / "one.mp4")
    assert (found["pictures"], found["seconds"]) == (1, "0.033")


@pytest.mark.parametrize(
    ("code", "words"),
    [
        ("frame-out-of-range", ("--frames", "0", "826")),
        ("frames-turned", ("--frames", "9", "8")),
        ("frame-outside", ("--frames", "5", "8", "--freeze", "9")),
        ("no-passage", ()),
        ("unknown-mark", ("--mark", "m99")),
        ("no-speed", ("--frames", "5", "8", "--speed", "0")),
        ("no-speed", ("--frames", "5", "8", "--speed", "1/0")),
        ("no-seconds", ("--mark", "m4", "--lead-in", "-1")),
        ("no-seconds", ("--mark", "m4", "--freeze-for", "1e3")),
        ("unknown-recording", ("--frames", "5", "8", "--beside", "2")),
        ("no-consent", ("--frames", "5", "8", "--use", "coach")),
    ],
)  # fmt: skip
def test_what_cannot_be_is_refused_and_leaves_nothing(
    reviewer: Call, case: Path, code: str, words: tuple[str, ...]
) -> None:
    assert refused(reviewer, case, *words, "-o", case.parent / "a.mp4") == code
    assert left(case.parent) == set()


def test_no_file_is_written_over_unless_that_is_said(reviewer: Call, case: Path) -> None:
    out = case.parent / "a.mp4"
    out.write_bytes(b"mine")
    assert refused(reviewer, case, "--frames", "5", "8", "-o", out) == "file-exists"
    assert out.read_bytes() == b"mine"
    answer(reviewer, "clip", case, "--frames", "5", "8", "-o", out, "--replace")
    assert out.read_bytes() != b"mine"
    for place, code in (
        (case, "is-case"),
        (case.parent / "square-on.mp4", "is-source"),
        (case.parent, "is-folder"),
    ):
        assert refused(reviewer, case, "--frames", "5", "8", "-o", place, "--replace") == code


def test_a_recording_that_is_gone_or_changed_is_named(reviewer: Call, case: Path) -> None:
    recording = case.parent / "square-on.mp4"
    recording.write_bytes(recording.read_bytes()[:-1])
    assert refused(reviewer, case, "--frames", "5", "8", "-o", case.parent / "a.mp4") == "recording-not-here"
    assert refused(
        reviewer, case, "--frames", "5", "8", "-o", case.parent / "a.mp4", "--film", recording
    ) == ("recording-changed")


def test_consent_that_ends_while_it_is_made_is_refused_at_the_end(case: Path) -> None:
    days, wish = iter(["2026-12-31", "2027-01-01"]), actions.ClipWish(frames=(5, 40))
    with actions.open_case(case, author="A") as audit, pytest.raises(ReviewerError) as refusal:
        actions.export_clip(audit, wish, case.parent / "a.mp4", use="teaching", today=lambda: next(days))
    assert refusal.value.problems[0].code == "consent-ended"
    assert left(case.parent) == set()


def test_one_made_on_a_thread_is_not_put_in_place_after_a_withdrawal(case: Path) -> None:
    """A window makes it from a second reading of the case while the judge goes on."""
    out = case.parent / "a.mp4"
    with actions.open_case(case, author=None) as reader:
        made = actions.make_clip(reader, actions.ClipWish(frames=(5, 9)), out, use="teaching", today=TODAY)
    assert left(case.parent) == {".a.mp4.unfinished"}
    with actions.open_case(case, author="A") as audit:
        actions.withdraw_consent(audit)
        with pytest.raises(ReviewerError) as refusal:
            actions.keep_clip(audit, made, TODAY)
    assert refusal.value.problems[0].code == "consent-withdrawn"
    assert left(case.parent) == set()


def test_one_that_is_stopped_leaves_nothing(case: Path) -> None:
    asked, wish = iter([True] * 10 + [False]), actions.ClipWish(frames=(5, 60))
    out = case.parent / "a.mp4"
    with actions.open_case(case, author="A") as audit, pytest.raises(ReviewerError) as refusal:
        actions.export_clip(
            audit, wish, out, use="teaching", today=lambda: TODAY, going_on=lambda: next(asked)
        )
    assert refusal.value.problems[0].code == "stopped"
    assert left(case.parent) == set()


def test_a_disk_that_is_full_is_told_and_leaves_nothing(case: Path) -> None:
    """A file may grow to 200 kB here, which the case keeps below."""

    def little_room() -> None:
        resource.setrlimit(resource.RLIMIT_FSIZE, (200_000, 200_000))

    out = case.parent / "a.mp4"
    words = [sys.executable, "-m", "reviewer", "clip", str(case), "--frames", "5", "300", "-o", str(out)]
    found = subprocess.run(words, capture_output=True, text=True, preexec_fn=little_room, timeout=120)
    assert found.returncode == 2, found.stderr
    assert "cannot be written" in found.stderr
    assert "Traceback" not in found.stderr
    assert left(case.parent) == set()


def test_heads_that_are_covered_must_have_been_looked_through(reviewer: Call, case: Path) -> None:
    with actions.open_case(case, author="A") as audit:
        actions.place_cover(audit, "a", 5, Cover.of_whole(700, 200, 40, 50))
    out = case.parent / "a.mp4"
    assert refused(reviewer, case, "--frames", "5", "8", "-o", out) == "not-followed"
    assert left(case.parent) == set()


def test_a_cover_without_a_size_is_told_so(reviewer: Call, case: Path) -> None:
    code, _, said = reviewer("cover", "place", case, "--frame", "5", "--at", "700,200", "--size", "0,0")
    assert (code, "a width and a height" in said) == (2, True)


def test_covers_stay_with_their_frames_in_slow_motion_and_standing_still(reviewer: Call, case: Path) -> None:
    """A cover that moves by 10 px a frame: in each picture of the clip it lies where its own frame has it."""
    with actions.open_case(case, author="A") as audit:
        recording, frames = audit.state.recordings[0], audit.state.recordings[0].frames
        actions.place_cover(audit, "a", 0, Cover.of_whole(200, 300, 40, 40))
        placed = fingerprint_of(audit.state.heads[recording.sha256].of("a"))
        moving = tuple(Cover.of_whole(200 + 10 * frame, 300, 40, 40) for frame in range(frames))
        followed = Followed("a", placed, moving, ((8, 9),)).to_json()
        audit.case.append("head-followed", {"recording": recording.sha256} | followed)
        actions.confirm_covers(audit, 0, 40)
    out = case.parent / "covered.mp4"
    words = ("--frames", "5", "14", "--freeze", "9", "--freeze-for", "1", "--speed", "1/2", "-o", out)
    found = answer(reviewer, "clip", case, *words)
    assert (found["sides"][0]["covered_heads"], found["sides"][0]["lost"]) == (["a"], [[8, 9]])
    for frame in (5, 9, 14):
        middle = f"crop=40:40:{200 + 10 * frame - 20}:280,scale=160:90"
        under = list(pictures(out, "-vf", middle))[frame - 5]
        assert np.abs(under - 96).max() <= 6
    refusal = refused(reviewer, case, "--frames", "30", "41", "-o", case.parent / "b.mp4")
    assert refusal == "covers-not-reviewed"


def test_the_case_keeps_that_it_was_made_and_where_it_lies(reviewer: Call, case: Path) -> None:
    out = case.parent / "a.mp4"
    found = answer(reviewer, "clip", case, "--frames", "5", "8", "-o", out)
    with actions.open_case(case, author=None) as audit:
        event = audit.case.events[-1]
        assert audit.case.place(found["sha256"]) == out.resolve()
        recording = audit.state.recordings[0].sha256
    assert event.kind == "clip-written"
    shown = [{"recording": recording, "first": 5, "last": 8}]
    assert event.payload == {"sha256": found["sha256"], "use": "teaching", "shown": shown}


def test_a_report_is_the_same_before_and_after_a_clip(reviewer: Call, case: Path) -> None:
    reports = [case.parent / name for name in ("before", "after")]
    reviewer("report", case, "-o", reports[0])
    answer(reviewer, "clip", case, "--frames", "5", "8", "-o", case.parent / "a.mp4")
    reviewer("report", case, "-o", reports[1])
    for name in ("report.json", "case.json", "report.html"):
        assert (reports[0] / name).read_bytes() == (reports[1] / name).read_bytes()


def test_it_says_what_to_mind(reviewer: Call, case: Path) -> None:
    code, out, err = reviewer("clip", case, "--frames", "5", "8", "-o", case.parent / "a.mp4")
    assert code == 0
    assert "cannot be called back" in out
    assert "nobody's head is covered" in err
