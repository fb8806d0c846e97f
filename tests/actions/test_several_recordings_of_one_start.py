"""A judge works with two cameras on one routine, and with an exercise that was begun twice."""

import json
import shutil
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions, video
from reviewer.actions.documents import import_marks
from reviewer.actions.finding import take_stills
from reviewer.terms.exact import Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.problems import DocumentError, ReviewerError
from reviewer.terms.readings import Clicks

TABLE, STAND, AGAIN = "table.mkv", "stand.mkv", "again.mkv"
CLICKS = {
    "format": "reviewer.clicks/1",
    "picture": [64, 36],
    "frame": 20,
    "line": "shoulder-ankle",
    "side": "near",
    "body": {"shoulder": [["40.5", "12.2"]], "ankle": [["22.1", "31.0"]]},
}


@pytest.fixture
def audit(seats: Path, tmp_path: Path) -> Iterator[actions.Audit]:
    folder = Path(shutil.copytree(seats, tmp_path / "evening"))
    with actions.start_case(
        folder / "routine.case", author="A", athlete_code="G-12", consent="given", recording=folder / TABLE
    ) as made:
        yield made


def file(audit: actions.Audit, name: str) -> Path:
    return audit.path.parent / name


def sha(audit: actions.Audit, number: int) -> str:
    return audit.state.recordings[number - 1].sha256


def code_of(action: Callable[[], object]) -> str:
    with pytest.raises(ReviewerError) as refused:
        action()
    (problem,) = refused.value.problems
    assert problem.where
    assert str(problem.message)
    assert str(problem.remedy)
    return problem.code


def two_cameras(audit: actions.Audit) -> tuple[str, str]:
    """Frame 45 of the table's camera (1.5 s of the hall's clock) shows what frame 25 of the stand's does."""
    actions.add_recording(audit, file(audit, STAND))
    actions.join_recordings(audit, sha(audit, 1), 45, sha(audit, 2), 25)
    return sha(audit, 1), sha(audit, 2)


def element(audit: actions.Audit, code: str, frame: int, on: str | None = None, **also: Any) -> str:
    change = actions.place_mark(
        audit, kind="element", code=code, start=audit.time(frame, on).pts, recording=on, **also
    )
    assert change.mark is not None
    return change.mark


def fault(audit: actions.Audit, of: str, frame: int, on: str | None = None, code: str = "arms-bent") -> str:
    change = actions.place_mark(
        audit, kind="fault", code=code, at=audit.time(frame, on).pts, recording=on, element=of,
        amount=Points.parse("0.100"),
    )  # fmt: skip
    assert change.mark is not None
    return change.mark


def hall_clock(path: Path, frame: int) -> float:
    """Seconds of the hall's clock at a picture, from its brightness; one step is 14 ms."""
    with video.open_recording(path) as recording:
        shown = recording.picture(frame).bgra[0]
    return (shown * 219 / 255) / 70  # display range of BT.601 and BT.709 luma: 16 to 235


def test_a_fall_marked_on_the_second_camera_lies_between_the_elements_marked_on_the_first(
    audit: actions.Audit,
) -> None:
    _, stand = two_cameras(audit)
    first = element(audit, "pullover", 15, roles=("mount",))
    last = element(audit, "cast", 60, angle=CastAngle("eye", verdict="met"))
    fall = actions.place_mark(
        audit, kind="fault", code="fall", at=audit.time(25, stand).pts, recording=stand, element=first,
        amount=audit.book.fault("fall").amounts[0],
    ).mark  # fmt: skip
    assert [mark.id for mark in audit.marks] == [first, fall, last]
    (line,) = (one for one in actions.audit_score(audit)["lines"] if fall in one["marks"])
    assert line["frames"] == [{"frame": 25, "pts": audit.time(25, stand).pts, "recording": 2}]


def test_the_offset_is_within_its_uncertainty_of_the_truth(audit: actions.Audit) -> None:
    """The stand's camera began 0.5 s of the hall's clock after the table's (the clips' recipe)."""
    table, stand = two_cameras(audit)
    found = actions.offset(audit, table, stand)
    assert found is not None
    microseconds, uncertainty = found
    assert uncertainty == 14_969  # sqrt((33^2 + 40^2) / 12) ms by hand: these files tick in whole ms
    assert abs(microseconds - 500_000) < 2 * uncertainty
    assert actions.offset(audit, stand, table) == (-microseconds, uncertainty)


