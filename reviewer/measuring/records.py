"""A reading as a document, and as the record a case keeps."""

from collections.abc import Mapping
from typing import Any

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.problems import Problem
from reviewer.terms.readings import SPREADS, Calibrated, Clicks, Reading, Verdict


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
    """The reading a case kept, digit for digit; a MeasuringError names one that is damaged."""
    try:
        reading = _reading(record, record["reading"])
    except (ArithmeticError, AttributeError, KeyError, TypeError, ValueError) as fault:
        raise _damaged(record, fault) from None
    if not _is_sound(reading):
        raise _damaged(record, "a value is of another kind")
    return reading


def _reading(record: Mapping[str, Any], kept: Mapping[str, Any]) -> Reading:
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


def _is_sound(reading: Reading) -> bool:
    """Whether what was taken as it stood is of the kind that is measured with."""
    clicks, calibration = reading.clicks, reading.calibration
    whole = [
        clicks.frame,
        *clicks.picture,
        calibration.points,
        *([] if reading.pts is None else [reading.pts]),
    ]
    texts = [
        reading.id,
        clicks.line,
        clicks.side,
        calibration.check,
        *(source for source, _ in reading.budget),
    ]
    return (
        all(type(one) is int for one in whole)
        and all(isinstance(one, str) for one in texts)
        and min(*clicks.picture, 1) == 1
        and bool(clicks.body)
        and clicks.cast_to in (None, "left", "right")
        and clicks.dimensions.spread_kind in SPREADS
        and type(clicks.suspect) is bool
    )


def _damaged(record: Mapping[str, Any], why: object) -> MeasuringError:
    named = record.get("id") if isinstance(record, Mapping) else None
    where = f"reading {named}" if isinstance(named, str) else "a reading"
    message = f"This kept reading is damaged: {why if isinstance(why, str) else _cause(why)}."
    return MeasuringError(
        Problem("damaged-reading", where, message, "Ask for a copy of the case that is whole.")
    )


def _cause(fault: object) -> str:
    if isinstance(fault, KeyError):
        return f"it lacks {fault}"
    return "a number is none" if isinstance(fault, ArithmeticError) else str(fault)


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
