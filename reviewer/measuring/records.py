"""A reading as a document, and as the record a case keeps."""

from collections.abc import Mapping, Sequence
from typing import Any

from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.pooling import Pooled
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.messages import Message, message, reason
from reviewer.terms.problems import Problem
from reviewer.terms.readings import SPREADS, UNKNOWN_LENS, Calibrated, Clicks, Length, Lens, Reading, Verdict


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
        "calibration": _calibration(reading.calibration),
        "verdict": None if verdict is None else _verdict(verdict),
        "through": reading.through,
        "problems": [],
    } | _remarks(reading.clicks)


def length_json(found: Length) -> dict[str, Any]:
    """``reviewer.length/1``."""
    return {
        "format": "reviewer.length/1",
        "value_mm": str(found.value),
        "u_mm": str(found.uncertainty),
        "interval95_mm": [str(end) for end in found.interval],
        "budget": [{"source": source, "u_mm": str(size)} for source, size in found.budget],
        "calibration": _calibration(found.calibration),
        "problems": [],
    } | _remarks(found.clicks)


def _remarks(clicks: Clicks) -> dict[str, Any]:
    """What must be known of a picture and its points, where there is something."""
    carried = {} if clicks.bars_from is None else {"bars_from": clicks.bars_from}
    return ({"suspect": True} if clicks.suspect else {}) | carried


def pooled_json(found: Pooled, readings: Sequence[Reading], verdict: Verdict | None) -> dict[str, Any]:
    """``reviewer.pooled/1``: one value, and the readings it is made of."""
    return {
        "format": "reviewer.pooled/1",
        "value_deg": str(found.value),
        "u_deg": str(found.uncertainty),
        "interval95_deg": [str(end) for end in found.interval],
        "reproducibility_deg": str(found.reproducibility),
        "budget": [{"source": source, "u_deg": str(size)} for source, size in found.budget],
        "check": found.check,
        "verdict": None if verdict is None else _verdict(verdict),
        "readings": [reading_json(one, None) for one in readings],
        "problems": [],
    }


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
        raise _damaged(record, message("a value is of another kind"))
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
        through=kept.get("through", record["clicks"]["line"]),
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
        clicks.against,
        reading.through,
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


def _damaged(record: Mapping[str, Any], why: Exception | Message) -> MeasuringError:
    named = record.get("id") if isinstance(record, Mapping) else None
    where = f"reading {named}" if isinstance(named, str) else "a reading"
    said = message(
        "This kept reading is damaged: {why}.", why=why if isinstance(why, Message) else _cause(why)
    )
    return MeasuringError(
        Problem("damaged-reading", where, said, message("Ask for a copy of the case that is whole."))
    )


def _cause(fault: Exception) -> Message:
    if isinstance(fault, KeyError):
        return message("it lacks {field}", field=fault)
    return message("a number is none") if isinstance(fault, ArithmeticError) else reason(fault)


def _calibration(found: Calibrated) -> dict[str, Any]:
    written = {
        "points": found.points,
        "rms_px": None if found.rms is None else str(found.rms),
        "residuals_px": {name: [str(x), str(y)] for name, (x, y) in found.residuals},
        "check": found.check,
    }
    written |= {"doubtful": True} if found.doubtful else {}
    return written if found.lens == UNKNOWN_LENS else written | {"lens": found.lens.to_json()}


def _calibrated(kept: Mapping[str, Any]) -> Calibrated:
    rms, residuals = kept["rms_px"], kept["residuals_px"]
    return Calibrated(
        points=kept["points"],
        rms=None if rms is None else Pixels.parse(rms),
        residuals=tuple(
            (name, (Pixels.parse(x), Pixels.parse(y))) for name, (x, y) in sorted(residuals.items())
        ),
        check=kept["check"],
        lens=Lens.from_json(kept.get("lens", {})),
        doubtful=bool(kept.get("doubtful", False)),
    )


def _verdict(verdict: Verdict) -> dict[str, str]:
    return {
        "word": verdict.word,
        "p_met": verdict.met,
        "p_within": verdict.within,
        "p_not": verdict.not_met,
        "rule": verdict.rule,
    }
