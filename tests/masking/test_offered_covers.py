"""A detector offers covers over upright faces; it keeps nothing, and a person places them."""

import json
import subprocess
from collections.abc import Callable
from pathlib import Path

import cv2
import numpy as np
import pytest
from numpy.typing import NDArray

from reviewer import actions, masking
from reviewer.actions import AuditError
from reviewer.cli.program import run
from reviewer.terms.pictures import Picture
from reviewer.terms.times import FrameTime, TimeBase


def drawn_face(size: int = 200) -> NDArray[np.uint8]:
    """A face from the front in shades of grey, twice its size wide and high, its middle in the middle."""
    grey, middle = np.full((2 * size, 2 * size), 150, np.uint8), (size, size)

    def oval(x: float, y: float, across: float, down: float, shade: int) -> None:
        at = (size + int(size * x), size + int(size * y))
        cv2.ellipse(grey, at, (int(size * across), int(size * down)), 0, 0, 360, shade, -1)

    cv2.ellipse(grey, middle, (int(size * 0.36), int(size * 0.48)), 0, 0, 360, 200, -1)
    for side in (-0.15, 0.15):
        oval(side, -0.21, 0.10, 0.025, 70)
        oval(side, -0.12, 0.09, 0.045, 90)
        oval(side, -0.12, 0.03, 0.03, 30)
    oval(0, 0, 0.035, 0.1, 225)
    oval(0, 0.12, 0.07, 0.02, 120)
    oval(0, 0.25, 0.13, 0.035, 90)
    return np.asarray(cv2.GaussianBlur(grey, (0, 0), size * 0.02), np.uint8)


def picture_of(grey: NDArray[np.uint8]) -> Picture:
    bgra = cv2.cvtColor(grey, cv2.COLOR_GRAY2BGRA)
    return Picture(grey.shape[::-1], bgra.tobytes(), 0, FrameTime(0, TimeBase(1, 30)), "bt709", suspect=False)


def test_a_face_from_the_front_is_offered_whole() -> None:
    (cover,) = masking.offered(picture_of(drawn_face()))
    x, y = cover.centre.x.thousandths / 1000, cover.centre.y.thousandths / 1000
    assert (x, y) == pytest.approx((200, 200), abs=25)
    assert cover.across.thousandths / 1000 >= 96, "half of a face that is 192 high"


def test_nothing_is_offered_where_there_is_no_face() -> None:
    assert masking.offered(picture_of(np.full((300, 300), 150, np.uint8))) == ()


@pytest.fixture
def filmed(tmp_path: Path) -> Path:
    """A case on a recording of that face."""
    cv2.imwrite(str(tmp_path / "face.png"), drawn_face())
    still = ("-loop", "1", "-t", "1", "-i", tmp_path / "face.png", "-r", "10", "-pix_fmt", "yuv420p")
    subprocess.run(["ffmpeg", "-v", "error", "-nostdin", *still, tmp_path / "face.mp4"], check=True)
    case = tmp_path / "face.case"
    actions.start_case(
        case,
        author="A",
        athlete_code="G-07",
        consent="given",
        rule_book="demo-bars-2",
        recording=tmp_path / "face.mp4",
    ).close()
    return case


def test_what_is_offered_can_be_typed_and_nothing_of_it_is_kept(
    filmed: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    before = filmed.read_bytes()
    reviewer: Callable[..., int] = lambda *words: _run(monkeypatch, *words)  # noqa: E731
    assert reviewer("cover", "offer", filmed, "3") == 0
    (line,) = capsys.readouterr().out.splitlines()
    assert filmed.read_bytes() == before
    words = line.split()
    assert words[:4] == ["reviewer", "cover", "place", "face.case"]
    assert reviewer("cover", "place", filmed, *words[4:]) == 0
    capsys.readouterr()
    assert reviewer("cover", "list", filmed, "--json") == 0
    (head,) = json.loads(capsys.readouterr().out)["heads"]
    assert head["placed"][0]["frame"] == 3


def test_without_a_detector_covers_are_placed_by_hand(filmed: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(masking.offering, "can_offer", lambda: False)
    monkeypatch.setattr(masking, "can_offer", lambda: False, raising=False)
    with actions.open_case(filmed, author=None) as audit, pytest.raises(AuditError, match="by hand"):
        actions.offered_covers(audit, 0)


def _run(monkeypatch: pytest.MonkeyPatch, *words: object) -> int:
    monkeypatch.setattr("sys.argv", ["reviewer", *map(str, words)])
    return run(lambda *_: 0)
