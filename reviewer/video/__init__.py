"""A recording file to pictures with exact times."""

from reviewer.video.errors import VideoError
from reviewer.video.fingerprints import fingerprint
from reviewer.video.keeping import MEMORY
from reviewer.video.opening import open_recording
from reviewer.video.recording import Recording
from reviewer.video.smallstore import SmallStore
from reviewer.video.stills import jpeg, png
from reviewer.video.surveying import Survey

__all__ = [
    "MEMORY",
    "Recording",
    "SmallStore",
    "Survey",
    "VideoError",
    "fingerprint",
    "jpeg",
    "open_recording",
    "png",
]
