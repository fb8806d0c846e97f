from .asking import is_elevation, is_length
from .calibration import FEWEST
from .checks import refuse_unmeasurable
from .dial import dial
from .durations import (
    BEYOND,
    WITHIN,
    Duration,
    Gap,
    against_limit,
    duration,
    gap_before,
)
from .errors import MeasuringError
from .following import LONGEST_SPAN_MS, Track, follow, track_json
from .following.carrying import Carried, carried
from .following.keeping import KeptTrack, track_from_record, track_to_record
from .pooling import Pooled, pooled
from .protractor import length, measure
from .records import (
    length_json,
    pooled_json,
    reading_from_record,
    reading_json,
    reading_to_record,
)
from .verdicts import clear_by, held_against, verdict

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
