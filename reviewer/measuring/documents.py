"""Readings as documents: the contract's answer, and the record a case keeps."""

from collections.abc import Mapping
from typing import Any

from reviewer.measuring.errors import MeasuringError
from reviewer.terms.exact import Degrees
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Clicks, Reading, Verdict


def reading_json(reading: Reading, verdict: Verdict | None) -> dict[str, Any]:
    """The ``reviewer.reading/1`` document. With roll alone nothing checks the camera: no residuals."""
    return {
        "format": "reviewer.reading/1",
        "frame": reading.clicks.frame,
        "pts": reading.pts,
        "value_deg": str(reading.value),
        "u_deg": str(reading.uncertainty),
        "interval95_deg": [str(end) for end in reading.interval],
        "naive_deg": str(reading.naive),
        "roll_only_deg": None if reading.roll_only is None else str(reading.roll_only),
        "budget": [{"source": source, "u_deg": str(share)} for source, share in reading.budget],
        "calibration": {
            "points": reading.calibration_points,
            "rms_px": None,
            "residuals_px": {},
            "check": reading.check,
        },
        "verdict": None if verdict is None else _verdict(verdict),
        "problems": [],
    }


def _verdict(verdict: Verdict) -> dict[str, str]:
    return {
        "word": verdict.word,
        "p_met": verdict.met,
        "p_within": verdict.within,
        "p_not": verdict.not_met,
        "rule": verdict.rule,
    }


def reading_to_record(reading: Reading) -> dict[str, Any]:
    """All of a reading, as a case keeps it: its id, its clicks and its answer. No floats."""
    answer = reading_json(reading, None)
    return {"id": reading.id, "pts": reading.pts, "clicks": reading.clicks.to_json(), "reading": answer}


def reading_from_record(record: Mapping[str, Any]) -> Reading:
    """The reading that `reading_to_record` wrote; `MeasuringError` for anything else."""
    try:
        return _reading(record, record["reading"])
    except (KeyError, TypeError, ValueError, AttributeError) as fault:
        problem = Problem(
            "bad-reading-record",
            f"reading {record.get('id', '?')}" if isinstance(record, Mapping) else "reading",
            f"This kept reading cannot be read ({type(fault).__name__}: {fault}).",
            "Take the reading again from its clicks, or restore the case from a copy.",
        )
        raise MeasuringError(problem) from fault


def _reading(record: Mapping[str, Any], answer: Mapping[str, Any]) -> Reading:
    low, high = answer["interval95_deg"]
    roll_only = answer["roll_only_deg"]
    return Reading(
        id=record["id"],
        pts=record["pts"],
        clicks=Clicks.from_json(record["clicks"]),
        value=Degrees.parse(answer["value_deg"]),
        uncertainty=Degrees.parse(answer["u_deg"]),
        interval=(Degrees.parse(low), Degrees.parse(high)),
        naive=Degrees.parse(answer["naive_deg"]),
        roll_only=None if roll_only is None else Degrees.parse(roll_only),
        budget=tuple((share["source"], Degrees.parse(share["u_deg"])) for share in answer["budget"]),
        check=answer["calibration"]["check"],
        calibration_points=answer["calibration"]["points"],
    )
