"""A reading: what the protractor gave on one frame, with the clicks it came from. Evidence only."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal
from typing import Any, Self

from reviewer.terms.exact import Degrees, Millimetres, Pixels
from reviewer.terms.shapes import Spot

LINES = ("shoulder-ankle", "hand-ankle", "shoulder-hip")
"""Body lines a rule book may ask for: from the first joint to the second."""
JOINTS = ("hand", "shoulder", "hip", "ankle")


SPREADS = ("inner-diagonal", "inner-level", "centre-diagonal", "centre-level")
"""How a spread may be stated: between insides or centres of the rails, along the diagonal or level."""
RAILS = ("low", "high")
NORM_HIGH, NORM_LOW, NORM_MAT = (Millimetres(size) for size in (2_500_000, 1_700_000, 200_000))
"""Upper edges of the rails above the floor, and the mat's top: published apparatus norms."""


@dataclass(frozen=True, slots=True)
class Dimensions:
    """What was said of the apparatus; heights are to the upper edge of the rail, above the floor.

    Attributes:
        high_top, low_top: 250 cm and 170 cm in the published norms.
        spread: between the rails, stated as ``spread_kind`` (one of `SPREADS`); None to have it solved for.
        mat_top: 20 cm in the published norms.
        working_rail: the rail the cast is made on, one of `RAILS`.
    """

    high_top: Millimetres = NORM_HIGH
    low_top: Millimetres = NORM_LOW
    spread: Millimetres | None = None
    spread_kind: str = SPREADS[0]
    mat_top: Millimetres = NORM_MAT
    working_rail: str = RAILS[0]

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From the ``apparatus`` of a clicks document that its schema has passed; else the norms."""
        said = {
            name: _millimetres(data[f"{name}_mm"])
            for name in ("high_top", "low_top", "spread", "mat_top")
            if data.get(f"{name}_mm") is not None
        }
        return cls(
            high_top=said.get("high_top", NORM_HIGH),
            low_top=said.get("low_top", NORM_LOW),
            spread=said.get("spread"),
            spread_kind=data.get("spread", SPREADS[0]),
            mat_top=said.get("mat_top", NORM_MAT),
            working_rail=data.get("working_rail", RAILS[0]),
        )

    def to_json(self) -> dict[str, Any]:
        """The ``apparatus`` of a clicks document."""
        written: dict[str, Any] = {
            "working_rail": self.working_rail,
            "high_top_mm": _number(self.high_top),
            "low_top_mm": _number(self.low_top),
            "mat_top_mm": _number(self.mat_top),
        }
        if self.spread is None:
            return written
        return written | {"spread_mm": _number(self.spread), "spread": self.spread_kind}


NORMS = Dimensions()
"""The published sizes, the spread solved for."""


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
        height: of the athlete, or None where it was not said.
        dimensions: what was said of the apparatus.
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
    height: Millimetres | None = None
    dimensions: Dimensions = NORMS

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
            height=None if data.get("athlete_height_mm") is None else _millimetres(data["athlete_height_mm"]),
            dimensions=Dimensions.from_json(data.get("apparatus", {})),
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
        if self.height is not None:
            written["athlete_height_mm"] = _number(self.height)
        if self.dimensions != NORMS:
            written["apparatus"] = self.dimensions.to_json()
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
class Calibrated:
    """How the camera was corrected for.

    Attributes:
        points: how many apparatus points were used.
        rms: of the residuals along one axis, or None where the camera was not solved for.
        residuals: name of a point to its click less where it should lie, of those left out too.
        check: ``good``, or what the correction lacks.
    """

    points: int
    rms: Pixels | None
    residuals: tuple[tuple[str, tuple[Pixels, Pixels]], ...]
    check: str


@dataclass(frozen=True, slots=True)
class Reading:
    """An angle measured on one frame, rounded once to thousandths.

    Attributes:
        id: unique in its case, or empty before it is kept.
        pts: tick of the frame, or None when there is no recording.
        clicks: what was clicked.
        value: elevation of the body line, in the true plane as far as the apparatus points allow.
        uncertainty: standard uncertainty of the value.
        interval: lower and upper end of the interval of 95 % confidence.
        naive: elevation in the picture, uncorrected.
        roll_only: elevation with roll corrected from an upright, or None without one.
        budget: pairs of source and its standard uncertainty.
        calibration: how the camera was corrected for.
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
    calibration: Calibrated


def _millimetres(number: Any) -> Millimetres:
    """A JSON number to the nearest thousandth."""
    return Millimetres(int((Decimal(str(number)) * 1000).to_integral_value()))


def _number(size: Millimetres) -> Any:
    """A JSON number: whole millimetres, or with their decimals as they are."""
    whole, rest = divmod(size.thousandths, 1000)
    return whole if not rest else json.loads(str(size))


def _spot(pair: Any) -> Spot:
    return Spot(Pixels.parse(pair[0]), Pixels.parse(pair[1]))


def _pair(spot: Spot) -> list[str]:
    return [str(spot.x), str(spot.y)]
