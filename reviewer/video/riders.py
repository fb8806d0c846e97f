"""What rides along in a recording beside its pictures: sound, and words on when, where and with what."""

from collections.abc import Iterator
from pathlib import Path

from reviewer.terms.messages import noted
from reviewer.video.container import SWIFT, moving_pictures, open_container

SOUND, DATE, PLACE, DEVICE, OTHER = (
    noted("sound"),
    noted("a date"),
    noted("a place"),
    noted("a device"),
    noted("other streams"),
)
_SIGNS = (
    (DATE, ("creation_time", "creationdate", "date", "year")),
    (PLACE, ("location", "xyz", "gps", "place", "city", "country")),
    (
        DEVICE,
        ("make", "model", "com.android", "software", "camera", "device", "author", "artist", "copyright"),
    ),
)
"""Parts of the names that containers give such words (from memory of what phones and cameras write)."""


def riders(path: Path) -> tuple[str, ...]:
    """What a recording carries that its pictures do not need; `VideoError` where it cannot be opened."""
    container, _ = open_container(path, SWIFT)
    try:
        found = {SOUND} if container.streams.audio else set()
        others = len(container.streams) - len(container.streams.audio) - len(moving_pictures(container))
        found |= {OTHER} if others > 0 else set()
        names = [name.lower() for one in (container, *container.streams) for name in one.metadata]
        found |= set(_signed(names))
    finally:
        container.close()
    return tuple(one for one in (SOUND, DATE, PLACE, DEVICE, OTHER) if one in found)


def _signed(names: list[str]) -> Iterator[str]:
    for what, signs in _SIGNS:
        if any(sign in name for name in names for sign in signs):
            yield what
