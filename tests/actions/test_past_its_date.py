"""What is past its date is listed, and on command deleted with all that was made of it; the ledger stays."""

import json
import shutil
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.terms.covers import Cover
from reviewer.terms.problems import ReviewerError

ROOT = Path(__file__).parents[2]
FILM = ROOT / "sample_clips" / "off-axis-fall.mp4"
TODAY, LATER = "2026-11-26", "2027-07-01"


@pytest.fixture(autouse=True)
def _own_places(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("REVIEWER_DESK", str(tmp_path / "desk.json"))
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    """An evening: a case with a note, its recording, a clip of it and small pictures."""
    evening = tmp_path / "evening"
    evening.mkdir()
    film = Path(shutil.copy(FILM, evening / "film.mp4"))
    with actions.start_case(
        evening / "one.case", author="A", athlete_code="G-12", consent="given", recording=film
    ) as audit:
        actions.give_consent(audit, ("inquiry", "teaching"), "2027-06-30", TODAY, "parent")
        actions.place_mark(audit, kind="element", code="cast", order=1)
        actions.write_note(audit, "her plait came loose", None)
        wish = actions.ClipWish(frames=(0, 3), captioned=False, drawn=False)
        actions.export_clip(audit, wish, evening / "clip.mp4", use="teaching", today=lambda: TODAY)
        small = actions.small_pictures_folder()
        small.mkdir(parents=True)
        (small / f"{audit.cited().sha256}-0.jpegs").write_bytes(b"small")
    return evening


def left_in(folder: Path) -> list[str]:
    return sorted(one.name for one in folder.iterdir())


def test_nothing_is_past_its_date_while_consent_holds(folder: Path) -> None:
    assert actions.expired_in(folder, "2027-06-30") == ((), ())


def test_what_goes_is_said_and_nothing_is_deleted_before_it_is_asked_for(folder: Path) -> None:
    before = left_in(folder)
    (found,), problems = actions.expired_in(folder, LATER)
    assert (found.why, problems) == ("2027-06-30", ())
    assert sorted((one.what, one.path.name[-8:]) for one in found.files) == [
        ("clip", "clip.mp4"),
        ("recording", "film.mp4"),
        ("small pictures", "-0.jpegs"),
    ]
    document = actions.expired_document([found], problems, deleted=False)
    schema = json.loads((ROOT / "annotations/schemas/expired.schema.json").read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(document)) == []
    assert found.texts == 3  # the note, and where film and clip lie
    assert left_in(folder) == before


def test_a_coachs_page_goes_with_her_pictures_alone_and_among_other_routines(folder: Path) -> None:
    with actions.open_case(folder / "one.case", author="A") as audit:
        actions.give_consent(audit, ("coach",), "2027-06-30", TODAY, "parent")
        actions.write_coach_page(audit, folder / "alone", lambda: TODAY, with_clips=False)
    with actions.start_case(
        folder / "two.case", author="A", athlete_code="G-12", consent="given", recording=None
    ) as other:
        actions.give_consent(other, ("coach",), None, TODAY, "parent")
        actions.place_mark(other, kind="element", code="cast", order=1)
        actions.write_coach_page(other, folder / "other", lambda: TODAY, with_clips=False)
        with actions.open_case(folder / "one.case", author=None) as audit:
            actions.write_coach_history((audit, other), folder / "both", TODAY)
    (folder / "alone").rename(folder / "moved")
    (folder / "strange").mkdir()
    for name, text in (("coach.json", '{"case": 3}'), ("coach.html", "somebody else's")):
        (folder / "strange" / name).write_text(text)
    (found,), _ = actions.expired_in(folder, LATER)
    pages = [one.path for one in found.files if one.what == "page for a coach"]
    names = ("coach.html", "coach.json", "coach.pdf")
    assert sorted(pages) == sorted(folder / place / name for place in ("both", "moved") for name in names)
    document = actions.expired_document([found], (), deleted=False)
    schema = json.loads((ROOT / "annotations/schemas/expired.schema.json").read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(document)) == []
    actions.clear_expired([found], "A")
    assert sorted(one.parent.name for one in folder.rglob("coach.html")) == ["other", "strange"]


def test_the_ledger_stays_with_its_marks_and_chain_and_no_texts(folder: Path) -> None:
    with actions.open_case(folder / "one.case", author=None) as audit:
        head, score = audit.case.events[-1].hash, audit.sheet.final_score
    assert actions.clear_expired(actions.expired_in(folder, LATER)[0], "A") == ()
    assert left_in(folder) == ["one.case"]
    assert list(actions.small_pictures_folder().iterdir()) == []
    with actions.open_case(folder / "one.case", author=None) as audit:
        assert (audit.case.events[-1].hash, audit.sheet.final_score) == (head, score)
        assert [mark.code for mark in audit.marks] == ["cast"]
        assert not any(audit.case.erasable().values())
    assert b"plait" not in (folder / "one.case").read_bytes()
    (found,), _ = actions.expired_in(folder, LATER)
    assert found.is_cleared


def test_a_clip_that_was_renamed_or_copied_is_known_by_its_content(folder: Path) -> None:
    (folder / "talk").mkdir()
    (folder / "clip.mp4").rename(folder / "talk" / "warm-up.mp4")
    (found,), _ = actions.expired_in(folder, LATER)
    assert folder / "talk" / "warm-up.mp4" in [one.path for one in found.files]


def test_a_clip_that_is_elsewhere_is_named(folder: Path) -> None:
    (folder / "clip.mp4").unlink()
    (found,), _ = actions.expired_in(folder, LATER)
    assert len(found.missing) == 1


def test_a_recording_that_a_case_in_date_shows_too_stays(folder: Path) -> None:
    actions.start_case(
        folder / "two.case",
        author="B",
        athlete_code="G-12",
        consent="given",
        recording=folder / "film.mp4",
    ).close()
    (found,), _ = actions.expired_in(folder, LATER)
    assert found.kept == (folder / "film.mp4",)
    actions.clear_expired([found], "A")
    assert left_in(folder) == ["film.mp4", "one.case", "two.case"]


def test_withdrawn_is_past_its_date_at_once_and_takes_no_cover(folder: Path) -> None:
    with actions.open_case(folder / "one.case", author="A") as audit:
        actions.withdraw_consent(audit)
        with pytest.raises(ReviewerError) as refused:
            actions.place_cover(audit, "a", 0, Cover.of_whole(300, 400, 30, 30))
        assert refused.value.problems[0].code == "consent-withdrawn"
        with pytest.raises(ReviewerError) as refused:
            actions.save_covered_still(audit, 0, folder / "still.png")
        assert refused.value.problems[0].code == "consent-withdrawn"
    (found,), _ = actions.expired_in(folder, TODAY)
    assert found.why == "withdrawn"


def test_a_damaged_case_is_named_and_the_others_are_found(folder: Path) -> None:
    (folder / "broken.case").write_bytes(b"SQLite format 3\0 and no more")
    found, problems = actions.expired_in(folder, LATER)
    assert [one.case.name for one in found] == ["one.case"]
    assert len(problems) == 1
    assert "broken.case" in problems[0].where


def test_a_case_that_somebody_writes_in_keeps_its_texts_and_says_so(folder: Path) -> None:
    with actions.open_case(folder / "one.case", author="A"):
        problems = actions.clear_expired(actions.expired_in(folder, LATER)[0], "B")
    assert len(problems) == 1
    (found,), _ = actions.expired_in(folder, LATER)
    assert not found.is_cleared


def test_a_meet_forgets_where_a_deleted_recording_lay(tmp_path: Path) -> None:
    """The path of a recording may hold a name."""
    films, table, meet = tmp_path / "films", tmp_path / "starts.csv", tmp_path / "meet"
    films.mkdir()
    for name in ("Somebody start 7.mp4", "start 8.mp4"):
        shutil.copy(ROOT / "sample_clips" / "square-on.mp4", films / name)
    with (films / "start 8.mp4").open("ab") as film:
        film.write(b"other bytes")
    table.write_text("start\n7\n8\n", encoding="utf-8")
    actions.begin_meet(table, meet, rule_book="demo-bars-2", recordings=films)
    with ThreadPoolExecutor(1) as workers:
        work = actions.Work(workers, 1, 1)
        actions.index_meet(meet, actions.Indexing("A", "given", work, pictures=False))
    with actions.open_case(meet / "cases" / "7.case", author="A") as audit:
        actions.withdraw_consent(audit)
    found, _ = actions.expired_in(tmp_path, TODAY)
    assert actions.clear_expired(found, "A") == ()
    assert not (films / "Somebody start 7.mp4").exists()
    rows = {row.start.name: row.start.recordings for row in actions.meet_rows(meet)}
    assert rows == {"7": (), "8": ("start 8.mp4",)}
    for kept in ("meet.json", "recordings.register"):
        assert b"Somebody" not in (meet / kept).read_bytes()
