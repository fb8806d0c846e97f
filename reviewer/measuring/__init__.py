"""Clicked points → angles, and frames → durations, with their uncertainty and verdicts."""

from reviewer.measuring.asking import is_elevation, is_length
from reviewer.measuring.calibration import FEWEST
from reviewer.measuring.checks import refuse_unmeasurable
from reviewer.measuring.dial import dial
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
from reviewer.measuring.following.carrying import Carried, carried
from reviewer.measuring.following.keeping import KeptTrack, track_from_record, track_to_record
from reviewer.measuring.pooling import Pooled, pooled
from reviewer.measuring.protractor import length, measure
from reviewer.measuring.records import (
    length_json,
    pooled_json,
    reading_from_record,
    reading_json,
    reading_to_record,
)
from reviewer.measuring.verdicts import clear_by, held_against, verdict

__all__ = [
    "BEYOND",
    "FEWEST",
    "LONGEST_SPAN_MS",
    "WITHIN",
    "Carried",
    "Duration",
    "Gap",
    "KeptTrack",
    "MeasuringError",
    "Pooled",
    "Track",
    "against_limit",
    "carried",
    "clear_by",
    "dial",
    "duration",
    "follow",
    "gap_before",
    "held_against",
    "is_elevation",
    "is_length",
    "length",
    "length_json",
    "measure",
    "pooled",
    "pooled_json",
    "reading_from_record",
    "reading_json",
    "reading_to_record",
    "refuse_unmeasurable",
    "track_from_record",
    "track_json",
    "track_to_record",
    "verdict",
]
