"""A track kept in a case: confirmed, undone, told in the report, and followed again by a colleague.

Clicks: the near joints and bars of the sample clip's own truth, written when it was rendered.
"""

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions, casefile
from reviewer.terms.exact import Degrees
from reviewer.terms.problems import ReviewerError
from reviewer.terms.readings import Clicks

CLIPS = Path(__file__).resolve().parents[2] / "sample_clips"
CLIP = CLIPS / "square-on.mp4"
TRUTH = json.loads((CLIPS / "square-on.truth.json").read_text(encoding="utf-8"))
CAST = next(one for one in TRUTH["elements"] if one["code"] == "cast")
SPAN = 150


def clicks(frame: int = CAST["top_frame"] - 2) -> Clicks:
    """Clicks on shoulder and ankle of a frame and on the bars."""

    def spot(place: list[float]) -> list[str]:
        return [f"{size:.3f}" for size in place]

    return Clicks.from_json(
        {
            "picture": TRUTH["displayed"],
            "frame": frame,
            "line": "shoulder-ankle",
            "cast_to": "left",
            "body": {name: [spot(TRUTH["joints"][name]["near_px"][frame])] for name in ("shoulder", "ankle")},
            "points": {name: spot(one["px"]) for name, one in TRUTH["apparatus"]["points"].items()},
            "click_sd_px": "1.5",
            "athlete_height_mm": 1400,
        }
    )


@pytest.fixture
def path(tmp_path: Path) -> Path:
    """A case of the clip with one cast, m1."""
    made = tmp_path / "routine.case"
    with actions.start_case(made, author="A", athlete_code="G-1", consent="given", recording=CLIP) as audit:
        actions.place_mark(audit, kind="element", code="cast", start=CAST["start_pts"], end=CAST["end_pts"])
    return made


def confirmed(path: Path) -> Path:
    with actions.open_case(path, author="A", recording=CLIP) as audit:
        actions.take_track(audit, [clicks()], SPAN, CLIP, "m1")
    return path


def test_the_cast_cites_the_top_of_the_track(path: Path) -> None:
    with actions.open_case(confirmed(path), author=None) as audit:
        (track,), (mark,) = audit.tracks, audit.marks
        top = track.document["top"]
        assert mark.angle is not None
        assert mark.angle.reading == track.id == "r1"
        assert (str(mark.angle.value), str(mark.angle.uncertainty)) == (top["value_deg"], top["u_deg"])
        assert float(top["value_deg"]) == pytest.approx(CAST["top_deg"], abs=0.5)
        assert track.clicks == (clicks(),)


def test_ids_are_of_one_series_with_readings_and_never_come_twice(path: Path) -> None:
    with actions.open_case(path, author="A", recording=CLIP) as audit:
        assert actions.take_reading(audit, clicks()).id == "r1"
        actions.take_track(audit, [clicks()], SPAN, CLIP, None)
        assert audit.tracks[0].id == "r2"
        actions.undo(audit)
        assert actions.take_reading(audit, clicks()).id == "r3"


def test_undo_takes_track_and_angle_back_in_one_step_and_redo_brings_both(path: Path) -> None:
    with actions.open_case(confirmed(path), author="A", recording=CLIP) as audit:
        actions.undo(audit)
        assert (audit.tracks, audit.marks[0].angle) == ((), None)
        actions.redo(audit)
        assert audit.tracks
        assert audit.marks[0].angle is not None


def test_a_track_without_a_top_confirms_nothing(path: Path) -> None:
    """Followed for one frame only, nothing shows where the line turns back."""
    with actions.open_case(path, author="A", recording=CLIP) as audit:
        before = len(audit.case.events)
        with pytest.raises(actions.AuditError) as refused:
            actions.take_track(audit, [clicks()], 0, CLIP, "m1")
        assert [one.code for one in refused.value.problems] == ["no-top"]
        assert "end of what could be followed" in str(refused.value)
        assert len(audit.case.events) == before
        actions.take_track(audit, [clicks()], 0, CLIP, None)
        assert audit.tracks[0].top is None


def test_a_recording_the_case_does_not_cite_is_refused(path: Path, tmp_path: Path) -> None:
    other = tmp_path / "other.mp4"
    other.write_bytes(CLIP.read_bytes() + b"\0")
    with (
        actions.open_case(path, author="A", recording=CLIP) as audit,
        pytest.raises(actions.AuditError) as refused,
    ):
        actions.take_track(audit, [clicks()], SPAN, other, "m1")
    assert refused.value.problems[0].code == "unknown-recording"


def test_an_unknown_cast_is_refused_and_nothing_is_kept(path: Path) -> None:
    with actions.open_case(path, author="A", recording=CLIP) as audit:
        with pytest.raises(actions.AuditError, match="m9"):
            actions.take_track(audit, [clicks()], SPAN, CLIP, "m9")
        assert audit.tracks == ()


def test_the_report_tells_of_the_track(path: Path, tmp_path: Path) -> None:
    with actions.open_case(confirmed(path), author="A", recording=CLIP) as audit:
        actions.write_report(audit, tmp_path / "report")
        kept = audit.tracks[0].document
    (told,) = json.loads((tmp_path / "report" / "report.json").read_bytes())["tracks"]
    assert (told["id"], told["recording_number"], told["camera"]) == ("r1", 1, "still")
    assert (told["top"], told["lost"], told["frames"]) == (kept["top"], kept["lost"], len(kept["frames"]))
    found = actions.verify(tmp_path / "report", recording=CLIP)
    assert (found["differences"], "tracks" in found["checked"]) == ([], True)


