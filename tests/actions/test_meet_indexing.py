"""A meet's recordings are read once each, and its cases made once each, whatever happens in between."""

import json
import os
from collections.abc import Iterator
from concurrent.futures import BrokenExecutor, Future, ThreadPoolExecutor
from pathlib import Path

import pytest

from reviewer import actions, casefile
from reviewer.actions import meetfilms
from reviewer.actions.meetcases import cite_later
from reviewer.shelf import open_register
from reviewer.terms.consents import WITHDRAWN
from reviewer.terms.exact import Points
from reviewer.terms.problems import DocumentError
from tests.actions.drawn_films import FRAMES, draw_films, film

TABLE = """start,athlete,start value,judge A,judge B,average,final
1,G-1,10.0,9.5,9.6,9.55,9.55
2,G-2,,,,,8.2
3,G-3,,,,,
"""


@pytest.fixture(autouse=True)
def _own_cache(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("reviewer.actions.meetindexing.small_pictures_folder", lambda: tmp_path / "small")


@pytest.fixture
def workers() -> Iterator[ThreadPoolExecutor]:
    with ThreadPoolExecutor(2) as pool:
        yield pool


@pytest.fixture
def films(tmp_path: Path) -> Path:
    return draw_films(tmp_path / "films", "1.mp4", "day-2/002.mp4", "other.mp4")


@pytest.fixture
def meet(tmp_path: Path, films: Path) -> Path:
    table = tmp_path / "starts.csv"
    table.write_text(TABLE, encoding="utf-8")
    actions.begin_meet(table, tmp_path / "meet", rule_book="demo-bars-2", recordings=films)
    return tmp_path / "meet"


def index(meet: Path, workers: ThreadPoolExecutor, **how: object) -> actions.MeetIndexed:
    work = actions.Work(workers, 2, 1)
    return actions.index_meet(meet, actions.Indexing("A", "not recorded", work, **how))  # type: ignore[arg-type]


def case_of(meet: Path, start: str) -> Path:
    return meet / "cases" / f"{start}.case"


def cited(meet: Path, start: str) -> list[str]:
    with casefile.open_case(case_of(meet, start), None) as case:
        return [one.sha256 for one in case.state.recordings]


def test_every_start_gets_a_case_with_its_recording_and_what_was_posted(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    done = index(meet, workers)
    assert (done.recordings, done.cases, done.whole, done.problems) == (3, 3, True, [])
    with actions.open_case(case_of(meet, "1"), author=None) as audit:
        (recording,) = audit.state.recordings
        assert audit.recording_path == films / "1.mp4"
        assert len(recording.pts) == FRAMES
        sheet = audit.state.posted_sheet
        assert sheet is not None
        assert (sheet.start_value, dict(sheet.judges)) == (
            Points(10_000),
            {"A": Points(9500), "B": Points(9600)},
        )
        assert audit.state.posted == "9.550"
        assert audit.book.id == "demo-bars-2"
        assert audit.case.events[0].payload == {"athlete_code": "G-1", "consent": "not recorded"}
    assert cited(meet, "3") == []


def test_a_case_is_as_the_command_start_makes_it(
    meet: Path, films: Path, workers: ThreadPoolExecutor, tmp_path: Path
) -> None:
    index(meet, workers)
    alone = tmp_path / "alone.case"
    with actions.start_case(
        alone,
        author="A",
        athlete_code="G-1",
        consent="not recorded",
        rule_book="demo-bars-2",
        recording=films / "1.mp4",
    ):
        pass
    with casefile.open_case(alone, None) as one, casefile.open_case(case_of(meet, "1"), None) as other:
        said = [(event.kind, event.payload) for event in one.events]
        assert said == [(event.kind, event.payload) for event in other.events[: len(said)]]
        assert one.books() == other.books()


def test_the_desk_finds_the_small_pictures_made(
    meet: Path, films: Path, workers: ThreadPoolExecutor, tmp_path: Path
) -> None:
    from reviewer.video import SmallStore, Survey, open_recording

    index(meet, workers)
    store = SmallStore(tmp_path / "small", 1 << 30)
    store.begin = None  # type: ignore[assignment, method-assign]  # nothing may be made
    with open_recording(films / "1.mp4") as recording, ThreadPoolExecutor(1) as beside:
        survey = Survey(recording, store)
        survey.run(lambda done, total: True, beside)
        assert survey.complete
        assert survey.picture(FRAMES - 1) is not None
        survey.close()


def test_nothing_is_done_twice(
    meet: Path, workers: ThreadPoolExecutor, monkeypatch: pytest.MonkeyPatch
) -> None:
    index(meet, workers)
    before = {path.name: path.read_bytes() for path in (meet / "cases").iterdir()}
    monkeypatch.setattr(meetfilms, "read_recording", None)
    done = index(meet, workers)
    assert (done.recordings, done.cases, done.cited, done.whole) == (0, 0, 0, True)
    assert {path.name: path.read_bytes() for path in (meet / "cases").iterdir()} == before


def test_a_stop_keeps_what_was_done(meet: Path, workers: ThreadPoolExecutor) -> None:
    done = index(meet, workers, progress=lambda what, done, all_: False)
    assert (done.recordings, done.whole) == (1, False)
    rest = index(meet, workers)
    assert (done.recordings + rest.recordings, rest.cases) == (3, 3)
    assert rest.whole


def test_pictures_left_out_are_made_later(meet: Path, workers: ThreadPoolExecutor, tmp_path: Path) -> None:
    assert index(meet, workers, pictures=False).recordings == 3
    assert not (tmp_path / "small").exists()
    assert index(meet, workers, pictures=False).recordings == 0
    assert index(meet, workers).recordings == 3
    assert len(list((tmp_path / "small").glob("*.jpegs"))) == 3


def test_pictures_that_made_room_for_others_are_counted(
    meet: Path, workers: ThreadPoolExecutor, tmp_path: Path
) -> None:
    assert index(meet, workers).driven_out == 0
    next((tmp_path / "small").glob("*.json")).unlink()
    assert index(meet, workers).driven_out == 1


def test_a_changed_recording_is_read_again_and_a_moved_one_has_its_pictures(
    meet: Path, films: Path, workers: ThreadPoolExecutor, tmp_path: Path
) -> None:
    index(meet, workers)
    made = {path: path.stat().st_mtime_ns for path in (tmp_path / "small").glob("*.jpegs")}
    (films / "other.mp4").rename(films / "3.mp4")
    (films / "1.mp4").write_bytes(film(77))
    assert index(meet, workers).recordings == 2
    now = {path: path.stat().st_mtime_ns for path in (tmp_path / "small").glob("*.jpegs")}
    assert made.items() <= now.items()
    assert len(now) == len(made) + 1


def test_a_recording_matched_later_is_cited_then(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    actions.match_by_hand(meet, "3", [films / "other.mp4"])
    done = index(meet, workers)
    assert (done.recordings, done.cases, done.cited) == (0, 0, 1)
    assert len(cited(meet, "3")) == 1
    assert index(meet, workers).cited == 0


def test_several_cameras_are_cited_in_the_order_given(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    actions.match_by_hand(meet, "1", [films / "1.mp4"])
    actions.match_by_hand(meet, "3", [films / "other.mp4", Path("1.mp4")])
    index(meet, workers)
    assert len(cited(meet, "3")) == 2
    assert cited(meet, "3")[1] == cited(meet, "1")[0]


def test_a_sealed_case_takes_no_recording_and_says_so(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    with casefile.open_case(case_of(meet, "3"), "A") as case:
        case.append("sealed", {"head": case.events[-1].hash})
    actions.match_by_hand(meet, "3", [films / "other.mp4"])
    done = index(meet, workers)
    assert [(one.code, done.cited) for one in done.problems] == [("sealed", 0)]
    assert cited(meet, "3") == []


def test_a_case_whose_consent_was_withdrawn_takes_nothing(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    with casefile.open_case(case_of(meet, "3"), "A") as case:
        case.append("consent-changed", {"consent": WITHDRAWN})
    before = case_of(meet, "3").read_bytes()
    actions.match_by_hand(meet, "3", [films / "other.mp4"])
    (films / "other.mp4").write_bytes(film(99))  # nor is its recording read again
    done = index(meet, workers)
    assert (done.recordings, done.cited) == (0, 0)
    assert {one.code for one in done.problems} == {"consent-withdrawn"}
    assert case_of(meet, "3").read_bytes() == before


def test_a_case_that_was_deleted_is_not_made_again_unasked(meet: Path, workers: ThreadPoolExecutor) -> None:
    index(meet, workers)
    case_of(meet, "2").unlink()
    done = index(meet, workers)
    assert (done.cases, done.gone) == (0, ["2"])
    assert not case_of(meet, "2").exists()
    assert index(meet, workers, again=True).cases == 1


def test_a_case_that_cites_another_recording_is_left_alone(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    actions.match_by_hand(meet, "1", [films / "other.mp4"])
    before = case_of(meet, "1").read_bytes()
    assert [one.code for one in index(meet, workers).problems] == ["other-recording"]
    assert case_of(meet, "1").read_bytes() == before


def test_a_case_that_was_there_is_left_alone(meet: Path, workers: ThreadPoolExecutor) -> None:
    (meet / "cases").mkdir()
    with actions.start_case(case_of(meet, "2"), author="B", athlete_code="X-1", consent="given"):
        pass
    before = case_of(meet, "3")
    index(meet, workers)
    assert before.exists()
    with casefile.open_case(case_of(meet, "2"), None) as case:
        assert case.events[0].payload["athlete_code"] == "X-1"


def test_a_file_that_is_no_case_is_a_problem_and_no_stop(meet: Path, workers: ThreadPoolExecutor) -> None:
    (meet / "cases").mkdir()
    case_of(meet, "1").write_text("no case", encoding="utf-8")
    done = index(meet, workers)
    assert [one.code for one in done.problems] == ["not-a-case"]
    assert (done.cases, case_of(meet, "1").read_text(encoding="utf-8")) == (2, "no case")


def test_half_a_case_of_a_stopped_run_is_made_anew(meet: Path, workers: ThreadPoolExecutor) -> None:
    (meet / "cases").mkdir()
    (meet / "cases" / ".1.case").write_bytes(b"half")
    index(meet, workers)
    assert sorted(path.name for path in (meet / "cases").iterdir()) == ["1.case", "2.case", "3.case"]


def test_damaged_recordings_are_listed_and_the_others_read(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    (films / "cut.mp4").write_bytes(film(0)[:900])
    (films / "empty.mov").touch()
    spoilt = bytearray(film(5))
    spoilt[9000:9900] = b"\xa5" * 900  # within its pictures
    (films / "2 spoilt.mp4").write_bytes(spoilt)
    done = index(meet, workers)
    assert done.recordings == 6
    assert sorted(one.where for one in done.problems) == ["2 spoilt.mp4", "cut.mp4", "empty.mov"]
    shown = actions.meet_list(meet)
    assert [one["where"] for one in shown["problems"]] == ["2 spoilt.mp4", "cut.mp4", "empty.mov"]
    assert (shown["indexed"], index(meet, workers).recordings) == (6, 0)


def test_what_is_doubled_gone_and_renamed_is_shown(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    (films / "copy.mp4").write_bytes((films / "other.mp4").read_bytes())
    index(meet, workers)
    (films / "1.mp4").rename(films / "first.mp4")
    (films / "day-2" / "002.mp4").unlink()
    index(meet, workers)
    shown = actions.meet_list(meet)
    assert shown["doubled"] == [["copy.mp4", "other.mp4"]]
    assert shown["gone"] == [
        {"start": "1", "recording": "1.mp4", "now": "first.mp4"},
        {"start": "2", "recording": "day-2/002.mp4", "now": None},
    ]
    assert (shown["cases"], shown["recordings"]) == (3, 3)


def test_two_cannot_index_a_meet_at_once(meet: Path, workers: ThreadPoolExecutor) -> None:
    refused = []

    def also(what: str, done: int, all_: int) -> bool:
        with pytest.raises(DocumentError) as fault:
            index(meet, workers)
        refused.append(fault.value.problems[0].code)
        return False

    index(meet, workers, progress=also)
    assert refused == ["meet-held"]


def test_few_recordings_are_handed_out_at_a_time(tmp_path: Path, meet: Path, films: Path) -> None:
    draw_films(films, *(f"x{number}.mp4" for number in range(20)))
    in_hand, most = set[object](), 0

    class Counting(ThreadPoolExecutor):
        def submit(self, *given, **words):  # type: ignore[no-untyped-def]
            nonlocal most
            future = super().submit(*given, **words)
            in_hand.add(future)
            future.add_done_callback(in_hand.discard)
            most = max(most, len(in_hand))
            return future

    with Counting(1) as workers:
        assert index(meet, workers, pictures=False).recordings == 20 + 3
    assert most <= 2


def test_without_a_folder_of_recordings_the_cases_are_made(
    tmp_path: Path, workers: ThreadPoolExecutor
) -> None:
    table = tmp_path / "starts.csv"
    table.write_text(TABLE, encoding="utf-8")
    actions.begin_meet(table, tmp_path / "alone", rule_book="demo-bars-2")
    done = index(tmp_path / "alone", workers)
    assert (done.recordings, done.cases, done.whole) == (0, 3, True)


def test_a_folder_of_recordings_that_is_gone_is_named(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    films.rename(films.with_name("elsewhere"))
    with pytest.raises(DocumentError) as refused:
        index(meet, workers)
    assert refused.value.problems[0].code == "no-folder"
    actions.match_again(meet, recordings=films.with_name("elsewhere"))
    assert index(meet, workers).recordings == 3


def test_meet_and_recordings_may_be_moved_together(
    tmp_path: Path, meet: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    moved = tmp_path / "stick"
    moved.mkdir()
    for name in ("meet", "films"):
        (tmp_path / name).rename(moved / name)
    shown = actions.meet_list(moved / "meet")
    assert (shown["recordings"], shown["indexed"], shown["gone"]) == (3, 3, [])


def test_a_recording_still_being_copied_is_read_again(films: Path, tmp_path: Path) -> None:
    path = films / "1.mp4"
    stamp = path.stat()
    os.utime(path, ns=(1, 1))
    found = meetfilms.read_recording(path, meetfilms.Stamp(stamp.st_mtime_ns, stamp.st_size), None)
    assert found.problem is not None
    assert (found.problem.code, dict(found.cited)) == ("changing", {})


def test_a_process_that_is_lost_ends_the_run_with_the_names_in_hand(meet: Path) -> None:
    class Broken(ThreadPoolExecutor):
        def submit(self, *given, **words):  # type: ignore[no-untyped-def]
            future: Future[None] = Future()
            future.set_exception(BrokenExecutor())
            return future

    with Broken(1) as workers, pytest.raises(actions.AuditError) as refused:
        index(meet, workers)
    (problem,) = refused.value.problems
    assert (problem.code, problem.where) == ("worker-lost", "1.mp4, day-2/002.mp4")


def test_a_file_that_is_no_recording_is_given_to_no_routine(meet: Path, films: Path) -> None:
    (films / "notes.txt").write_text("notes", encoding="utf-8")
    with pytest.raises(DocumentError, match="not named as recordings are"):
        actions.match_by_hand(meet, "3", [films / "notes.txt"])


def test_what_is_matched_by_hand_is_taken_from_whom_a_pattern_gave_it(meet: Path, films: Path) -> None:
    actions.match_by_hand(meet, "3", [films / "1.mp4"])
    shown = actions.meet_list(meet)
    assert (shown["matched"], shown["without_recording"]) == (2, ["1"])


def test_a_recording_given_to_two_routines_is_named(meet: Path, films: Path) -> None:
    for name in "13":
        actions.match_by_hand(meet, name, [films / "other.mp4"])
    assert actions.meet_list(meet)["shared"] == [{"recording": "other.mp4", "starts": ["1", "3"]}]


def test_a_case_somebody_writes_to_is_tried_again_later(
    meet: Path, films: Path, workers: ThreadPoolExecutor
) -> None:
    index(meet, workers)
    actions.match_by_hand(meet, "3", [films / "other.mp4"])
    with casefile.open_case(case_of(meet, "3"), "B"):
        assert [one.code for one in index(meet, workers).problems] == ["case-held"]
    assert index(meet, workers).cited == 1


def test_what_a_case_cites_is_not_cited_twice(meet: Path, films: Path, workers: ThreadPoolExecutor) -> None:
    index(meet, workers)
    with open_register(meet) as register:
        known = register.recording("1.mp4")
    assert known is not None
    assert not cite_later(case_of(meet, "1"), "A", {films / "1.mp4": known.cited})
    assert json.loads(json.dumps(known.cited))["frames"] == FRAMES
