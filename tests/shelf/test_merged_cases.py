"""Cases of several judges on the shelf: letters in place of authors; where they differ is arguable."""

from pathlib import Path

from reviewer import actions
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle
from reviewer.terms.shelving import Hit, Wanted

CLIP = Path(__file__).resolve().parents[2] / "sample_clips" / "square-on.mp4"


def judged(path: Path, author: str, degrees: str, fault: str) -> Path:
    """One cast on the same frames, with an angle by eye, and a fault of the judge's own."""
    with actions.start_case(
        path, author=author, athlete_code="G-1", consent="given", recording=CLIP
    ) as audit:
        start, end = (audit.time(frame).pts for frame in (225, 300))
        angle = CastAngle("eye", Degrees.parse(degrees))
        actions.place_mark(audit, kind="element", code="cast", start=start, end=end, angle=angle)
        amount = Points.parse("0.100")
        actions.place_mark(audit, kind="fault", code=fault, at=start, element="m1", amount=amount)
    return path


def hits(folder: Path, wanted: Wanted) -> tuple[Hit, ...]:
    return actions.search_shelf(folder, wanted, limit=99, recordings=False).found.hits


def merged(tmp_path: Path) -> Path:
    one = judged(tmp_path / "a.case", "judge-1", "-40", "arms-bent")
    other = judged(tmp_path / "b.case", "judge-2", "-60", "legs-bent")
    folder = tmp_path / "both"
    folder.mkdir()
    actions.merge_cases(one, other, folder / "both.case", author="judge-1")
    return folder


def test_a_cast_that_two_judges_saw_differently_is_arguable(tmp_path: Path) -> None:
    folder = merged(tmp_path)
    (cast,) = hits(folder, Wanted(element="cast"))
    assert not cast.passage.settled
    assert hits(tmp_path, Wanted(element="cast", settled=True, division="nowhere")) == ()
    alone = hits(tmp_path, Wanted(element="cast", settled=True))
    assert {hit.case.path for hit in alone} == {"a.case", "b.case"}


def test_judges_are_letters_and_their_marks_are_found_again_by_them(tmp_path: Path) -> None:
    folder = merged(tmp_path)
    faults = hits(folder, Wanted(fault="*-bent"))
    assert sorted(hit.passage.judge or "" for hit in faults) == ["A", "B"]
    with actions.open_case(folder / "both.case", author=None) as audit:
        found = [actions.marks_told(audit, hit.passage.mark) for hit in faults]
        codes = {mark.id: mark.code for mark in audit.marks}
    assert [codes[one] for (one,) in found] == [hit.passage.subject.code for hit in faults]
    kept = next(folder.glob(".shelf*")).read_bytes()
    assert b"judge-1" not in kept
    assert b"judge-2" not in kept


def test_of_an_attempt_that_does_not_count_nothing_is_found(tmp_path: Path) -> None:
    other = CLIP.with_name("off-axis-fall.mp4")
    path = tmp_path / "a.case"
    with actions.start_case(path, author="A", athlete_code="G-1", consent="given", recording=CLIP) as audit:
        actions.add_recording(audit, other, 2)
        second = audit.state.recordings[1].sha256
        actions.place_mark(audit, kind="element", code="pullover", start=audit.time(10).pts)
        at = audit.time(10, second).pts
        actions.place_mark(audit, kind="element", code="cast", start=at, recording=second)
        assert [hit.passage.subject.code for hit in hits(tmp_path, Wanted())] == ["pullover"]
        actions.count_attempt(audit, 2)
    (hit,) = hits(tmp_path, Wanted())
    assert hit.passage.subject.code == "cast"
    assert hit.passage.stretch is not None
    assert (hit.passage.stretch.recording, hit.passage.stretch.number) == (second, 2)
    assert hit.passage.stretch.deciding.frame == 10
