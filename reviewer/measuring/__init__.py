"""Clicked points → angles, and frames → durations, with their uncertainty and verdicts."""

from reviewer.measuring.calibration import FEWEST
from reviewer.measuring.checks import refuse_unmeasurable
from reviewer.measuring.durations import (
    BEYOND,
    WITHIN,
    Duration,
    Gap,
    against_limit,
    duration,
    gap_before,
)
from reviewer.measuring.errors import MeasuringError
from reviewer.measuring.following import LONGEST_SPAN_MS, Track, follow, track_json
from reviewer.measuring.protractor import measure
from reviewer.measuring.records import reading_from_record, reading_json, reading_to_record
from reviewer.measuring.verdicts import verdict

__all__ = [
    "BEYOND",
    "FEWEST",
    "LONGEST_SPAN_MS",
    "WITHIN",
    "Duration",
    "Gap",
    "MeasuringError",
    "Track",
    "against_limit",
    "duration",
    "follow",
    "gap_before",
    "measure",
    "reading_from_record",
    "reading_json",
    "reading_to_record",
    "refuse_unmeasurable",
    "track_json",
    "verdict",
]
