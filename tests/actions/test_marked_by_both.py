"""Two judges' cases merged: an element both marked counts twice, and every score says so."""

from pathlib import Path

from reviewer import actions

ROOT = Path(__file__).resolve().parents[2]
CLIP = ROOT / "sample_clips" / "square-on.mp4"


def marked(path: Path, author: str) -> Path:
    """A judge's case with one cast at frame 225."""
    with actions.start_case(
        path, author=author, athlete_code="G-1", consent="given", recording=CLIP
    ) as audit:
        actions.place_mark(audit, kind="element", code="cast", start=audit.time(225).pts)
    return path


def test_an_element_that_both_marked_is_named_in_the_score_of_the_merged_case(tmp_path: Path) -> None:
    first, second = (marked(tmp_path / f"{judge}.case", judge) for judge in "AB")
    merged = tmp_path / "both.case"
    actions.merge_cases(first, second, merged, author="C")
    codes = [one["code"] for one in actions.score_document(merged)["warnings"]]
    assert "marked-twice" in codes
    assert "warnings" not in actions.score_document(first)
