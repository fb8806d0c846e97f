"""A reading: what the protractor gave on one frame, with the clicks it came from. Evidence only."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.shapes import Spot

LINES = ("shoulder-ankle", "hand-ankle", "shoulder-hip")
"""Body lines a rule book may ask for: from the first joint to the second."""
JOINTS = ("hand", "shoulder", "hip", "ankle")


@dataclass(frozen=True, slots=True)
class Clicks:
    """What was clicked on one frame.

    Attributes:
        frame: 0-based number of the frame.
        picture: width and height of the picture as displayed.
        line: one of `LINES`.
        body: joint name to the spots clicked for it (several clicks of one joint pool).
        apparatus: apparatus point name to its spot; an upright is a rail end and its foot.
        click_sd: standard deviation of one click, or None when not stated.
        cast_to: ``left`` or ``right`` of the picture, or None to take it from the body line.
        side: ``near`` or ``far``: which of the two joints were clicked.
        suspect: whether the picture lies in a damaged stretch of its recording.
    """

    frame: int
    picture: tuple[int, int]
    line: str
    body: tuple[tuple[str, tuple[Spot, ...]], ...]
    apparatus: tuple[tuple[str, Spot], ...] = ()
    click_sd: Pixels | None = None
    cast_to: str | None = None
    side: str = "near"
    suspect: bool = False

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From a ``reviewer.clicks/1`` document that its schema has passed; ValueError for bad decimals."""
        width, height = data["picture"]
        return cls(
            frame=data["frame"],
            picture=(width, height),
            line=data["line"],
            body=tuple((joint, tuple(map(_spot, data["body"][joint]))) for joint in sorted(data["body"])),
            apparatus=tuple((name, _spot(at)) for name, at in sorted(data.get("points", {}).items())),
            click_sd=Pixels.parse(data["click_sd_px"]) if data.get("click_sd_px") is not None else None,
            cast_to=data.get("cast_to"),
            side=data.get("side", "near"),
            suspect=data.get("suspect", False),
        )

    def to_json(self) -> dict[str, Any]:
        """The ``reviewer.clicks/1`` document."""
        written: dict[str, Any] = {
            "format": "reviewer.clicks/1",
            "picture": list(self.picture),
            "frame": self.frame,
            "line": self.line,
            "side": self.side,
            "body": {joint: [_pair(spot) for spot in spots] for joint, spots in self.body},
            "points": {name: _pair(spot) for name, spot in self.apparatus},
        }
        if self.click_sd is not None:
            written["click_sd_px"] = str(self.click_sd)
        if self.suspect:
            written["suspect"] = True
        return written if self.cast_to is None else written | {"cast_to": self.cast_to}


@dataclass(frozen=True, slots=True)
class Requirement:
    """The limit a cast is held against: degrees of elevation, and how far below it is still tolerated."""

    at_least: Degrees
    tolerance: Degrees


@dataclass(frozen=True, slots=True)
class Verdict:
    """A reading held against a requirement.

    Attributes:
        word: ``met``, ``within tolerance``, ``not met`` or ``cannot tell``.
        met, within, not_met: probabilities as decimal text with four places; for display only.
        rule: the decision rule, in words.
    """

    word: str
    met: str
    within: str
    not_met: str
    rule: str


@dataclass(frozen=True, slots=True)
class Reading:
    """An angle measured on one frame, rounded once to thousandths.

    Attributes:
        id: unique in its case, or empty before it is kept.
        pts: tick of the frame, or None when there is no recording.
        clicks: what was clicked.
        value: elevation of the body line, corrected as far as the apparatus points allow.
        uncertainty: standard uncertainty of the value.
        interval: lower and upper end of the interval of 95 % confidence.
        naive: elevation in the picture, uncorrected.
        roll_only: elevation with roll corrected from an upright, or None without one.
        budget: pairs of source and its standard uncertainty.
        check: ``good``, or what the camera's correction lacks.
        calibration_points: how many apparatus points were used.
    """

    id: str
    pts: int | None
    clicks: Clicks
    value: Degrees
    uncertainty: Degrees
    interval: tuple[Degrees, Degrees]
    naive: Degrees
    roll_only: Degrees | None
    budget: tuple[tuple[str, Degrees], ...]
    check: str
    calibration_points: int


def _spot(pair: Any) -> Spot:
    return Spot(Pixels.parse(pair[0]), Pixels.parse(pair[1]))


def _pair(spot: Spot) -> list[str]:
    return [str(spot.x), str(spot.y)]