def test_marks_that_cite_a_track_are_listed_and_brought_elsewhere(path: Path, tmp_path: Path) -> None:
    with actions.open_case(confirmed(path), author=None) as audit:
        written = actions.marks_text(audit)
    document, copy = tmp_path / "marks.json", tmp_path / "copy.case"
    document.write_text(written, encoding="utf-8")
    with actions.start_case(copy, author="B", athlete_code="G-1", consent="given", recording=CLIP) as audit:
        assert actions.import_marks(audit, document) == 1
        angle = audit.marks[0].angle
        assert angle is not None
        assert angle.reading == "r1"


def altered(path: Path, change: Callable[[dict[str, Any]], object], tmp_path: Path) -> Path:
    """A case whose track was changed by somebody who chained everything anew."""
    found = casefile.read_events(confirmed(path))
    made = tmp_path / "altered.case"
    with casefile.create_case(made, "A", "G-1", "given") as case:
        for text in casefile.read_books(path).values():
            case.keep_book(text)
        for event in found[1:]:
            payload = json.loads(json.dumps(event.payload, default=dict))
            if event.kind == "track-confirmed":
                change(payload["track"])
            case.append(event.kind, payload)
    return made


def differences(path: Path, recording: Path | None = CLIP) -> list[tuple[str, str]]:
    found = actions.verify(path, recording=recording)
    return [(one["what"], one["where"]) for one in found["differences"]]


def moved(sizes: dict[str, Any], name: str, by: int) -> None:
    sizes[name] = str(Degrees(Degrees.parse(sizes[name]).thousandths + by))


def test_an_untouched_track_follows_again(path: Path) -> None:
    assert differences(confirmed(path)) == []


@pytest.mark.parametrize("name", ["angle_deg", "u_deg"])
def test_one_altered_frame_is_named_beyond_the_twentieth_of_a_degree(
    path: Path, tmp_path: Path, name: str
) -> None:
    """The reach of 0.05 degrees: what is within it is libraries differing, what is beyond is told."""
    frame = CAST["top_frame"]

    def alter(by: int) -> Callable[[dict[str, Any]], None]:
        return lambda track: moved(
            next(one for one in track["track"]["frames"] if one["frame"] == frame), name, by
        )

    assert differences(altered(path, alter(60), tmp_path)) == [("track", f"r1 frame {frame}")]


def test_a_difference_within_the_twentieth_is_none(path: Path, tmp_path: Path) -> None:
    assert (
        differences(altered(path, lambda one: moved(one["track"]["frames"][3], "angle_deg", 40), tmp_path))
        == []
    )


def test_a_frame_called_lost_that_is_good_is_named(path: Path, tmp_path: Path) -> None:
    lost: dict[str, Any] = {"state": "lost", "points": {}, "angle_deg": None, "u_deg": None}
    case = altered(path, lambda one: one["track"]["frames"][0].update(lost), tmp_path)
    assert differences(case) == [("track", f"r1 frame {clicks().frame - 4}")]


def test_an_altered_top_is_named_and_so_is_the_cast_that_cites_another(path: Path, tmp_path: Path) -> None:
    case = altered(path, lambda one: moved(one["track"]["top"], "value_deg", 2000), tmp_path)
    assert differences(case) == [("track", "r1 as cited by m1"), ("track", "r1 top")]


def test_a_top_at_another_time_is_named(path: Path, tmp_path: Path) -> None:
    case = altered(path, lambda one: one["track"]["top"].update(time_s="1.000000"), tmp_path)
    assert differences(case) == [("track", "r1 top")]


def test_clicks_that_were_moved_are_noticed(path: Path, tmp_path: Path) -> None:
    spots = [["600", "300"]]
    assert differences(altered(path, lambda one: one["clicks"][0]["body"].update(ankle=spots), tmp_path))


@pytest.mark.parametrize(
    "spoil",
    [
        lambda track: track["track"].pop("frames"),
        lambda track: track["track"]["frames"][0].update(angle_deg="steep"),
        lambda track: track["track"]["frames"][0].update(frame="7"),
        lambda track: track["track"]["frames"].reverse(),
        lambda track: track["track"]["top"].update(frame=9999),
        lambda track: track["track"]["top"].update(interval_s=["1", "2", "3"]),
        lambda track: track["track"].update(lost=[3]),
        lambda track: track["clicks"][0].pop("body"),
    ],
)
def test_a_damaged_track_is_named_and_nothing_breaks(
    path: Path, tmp_path: Path, spoil: Callable[[dict[str, Any]], object]
) -> None:
    case = altered(path, spoil, tmp_path)
    assert differences(case) == [("track", "r1")]
    with actions.open_case(case, author=None) as audit, pytest.raises(ReviewerError) as refused:
        _ = audit.tracks
    assert [(one.code, one.where) for one in refused.value.problems] == [("damaged-track", "track r1")]


def test_without_the_recording_tracks_are_not_checked(path: Path) -> None:
    found = actions.verify(confirmed(path))
    assert {"what": "tracks", "why": "recording not here: r1"} in found["not_checked"]
    assert "tracks" not in found["checked"]


def test_a_case_without_tracks_says_nothing_of_them(path: Path) -> None:
    found = actions.verify(path, recording=CLIP)
    assert "tracks" not in found["checked"]
    assert all(one["what"] != "tracks" for one in found["not_checked"])


def test_clicks_of_several_frames_are_kept_in_order_of_time(path: Path) -> None:
    late, early = clicks(CAST["top_frame"] + 2), clicks()
    with actions.open_case(path, author="A", recording=CLIP) as audit:
        actions.take_track(audit, [late, early], 60, CLIP, None)
        assert audit.tracks[0].clicks == (early, late)
    assert differences(path) == []
