"""A rod in front of a wall, drawn frame by frame: a body line whose angle is known exactly."""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, radians, sin
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from reviewer.terms.pictures import Picture, RecordingFacts
from reviewer.terms.readings import Clicks
from reviewer.terms.times import FrameTime, TimeBase

Array = NDArray[np.float64]

SIZE, CENTRE, LENGTH = (640, 480), (400.0, 200.0), 170.0
SECOND = TimeBase(1, 1000)


@dataclass(frozen=True)
class DrawnCast:
    """A rod that turns about its upper end; ``angle`` gives degrees of elevation, cast to the left.

    Attributes:
        angle: of a frame.
        pts: when each frame is shown, ms.
        hidden: frames on which a board stands before everything.
        damaged: frames that cannot be trusted.
        moved: of a frame: (3, 3), from where the picture would be to where it is.
        larger: how many times larger the pictures are.
    """

    angle: Callable[[int], float]
    pts: tuple[int, ...] = tuple(range(0, 1000, 33))
    hidden: frozenset[int] = frozenset()
    damaged: frozenset[int] = frozenset()
    moved: Callable[[int], Array] = lambda _: np.eye(3)
    larger: int = 1

    @property
    def facts(self) -> RecordingFacts:
        """What a file of these pictures would hold."""
        size = (SIZE[0] * self.larger, SIZE[1] * self.larger)
        return RecordingFacts("", SECOND, self.pts, (0,), "index", size, size, 0, "1/1")

    def ends(self, frame: int) -> tuple[Array, Array]:
        """Shoulder and ankle in px of the picture."""
        along = radians(self.angle(frame))
        shoulder = np.array(CENTRE)
        ankle = shoulder + LENGTH * np.array([-cos(along), -sin(along)])
        seen = (self.moved(frame) @ np.array([*spot, 1.0]) for spot in (shoulder, ankle))
        first, second = ((spot[:2] / spot[2] + 0.5) * self.larger - 0.5 for spot in seen)
        return first, second

    def picture(self, frame: int) -> Picture | None:
        """The frame as displayed; None where it is damaged."""
        if frame in self.damaged:
            return None
        drawn = self._drawn(frame)
        size = (SIZE[0] * self.larger, SIZE[1] * self.larger)
        if self.larger > 1:
            drawn = cv2.resize(drawn, size, interpolation=cv2.INTER_CUBIC)
        bgra = cv2.cvtColor(drawn, cv2.COLOR_GRAY2BGRA)
        return Picture(size, bgra.tobytes(), frame, FrameTime(self.pts[frame], SECOND), "bt709", False)

    def clicks(self, frame: int, **more: Any) -> Clicks:
        """Clicks on both ends, exact."""
        first, second = self.ends(frame)
        size = [SIZE[0] * self.larger, SIZE[1] * self.larger]
        body = {"shoulder": [_text(first)], "ankle": [_text(second)]}
        asked = {"picture": size, "frame": frame, "line": "shoulder-ankle", "cast_to": "left", "body": body}
        return Clicks.from_json(asked | {"click_sd_px": "1"} | more)

    def _drawn(self, frame: int) -> NDArray[np.uint8]:
        wide, tall = SIZE
        chance = np.random.default_rng(5)
        wall = cv2.GaussianBlur(chance.normal(150, 60, (tall, wide)), (0, 0), 4)
        wall = np.clip((wall - 150) * 3 + 150, 90, 210)
        fine = cv2.resize(wall, (wide * 2, tall * 2)).astype(np.uint8)
        still = DrawnCast(self.angle)
        shoulder, ankle = ((spot + 0.5) * 2 - 0.5 for spot in still.ends(frame))
        along = (ankle - shoulder) / np.hypot(*(ankle - shoulder))
        for share, width, shade in ((1.12, 22, 20), (1.12, 12, 60), (0.55, 34, 35)):
            _line(fine, shoulder, shoulder + share * (ankle - shoulder), width, shade)
        _line(fine, shoulder - 20 * along, shoulder + 30 * along, 30, 230)
        if frame in self.hidden:
            cv2.rectangle(fine, (300, 200), (1000, 900), 100, -1)
        small = cv2.resize(fine, SIZE, interpolation=cv2.INTER_AREA)
        noise = np.random.default_rng([9, frame]).normal(0, 1.5, small.shape)
        shown = np.clip(small + noise, 0, 255).astype(np.uint8)
        turned = self.moved(frame)
        return np.asarray(cv2.warpPerspective(shown, turned, SIZE, borderMode=cv2.BORDER_REPLICATE))


def _line(picture: NDArray[np.uint8], first: Array, second: Array, width: int, shade: int) -> None:
    begin, end = ([round(float(size) * 16) for size in spot] for spot in (first, second))
    cv2.line(picture, begin, end, shade, width, cv2.LINE_AA, 4)


def _text(spot: Array) -> list[str]:
    return [f"{size:.3f}" for size in spot]
