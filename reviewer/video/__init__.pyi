from .clipping import FINEST_TICK, write_clip
from .errors import VideoError
from .fingerprints import fingerprint
from .glimpse import Glimpse, glimpse
from .keeping import MEMORY
from .laying import covered
from .opening import open_recording
from .recording import Recording
from .riders import riders
from .smallstore import SmallStore
from .stills import jpeg, png
from .surveying import Survey

__all__ = [
    "FINEST_TICK",
    "MEMORY",
    "Glimpse",
    "Recording",
    "SmallStore",
    "Survey",
    "VideoError",
    "covered",
    "fingerprint",
    "glimpse",
    "jpeg",
    "open_recording",
    "png",
    "riders",
    "write_clip",
]
