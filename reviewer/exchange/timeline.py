"""Marks as markers on one clip of an OpenTimelineIO timeline."""

from collections.abc import Sequence
from typing import Any

from reviewer.exchange.wording import plain, said
from reviewer.terms.passages import Footage, Passage

_COLOURS = {"element": "CYAN", "fault": "ORANGE", "fact": "PURPLE"}


def timeline(passages: Sequence[Passage], footage: Footage) -> bytes:
    """The timed marks of one recording as an OpenTimelineIO document, in ticks of its time base.

    A time is whole ticks at a whole rate, so it is exact: of a time base of n/d seconds, n times the ticks at
    a rate of d.
    """
    from opentimelineio import schema  # not needed to show a picture

    own = [one for one in passages if one.recording == footage.sha256 and one.start is not None]
    whole = _range(footage.first, footage.last, footage)
    media = schema.ExternalReference(target_url=footage.source, available_range=whole)
    clip = schema.Clip(name="Recording", media_reference=media, source_range=whole)
    clip.markers.extend(_marker(one, footage) for one in own)
    track = schema.Track(name="Marks", children=[clip], kind=schema.TrackKind.Video)
    made = schema.Timeline(name="Marks of one routine")
    made.tracks.append(track)
    text: str = made.to_json_string(indent=1)
    return f"{text}\n".encode()


def _marker(passage: Passage, footage: Footage) -> Any:
    from opentimelineio import schema

    begin, end = passage.start or 0, passage.end or passage.start or 0
    about = {"id": plain(passage.id), "kind": passage.kind, "code": plain(passage.code)}
    about |= {} if passage.amount is None else {"amount": str(passage.amount)}
    about |= {"clauses": ", ".join(passage.clauses), "event": passage.event}
    return schema.Marker(
        name=plain(passage.name),
        marked_range=_range(begin, end, footage),
        color=_COLOURS[passage.kind],
        metadata={"reviewer": about},
        comment=said(passage),
    )


def _range(begin: int, end: int, footage: Footage) -> Any:
    from opentimelineio.opentime import RationalTime, TimeRange

    ticks, rate = footage.base.numerator, footage.base.denominator
    return TimeRange(RationalTime(begin * ticks, rate), RationalTime((end - begin) * ticks, rate))
