"""A reading: what the protractor gave on one frame, with the clicks it came from. Evidence only."""

import json
from collections.abc import Mapping
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation
from typing import Any, Self

from reviewer.terms.bodylines import LEVEL, SHOULDER_OPEN
from reviewer.terms.exact import Degrees, Millimetres, Pixels
from reviewer.terms.messages import message
from reviewer.terms.shapes import Spot

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
class Lens:
    """What is known of a lens beforehand, as an earlier calibration of the same camera gave it.

    Attributes:
        focal: px of a picture as wide and high as the one clicked on, with its standard uncertainty.
        radial: the distortion k1 in millionths, with its standard uncertainty.
    """

    focal: tuple[Pixels, Pixels] | None = None
    radial: tuple[int, int] | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From the ``lens`` of a clicks document or of a reading's calibration."""
        focal, radial = data.get("focal_px"), data.get("k1")
        return cls(
            None if focal is None else (Pixels.parse(focal), Pixels.parse(data["u_focal_px"])),
            None if radial is None else (_millionths(radial), _millionths(data["u_k1"])),
        )

    def to_json(self) -> dict[str, str]:
        """The ``lens`` of a clicks document."""
        written: dict[str, str] = {}
        if self.focal is not None:
            written |= {"focal_px": str(self.focal[0]), "u_focal_px": str(self.focal[1])}
        if self.radial is not None:
            written |= {"k1": _decimal(self.radial[0]), "u_k1": _decimal(self.radial[1])}
        return written


UNKNOWN_LENS = Lens()


@dataclass(frozen=True, slots=True)
class Clicks:
    """What was clicked on one frame.

    Attributes:
        frame: 0-based number of the frame.
        picture: width and height of the picture as displayed.
        line: what is measured, a word of `reviewer.terms.bodylines`.
        body: joint name to the spots clicked for it (several clicks of one joint pool).
        apparatus: apparatus point name to its spot; an upright is a rail end and its foot.
        click_sd: standard deviation of one click, or None when not stated.
        cast_to: ``left`` or ``right`` of the picture, or None to take it from the body line.
        side: ``near`` or ``far``: which of the two joints were clicked.
        suspect: whether the picture lies in a damaged stretch of its recording.
        height: of the athlete, or None where it was not said.
        dimensions: what was said of the apparatus.
        against: ``horizontal``, ``vertical``, or a line between two joints.
        shoulder_open: the shoulder angle up to which the shoulders count as open, where the line asks.
        blur: px by which the limbs are smeared in this picture, or None where nobody said.
        lens: what is known of the camera's lens beforehand.
        bars_from: the frame the apparatus was clicked on, where that is another one; None where it is this.
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
    against: str = LEVEL
    shoulder_open: Degrees = SHOULDER_OPEN
    blur: Pixels | None = None
    lens: Lens = UNKNOWN_LENS
    bars_from: int | None = None

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
            against=data.get("against", LEVEL),
            shoulder_open=Degrees.parse(data.get("shoulder_open_deg", str(SHOULDER_OPEN))),
            blur=Pixels.parse(data["blur_px"]) if data.get("blur_px") is not None else None,
            lens=Lens.from_json(data.get("lens", {})),
            bars_from=data.get("bars_from"),
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
        if self.against != LEVEL:
            written["against"] = self.against
        if self.shoulder_open != SHOULDER_OPEN:
            written["shoulder_open_deg"] = str(self.shoulder_open)
        if self.blur is not None:
            written["blur_px"] = str(self.blur)
        if self.lens != UNKNOWN_LENS:
            written["lens"] = self.lens.to_json()
        if self.bars_from is not None:
            written["bars_from"] = self.bars_from
        return written if self.cast_to is None else written | {"cast_to": self.cast_to}


@dataclass(frozen=True, slots=True)
class Requirement:
    """The limit a cast is held against: degrees of elevation, and how far below it is still tolerated.

    ``reached_at`` and ``tolerated_at`` say whether the limit itself, and the edge of what is tolerated,
    belong to the better side.
    """

    at_least: Degrees
    tolerance: Degrees
    reached_at: bool = True
    tolerated_at: bool = True


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
        lens: as it was solved for, or nothing.
        doubtful: whether the joints, the side or the picture cannot be as said, so that nothing is decided.
    """

    points: int
    rms: Pixels | None
    residuals: tuple[tuple[str, tuple[Pixels, Pixels]], ...]
    check: str
    lens: Lens = UNKNOWN_LENS
    doubtful: bool = False


@dataclass(frozen=True, slots=True)
class Length:
    """A length measured on one frame, in the plane of motion or on the mat.

    Attributes:
        clicks: what was clicked.
        value, uncertainty: mm, the second one a standard uncertainty.
        interval: lower and upper end of the interval of 95 % confidence.
        budget: pairs of source and its standard uncertainty.
        calibration: how the camera was corrected for.
    """

    clicks: Clicks
    value: Millimetres
    uncertainty: Millimetres
    interval: tuple[Millimetres, Millimetres]
    budget: tuple[tuple[str, Millimetres], ...]
    calibration: Calibrated


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
        through: the two joints of a line to the lowest part, as it was found; else what was asked for.
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
    through: str = ""


def _millimetres(number: Any) -> Millimetres:
    """A JSON number to the nearest thousandth."""
    return Millimetres(int((Decimal(str(number)) * 1000).to_integral_value()))


def _number(size: Millimetres) -> Any:
    """A JSON number: whole millimetres, or with their decimals as they are."""
    whole, rest = divmod(size.thousandths, 1000)
    return whole if not rest else json.loads(str(size))


def _millionths(text: str) -> int:
    """Decimal text with at most six places; ValueError otherwise."""
    try:
        size = Decimal(text) * 1_000_000
    except InvalidOperation:
        raise ValueError(message("{text} is not a decimal number", text=repr(text))) from None
    if not size.is_finite() or size != size.to_integral_value():
        raise ValueError(message("{text} is not a decimal number with at most six places", text=repr(text)))
    return int(size)


def _decimal(millionths: int) -> str:
    whole, places = divmod(abs(millionths), 1_000_000)
    return f"{'-' if millionths < 0 else ''}{whole}.{places:06d}"


def _spot(pair: Any) -> Spot:
    return Spot(Pixels.parse(pair[0]), Pixels.parse(pair[1]))


def _pair(spot: Spot) -> list[str]:
    return [str(spot.x), str(spot.y)]