def test_stepping_in_one_camera_shows_the_other_at_the_same_instant(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    for frame in range(16, 90, 7):
        other = actions.counterpart(audit, frame, of=table, on=stand)
        assert other is not None
        here, there = hall_clock(file(audit, TABLE), frame), hall_clock(file(audit, STAND), other)
        assert abs(here - there) < 0.034 / 2 + 0.040 / 2 + 0.015 + 0.014
    assert actions.counterpart(audit, 45, of=table, on=stand) == 25
    assert actions.counterpart(audit, 25, of=stand, on=table) == 45
    assert actions.counterpart(audit, 0, of=table, on=stand) is None
    assert actions.counterpart(audit, 7, of=stand, on=stand) == 7


def test_a_routine_scores_the_same_whichever_camera_each_mark_was_made_on(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    calls = [("pullover", 10), ("cast", 30), ("back-hip-circle", 50), ("cast", 65), ("back-hip-circle", 80)]
    scores = []
    for cameras in ((table,), (table, stand)):
        placed = []
        for number, (code, frame) in enumerate(calls):
            on = cameras[number % len(cameras)]
            there = actions.counterpart(audit, frame, of=table, on=on)
            assert there is not None
            angle = CastAngle("eye", verdict="met") if code == "cast" else None
            placed.append(element(audit, code, there, on, angle=angle))
        placed.append(fault(audit, placed[1], 32))
        assert [mark.code for mark in audit.marks if mark.kind == "element"] == [code for code, _ in calls]
        sheet = audit.sheet
        scores.append((sheet.final_score, sheet.value_parts, [line.clause for line in sheet.lines]))
        for mark in placed:
            actions.withdraw_mark(audit, mark)
    assert scores[0] == scores[1]


def test_marks_of_cameras_that_are_not_joined_are_scored_with_a_warning(audit: actions.Audit) -> None:
    actions.add_recording(audit, file(audit, STAND))
    element(audit, "pullover", 15)
    assert "warnings" not in actions.audit_score(audit)
    element(audit, "cast", 5, sha(audit, 2), angle=CastAngle("eye", verdict="met"))
    (warned,) = actions.audit_score(audit)["warnings"]
    assert warned["code"] == "recordings-not-joined"
    assert [mark.code for mark in audit.marks] == ["pullover", "cast"]
    actions.join_recordings(audit, sha(audit, 1), 45, sha(audit, 2), 25)
    assert "warnings" not in actions.audit_score(audit)
    actions.undo(audit)
    assert actions.warnings_of(audit)


def begun_twice(audit: actions.Audit) -> tuple[str, str]:
    """The rail gave way in attempt 1 after a fault; attempt 2 was clean but for one."""
    actions.add_recording(audit, file(audit, AGAIN), attempt=2)
    of = element(audit, "pullover", 10, roles=("mount",))
    fault(audit, of, 12)
    fault(audit, of, 14, code="legs-apart")
    again = element(audit, "pullover", 20, sha(audit, 2), roles=("mount",))
    return of, fault(audit, again, 25, sha(audit, 2))


def test_only_marks_of_the_attempt_that_counts_earn_and_cost(audit: actions.Audit) -> None:
    of, bent = begun_twice(audit)
    first = audit.sheet
    assert audit.set_aside == tuple(mark.id for mark in audit.marks if mark.recording)
    actions.count_attempt(audit, 2)
    score = actions.audit_score(audit)
    costing = {mark for line in score["lines"] if line["stage"] == "execution" for mark in line["marks"]}
    assert costing == {bent}
    assert (score["attempt"], of in score["set_aside"]) == (2, True)
    assert audit.sheet.reachable != first.reachable
    actions.undo(audit)
    assert audit.sheet == first


def test_the_score_of_an_attempt_is_that_of_a_case_of_that_attempt_alone(
    audit: actions.Audit, tmp_path: Path
) -> None:
    begun_twice(audit)
    actions.count_attempt(audit, 2)
    with actions.start_case(
        tmp_path / "alone.case", author="A", athlete_code="G-12", consent="given",
        recording=file(audit, AGAIN),
    ) as alone:  # fmt: skip
        fault(alone, element(alone, "pullover", 20, roles=("mount",)), 25)
        assert (alone.sheet.final_score, alone.sheet.reachable.scores) == (
            audit.sheet.final_score,
            audit.sheet.reachable.scores,
        )


def test_a_mark_without_a_frame_goes_to_the_attempt_that_counts(audit: actions.Audit) -> None:
    begun_twice(audit)
    actions.count_attempt(audit, 2)
    fact = actions.place_mark(audit, kind="fact", code="springboard-left").mark
    assert fact not in audit.set_aside
    actions.count_attempt(audit, 1)
    assert fact in audit.set_aside


def test_a_fault_cannot_belong_to_an_element_of_another_attempt(audit: actions.Audit) -> None:
    of, _ = begun_twice(audit)
    assert code_of(lambda: fault(audit, of, 25, sha(audit, 2))) == "no-element"


def test_a_recording_taken_for_another_attempt_can_be_moved(audit: actions.Audit) -> None:
    actions.add_recording(audit, file(audit, AGAIN))
    actions.assign_attempt(audit, sha(audit, 2), 2)
    assert [one.attempt for one in audit.state.recordings] == [1, 2]
    assert code_of(lambda: actions.assign_attempt(audit, sha(audit, 2), 2)) == "same-attempt"
    actions.undo(audit)
    assert [one.attempt for one in audit.state.recordings] == [1, 1]


def test_what_cannot_be_is_refused_with_a_remedy_and_nothing_is_written(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    actions.add_recording(audit, file(audit, AGAIN), attempt=2)
    actions.add_recording(audit, file(audit, "single.mkv"))
    again, single = sha(audit, 3), sha(audit, 4)
    join = actions.join_recordings
    before = len(audit.case.events)
    refusals = {
        "known-recording": lambda: actions.add_recording(audit, file(audit, STAND), 2),
        "no-attempt": lambda: actions.add_recording(audit, file(audit, STAND), 0),
        "attempt-without-recordings": lambda: actions.count_attempt(audit, 3),
        "other-attempt": lambda: join(audit, table, 0, again, 0),
        "same-recording": lambda: join(audit, table, 0, table, 5),
        "one-picture": lambda: join(audit, table, 0, single, 0),
        "frame-out-of-range": lambda: join(audit, table, 0, stand, 10_000),
        "unknown-recording": lambda: join(audit, table, 0, "ab" * 32, 0),
        "recordings-not-joined": lambda: actions.counterpart(audit, 0, of=table, on=again),
    }
    assert {code: code_of(action) for code, action in refusals.items()} == {one: one for one in refusals}
    assert code_of(lambda: join(audit, table, -1, stand, 0)) == "frame-out-of-range"
    assert code_of(lambda: element(audit, "cast", 0, "ab" * 32)) == "unknown-recording"
    assert code_of(lambda: actions.add_recording(audit, file(audit, "none.mkv"))) != "known-recording"
    assert len(audit.case.events) == before


def test_a_recording_is_named_by_its_place_or_the_beginning_of_its_fingerprint(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    named = actions.recording_named
    assert [named(audit, "1"), named(audit, "2"), named(audit, stand), named(audit, table[:8])] == [
        table,
        stand,
        stand,
        table,
    ]
    for wrong in ("0", "3", "", "-1", "stand", table[:3], "²", "f" * 65):
        assert code_of(lambda wrong=wrong: named(audit, wrong)) == "unknown-recording"


def test_moved_recordings_are_found_again_by_their_fingerprints(audit: actions.Audit) -> None:
    two_cameras(audit)
    audit.close()
    away = audit.path.parent / "kept"
    away.mkdir()
    shutil.move(audit.path, away / "kept.case")
    shutil.move(file(audit, STAND), away / "renamed.mkv")
    with actions.open_case(away / "kept.case", author=None) as again:
        assert set(again.recording_paths) == {sha(again, 1), sha(again, 2)}
        facts = again.facts_of(sha(again, 2))
        assert facts is not None
        assert len(facts.pts) == again.state.recordings[1].frames
    (away / "renamed.mkv").unlink()
    with actions.open_case(away / "kept.case", author=None) as again:
        assert set(again.recording_paths) == {sha(again, 1)}
        entries = actions.recordings_document(again)["recordings"]
        assert [one["where"] is None for one in entries] == [False, True]


def test_a_named_recording_may_be_either_of_the_two(audit: actions.Audit) -> None:
    two_cameras(audit)
    audit.close()
    with actions.open_case(audit.path, author=None, recording=file(audit, STAND)) as again:
        assert again.recording_path is not None
        assert again.recording_path.name == TABLE
    assert code_of(lambda: actions.open_case(audit.path, author=None, recording=file(audit, AGAIN))) == (
        "recording-changed"
    )


def test_a_cast_may_be_measured_on_the_second_camera(audit: actions.Audit) -> None:
    _, stand = two_cameras(audit)
    cast = element(audit, "cast", 40)
    actions.take_and_confirm(audit, Clicks.from_json(CLICKS), cast, stand)
    (reading,) = audit.readings
    assert (reading.pts, audit.reading_on(reading.id)) == (audit.time(20, stand).pts, stand)
    stills, _ = take_stills(audit)
    assert [(one["id"], one["recording"]) for one in stills] == [("recording-2-frame-20", 2)]
    assert "Protractor" in stills[0]["overlay"]


def test_marks_taken_to_another_case_keep_their_order_and_their_score(
    audit: actions.Audit, tmp_path: Path
) -> None:
    _, stand = two_cameras(audit)
    first = element(audit, "pullover", 15, roles=("mount",))
    cast = element(audit, "cast", 25, stand)
    element(audit, "back-hip-circle", 60)
    fault(audit, first, 17)
    actions.take_and_confirm(audit, Clicks.from_json(CLICKS), cast, stand)
    actions.add_recording(audit, file(audit, AGAIN), 2)
    aside = element(audit, "pullover", 3, sha(audit, 3))
    document = tmp_path / "marks.json"
    document.write_text(actions.marks_text(audit), encoding="utf-8")
    scored = actions.score_document(document)
    own = actions.audit_score(audit)
    for key in ("final_score", "reachable", "value_parts", "not_earned", "attempt", "set_aside"):
        assert scored[key] == own[key]
    assert scored["set_aside"] == [aside]
    other = file(audit, "other.case")
    with actions.start_case(
        other, author="B", athlete_code="G-12", consent="given", recording=file(audit, TABLE)
    ) as theirs:
        assert code_of_all(lambda: import_marks(theirs, document)) == {"other-recording"}
        actions.add_recording(theirs, file(audit, AGAIN), 2)
        actions.add_recording(theirs, file(audit, STAND))
        actions.join_recordings(theirs, sha(theirs, 1), 45, sha(theirs, 3), 25)
        assert import_marks(theirs, document) == 5
        assert [mark.id for mark in theirs.marks] == [mark.id for mark in audit.marks]
        assert theirs.sheet.final_score == audit.sheet.final_score
        assert theirs.reading_on("r1") == stand


def code_of_all(action: Callable[[], object]) -> set[str]:
    with pytest.raises(ReviewerError) as refused:
        action()
    return {problem.code for problem in refused.value.problems}


def test_marks_of_a_case_of_the_second_camera_alone_come_in_as_marks_of_it(
    audit: actions.Audit, tmp_path: Path
) -> None:
    _, stand = two_cameras(audit)
    document = tmp_path / "stand.json"
    mark = {"id": "m1", "kind": "element", "code": "pullover", "start": 40}
    said = {"format": "reviewer.marks/1", "recording_sha256": stand, "marks": [mark]}
    document.write_text(json.dumps(said), encoding="utf-8")
    import_marks(audit, document)
    assert audit.marks == (Mark("m1", "element", "pullover", start=40, recording=stand),)


def test_a_document_whose_recordings_do_not_agree_is_refused(audit: actions.Audit, tmp_path: Path) -> None:
    two_cameras(audit)
    whole = actions.export_marks(audit)
    mark = {"id": "m1", "kind": "fact", "code": "springboard-left", "recording": "9f" * 32}
    wrong = (
        whole | {"marks": [mark]},
        whole | {"recordings": [*whole["recordings"], whole["recordings"][0]]},
        whole | {"recording_sha256": "9f" * 32},
        {name: value for name, value in whole.items() if name != "attempt"},
        whole | {"recordings": [whole["recordings"][0] | {"shift_s": "1/0"}]},
    )
    for document in wrong:
        path = tmp_path / "wrong.json"
        path.write_text(json.dumps(document), encoding="utf-8")
        with pytest.raises(DocumentError):
            actions.score_document(path)


def test_a_mark_named_on_the_first_recording_is_kept_as_any_mark_of_a_single_one(
    audit: actions.Audit,
) -> None:
    element(audit, "pullover", 5, sha(audit, 1))
    assert "recording" not in audit.case.events[-1].payload["mark"]
    (mark,) = audit.marks
    actions.change_mark(audit, replace(mark, end=500, recording=sha(audit, 1)))
    assert "recording" not in audit.case.events[-1].payload["mark"]


def reported(audit: actions.Audit) -> Path:
    _, stand = two_cameras(audit)
    first = element(audit, "pullover", 15, roles=("mount",))
    fault(audit, first, 17)
    fault(audit, first, 18, stand, code="legs-apart")
    cast = element(audit, "cast", 40)
    actions.take_and_confirm(audit, Clicks.from_json(CLICKS), cast, stand)
    actions.add_recording(audit, file(audit, AGAIN), 2)
    element(audit, "pullover", 3, sha(audit, 3))
    actions.write_report(audit, audit.path.parent / "report")
    return audit.path.parent / "report"


def test_a_report_of_two_cameras_says_of_each_frame_which_one_and_how_well_they_agree(
    audit: actions.Audit,
) -> None:
    report = reported(audit)
    page = (report / "report.html").read_text(encoding="utf-8")
    found = actions.offset(audit, sha(audit, 1), sha(audit, 2))
    assert found is not None
    for number in (1, 2, 3):
        assert sha(audit, number) in page
    assert found[0] == 496_500
    assert "0.497 s ± 0.030 s (95 %) added to its times gives" in page.replace("\u00a0", " ")
    assert '<a href="#recording-2-frame-18"><bdi>18 of recording 2</bdi></a>' in page
    assert '<a href="#frame-17"><bdi>17 of recording 1</bdi></a>' in page
    assert "attempt 1 counts" in page
    assert "another attempt, does not count" in page
    document = json.loads((report / "report.json").read_bytes())
    assert [one["counts"] for one in document["recordings"]] == [True, True, False]
    assert str(audit.path.parent) not in page + json.dumps(document)


def test_a_report_of_two_cameras_derives_again_down_to_its_pictures(audit: actions.Audit) -> None:
    report = reported(audit)
    every = [file(audit, name) for name in (TABLE, STAND, AGAIN)]
    found = actions.verify(report, recording=every, pictures=True)
    assert (found["differences"], found["not_checked"]) == ([], [])
    assert {"recording", "offsets", "readings", "ledger", "pages", "pictures"} <= set(found["checked"])
    some = actions.verify(report, recording=every[:1], pictures=True)
    assert some["same"]
    assert [(one["what"], one["why"]) for one in some["not_checked"]] == [
        ("recording", "recording 2 not here"),
        ("recording", "recording 3 not here"),
        ("pictures", "recording 2 not here"),
    ]


def test_a_changed_picture_of_the_second_camera_is_named(audit: actions.Audit) -> None:
    report = reported(audit)
    page = report / "report.html"
    text = page.read_text(encoding="utf-8")
    place = text.index("base64,", text.index('id="recording-2-frame-18-picture"')) + 200
    swapped = "A" if text[place] != "A" else "B"
    page.write_text(text[:place] + swapped + text[place + 1 :], encoding="utf-8")
    (found,) = actions.verify(report)["differences"]
    assert (found["what"], found["where"]) == ("picture", "report.html: frame 18 of recording 2")


def test_an_offset_that_does_not_follow_from_its_frames_is_named(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    said = {"a": table, "a_pts": 1500, "b": stand, "b_pts": 1000, "offset_us": 499_000, "u_us": 1}
    audit.case.append("recordings-joined", said)
    audit.close()
    (found,) = actions.verify(audit.path)["differences"]
    assert (found["what"], found["where"]) == ("offset", "recordings 1 and 2")
    assert (found["stored"], found["derived"]) == (
        "499000, standard uncertainty 1 µs",
        "496500, standard uncertainty 14969 µs",
    )


def test_another_file_than_those_cited_is_named(audit: actions.Audit) -> None:
    two_cameras(audit)
    audit.close()
    found = actions.verify(audit.path, recording=[file(audit, TABLE), file(audit, AGAIN)])
    assert [(one["what"], one["where"]) for one in found["differences"]] == [("recording", AGAIN)]


def test_a_reader_may_not_join_or_add(audit: actions.Audit) -> None:
    table, stand = two_cameras(audit)
    audit.close()
    with actions.open_case(audit.path, author=None) as reader:
        assert code_of(lambda: actions.join_recordings(reader, table, 0, stand, 0)) == "read-only"
        assert code_of(lambda: actions.add_recording(reader, file(audit, AGAIN), 2)) == "read-only"
        assert code_of(lambda: actions.count_attempt(reader, 1)) == "read-only"
