"""A reading as a document, and as the record a case keeps."""

from collections.abc import Mapping
from typing import Any

from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Calibrated, Clicks, Reading, Verdict


def reading_json(reading: Reading, verdict: Verdict | None) -> dict[str, Any]:
    """``reviewer.reading/1``."""
    return {
        "format": "reviewer.reading/1",
        "value_deg": str(reading.value),
        "u_deg": str(reading.uncertainty),
        "interval95_deg": [str(end) for end in reading.interval],
        "naive_deg": str(reading.naive),
        "roll_only_deg": None if reading.roll_only is None else str(reading.roll_only),
        "budget": [{"source": source, "u_deg": str(size)} for source, size in reading.budget],
        "calibration": {
            "points": reading.calibration.points,
            "rms_px": None if reading.calibration.rms is None else str(reading.calibration.rms),
            "residuals_px": {name: [str(x), str(y)] for name, (x, y) in reading.calibration.residuals},
            "check": reading.calibration.check,
        },
        "verdict": None if verdict is None else _verdict(verdict),
        "problems": [],
    } | ({"suspect": True} if reading.clicks.suspect else {})


def reading_to_record(reading: Reading) -> dict[str, Any]:
    """Everything of a reading, as a case keeps it."""
    document = reading_json(reading, None)
    return {"id": reading.id, "pts": reading.pts, "clicks": reading.clicks.to_json(), "reading": document}


def reading_from_record(record: Mapping[str, Any]) -> Reading:
    """The reading a case kept, digit for digit."""
    kept = record["reading"]
    low, high = (Degrees.parse(end) for end in kept["interval95_deg"])
    return Reading(
        id=record["id"],
        pts=record["pts"],
        clicks=Clicks.from_json(record["clicks"]),
        value=Degrees.parse(kept["value_deg"]),
        uncertainty=Degrees.parse(kept["u_deg"]),
        interval=(low, high),
        naive=Degrees.parse(kept["naive_deg"]),
        roll_only=None if kept["roll_only_deg"] is None else Degrees.parse(kept["roll_only_deg"]),
        budget=tuple((part["source"], Degrees.parse(part["u_deg"])) for part in kept["budget"]),
        calibration=_calibrated(kept["calibration"]),
    )


def _calibrated(kept: Mapping[str, Any]) -> Calibrated:
    rms, residuals = kept["rms_px"], kept["residuals_px"]
    return Calibrated(
        points=kept["points"],
        rms=None if rms is None else Pixels.parse(rms),
        residuals=tuple(
            (name, (Pixels.parse(x), Pixels.parse(y))) for name, (x, y) in sorted(residuals.items())
        ),
        check=kept["check"],
    )


def _verdict(verdict: Verdict) -> dict[str, str]:
    return {
        "word": verdict.word,
        "p_met": verdict.met,
        "p_within": verdict.within,
        "p_not": verdict.not_met,
        "rule": verdict.rule,
    }
