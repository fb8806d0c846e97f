"""No pixel of the true head is left in an exported sample clip, with a cover every few seconds."""

from pathlib import Path

import pytest

from reviewer import actions
from tests.masking import heads_drawn


@pytest.mark.parametrize("name", ["off-axis-fall"])
def test_no_pixel_of_the_head_is_left_and_little_is_lost(name: str, tmp_path: Path) -> None:
    """The truth: the scripts that drew the clip. Decoded again by the ffmpeg program."""
    case = heads_drawn.covered_case(tmp_path, name)
    with actions.open_case(case, author=None) as audit:
        covered = actions.covers_on(audit)
    lost = sum(last - first + 1 for first, last in covered.lost)
    assert lost <= covered.frames / 10
    heads_drawn.exported(case, tmp_path / "clip.mp4")
    assert heads_drawn.frames_with_a_head(name, tmp_path / "clip.mp4") == []
