"""Covers of heads in a case: kept as events, followed, looked through; what is not so lets nothing out."""

import json
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions
from reviewer.actions import Audit
from reviewer.casefile import read_events
from reviewer.terms.covers import Cover
from reviewer.terms.exact import Points
from reviewer.terms.problems import ReviewerError
from tests.masking.heads_drawn import by_hand

ROOT = Path(__file__).parents[2]
FILM = ROOT / "sample_clips" / "off-axis-fall.mp4"
TODAY = "2026-11-26"
HEAD = by_hand("off-axis-fall", 0, 1)


@pytest.fixture(scope="module")
def followed(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A case whose head was followed from one cover, not looked through."""
    folder = tmp_path_factory.mktemp("followed")
    film = Path(shutil.copy(FILM, folder / "fall.mp4"))
    with actions.start_case(
        folder / "fall.case", author="A", athlete_code="G-12", consent="given", recording=film
    ) as audit:
        actions.give_consent(audit, ("teaching",), "2026-12-31", TODAY)
        actions.place_cover(audit, "a", 0, HEAD)
        actions.follow_heads(audit)
    return folder


@pytest.fixture
def audit(followed: Path, tmp_path: Path) -> Iterator[Audit]:
    here = tmp_path / "here"
    shutil.copytree(followed, here)
    with actions.open_case(here / "fall.case", author="A", recording=here / "fall.mp4") as opened:
        yield opened


def clip(audit: Audit, today: Callable[[], str] = lambda: TODAY, frames: tuple[int, int] = (0, 3)) -> Path:
    out = audit.path.with_name("clip.mp4")
    wish = actions.ClipWish(frames=frames, captioned=False, drawn=False)
    actions.export_clip(audit, wish, out, use="teaching", today=today)
    return out


def refused(does: Callable[[], object]) -> str:
    with pytest.raises(ReviewerError) as caught:
        does()
    return caught.value.problems[0].code


def report(audit: Audit, name: str = "report", **asked: bool) -> Path:
    actions.write_report(audit, audit.path.with_name(name), today=TODAY, **asked)
    return audit.path.with_name(name)


def with_a_fault(audit: Audit) -> int:
    """Place a fault that a report shows a still of; its frame."""
    pts = audit.facts.pts
    actions.place_mark(audit, kind="element", code="pullover", start=pts[0], end=pts[40], roles=("mount",))
    element = audit.marks[0].id
    actions.place_mark(audit, kind="fault", code="feet", at=pts[2], element=element, amount=Points(50))
    return 2


def test_a_report_covers_what_the_case_covers_and_is_derived_again_so(audit: Audit) -> None:
    actions.give_consent(audit, ("inquiry", "teaching"), "2026-12-31", TODAY)
    frame = with_a_fault(audit)
    assert refused(lambda: report(audit)) == "covers-not-reviewed"
    actions.confirm_covers(audit, 0, 5)
    plain, covered = report(audit, "plain", uncovered=True), report(audit)
    stills = [json.loads((one / "report.json").read_bytes())["stills"][0] for one in (plain, covered)]
    assert [one["frame"] for one in stills] == [frame, frame]
    assert stills[0]["picture_sha256"] == stills[1]["picture_sha256"]
    assert stills[0]["jpeg_sha256"] != stills[1]["jpeg_sha256"]
    assert "Heads are covered." in (covered / "report.html").read_text(encoding="utf-8")
    for folder in (plain, covered):
        found = actions.verify(folder, recording=(audit.path.with_name("fall.mp4"),), pictures=True)
        assert found["same"], found["differences"]
        assert "pictures" in found["checked"]
        (folder / "report.json").unlink()
        found = actions.verify(folder, recording=(audit.path.with_name("fall.mp4"),))
        assert {one["what"] for one in found["differences"]} == {"file"}, found


def test_nothing_is_exported_before_somebody_looked_through_it(audit: Audit) -> None:
    assert refused(lambda: clip(audit)) == "covers-not-reviewed"
    actions.confirm_covers(audit, 0, 2)
    assert refused(lambda: clip(audit)) == "covers-not-reviewed"
    actions.confirm_covers(audit, 3, 9)
    assert clip(audit).exists()


def test_who_looked_through_what_stands_in_the_case(audit: Audit) -> None:
    actions.confirm_covers(audit, 0, 254)
    document = actions.covers_document(audit)
    schema = json.loads((ROOT / "annotations/schemas/covers.schema.json").read_text(encoding="utf-8"))
    assert list(Draft202012Validator(schema).iter_errors(json.loads(json.dumps(document)))) == []
    (review,) = document["reviews"]
    assert (review["by"], review["first"], review["last"]) == ("A", 0, 254)


def test_a_cover_placed_since_is_to_be_followed_and_looked_through_anew(audit: Audit) -> None:
    actions.confirm_covers(audit, 0, 254)
    actions.place_cover(audit, "a", 130, by_hand("off-axis-fall", 130, 1))
    assert refused(lambda: clip(audit)) == "not-followed"
    assert refused(lambda: actions.confirm_covers(audit, 0, 254)) == "not-followed"
    actions.undo(audit)
    clip(audit).unlink()
    actions.redo(audit)
    actions.follow_heads(audit)
    assert refused(lambda: clip(audit, frames=(100, 140))) == "covers-not-reviewed"


def test_a_head_that_was_not_followed_hides_the_whole_picture(audit: Audit) -> None:
    actions.place_cover(audit, "b", 5, Cover.of_whole(600, 900, 30, 30))
    (cover,) = actions.covers_on(audit).on(200)
    assert cover.across.thousandths > 1000 * (720 + 1280)


@pytest.mark.parametrize("frame", [-1, 255, 10_000])
def test_frames_outside_have_no_covers(audit: Audit, frame: int) -> None:
    assert refused(lambda: actions.place_cover(audit, "a", frame, HEAD)) == "frame-out-of-range"
    assert refused(lambda: actions.covers_on(audit).on(frame)) == "frame-out-of-range"
    assert refused(lambda: actions.confirm_covers(audit, 0, max(frame, 255))) == "frame-out-of-range"


def test_a_cover_beside_the_picture_and_a_head_with_a_name_are_refused(audit: Audit) -> None:
    outside = Cover.of_whole(2000, 50, 30, 30)
    assert refused(lambda: actions.place_cover(audit, "a", 3, outside)) == "outside-picture"
    assert refused(lambda: actions.place_cover(audit, "Mirabelle", 3, HEAD)) == "no-letter"
    assert refused(lambda: actions.remove_cover(audit, "a", 7)) == "no-cover"


def test_in_a_changed_recording_nothing_is_followed(audit: Audit) -> None:
    film, case = audit.path.with_name("fall.mp4"), audit.path
    actions.place_cover(audit, "a", 9, HEAD)
    audit.close()
    with film.open("ab") as file:
        file.write(b"\0")
    with actions.open_case(case, author="A") as opened:
        assert refused(lambda: actions.follow_heads(opened)) == "no-recording"
    assert refused(lambda: actions.open_case(case, author="A", recording=film)) == "recording-changed"


def test_consent_that_ends_while_it_is_made_lets_nothing_out(audit: Audit) -> None:
    actions.confirm_covers(audit, 0, 254)
    days = iter([TODAY, "2027-01-01"])
    assert refused(lambda: clip(audit, lambda: next(days))) == "consent-ended"
    left = {one.name for one in audit.path.parent.iterdir() if "writing" not in one.name}
    assert left == {"fall.case", "fall.mp4"}


def test_covers_are_followed_again_by_whoever_verifies(audit: Audit) -> None:
    case, film = audit.path, audit.path.with_name("fall.mp4")
    audit.close()
    found = actions.verify(case, recording=film)
    assert "covers" in found["checked"]
    assert found["same"]
    assert {"what": "covers", "why": "recording not here: a"} in actions.verify(case)["not_checked"]


def test_covers_moved_in_a_sound_chain_are_named_with_their_frames(audit: Audit) -> None:
    trail = audit.state.heads[audit.cited().sha256].followed["a"]
    covers = [[one[0] + 40, *one[1:]] if 10 <= at < 13 else one for at, one in enumerate(trail["covers"])]
    audit.case.append("head-followed", {**trail, "covers": covers})
    case, film = audit.path, audit.path.with_name("fall.mp4")
    audit.close()
    (difference,) = actions.verify(case, recording=film)["differences"]
    assert (difference["what"], difference["where"]) == ("cover", "a frames 10 to 12")


def test_heads_of_merged_cases_stay_apart_and_are_looked_through_anew(audit: Audit) -> None:
    actions.confirm_covers(audit, 0, 254)
    first, second = audit.path, audit.path.with_name("second.case")
    film = audit.path.with_name("fall.mp4")
    audit.close()
    with actions.start_case(
        second, author="B", athlete_code="G-12", consent="given", recording=film
    ) as other:
        actions.give_consent(other, ("teaching",), None, TODAY)
        actions.place_cover(other, "a", 4, Cover.of_whole(600, 900, 30, 30))
    both = first.with_name("both.case")
    actions.merge_cases(first, second, both, author="A")
    with actions.open_case(both, author="A", recording=film) as merged:
        assert actions.covers_on(merged).heads.letters == ("B.a", "a")
        assert actions.covers_on(merged).unfollowed == ("B.a",)
        assert refused(lambda: clip(merged)) == "not-followed"


def test_a_case_tells_no_name_of_a_head(audit: Audit) -> None:
    heads = [event.payload.get("head") for event in read_events(audit.path)]
    assert {head for head in heads if head} == {"a"}
