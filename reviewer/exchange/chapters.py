"""Elements as WebVTT chapters, faults as WebVTT captions."""

from collections.abc import Iterator, Sequence
from html import escape

from reviewer.exchange.wording import nanoseconds, plain, said
from reviewer.terms.passages import Footage, Passage

_MILLI = 10**6
SHOWN_FOR = 2000
"""Milliseconds that a caption stays at least, so that it can be read."""


def chapters(passages: Sequence[Passage], footage: Footage) -> bytes:
    """The timed elements of one recording as chapters (WebVTT, W3C)."""
    elements = [one for one in passages if one.kind == "element"]
    return _file(_cue(one, footage, plain(one.name), least=1) for one in _timed(elements, footage))


def captions(passages: Sequence[Passage], footage: Footage) -> bytes:
    """The timed faults and facts of one recording as captions."""
    others = [one for one in passages if one.kind != "element"]
    return _file(_cue(one, footage, said(one), least=SHOWN_FOR) for one in _timed(others, footage))


def spoken_captions(cues: Sequence[tuple[int, int, Sequence[str]]]) -> bytes:
    """Words as captions, each from one millisecond up to another; a line of words never becomes markup."""
    said = (
        f"{_time(begin)} --> {_time(end)}\n"
        + "\n".join(escape(plain(line), quote=False) for line in lines if line.strip())
        + "\n"
        for begin, end, lines in cues
    )
    return _file(said)


def _timed(passages: Sequence[Passage], footage: Footage) -> list[Passage]:
    """Those with a time on this recording, as they follow."""
    timed = [one for one in passages if one.recording == footage.sha256 and one.start is not None]
    return sorted(timed, key=lambda one: (one.start or 0, one.end or 0, one.id))


def _file(cues: Iterator[str]) -> bytes:
    return "\n".join(("WEBVTT\n", *cues)).encode()


def _cue(passage: Passage, footage: Footage, words: str, *, least: int) -> str:
    begin = _milliseconds(passage.start, footage, up=True)
    end = max(_milliseconds(passage.end, footage, up=False), begin + least)
    name = plain(passage.id).replace("-->", "→")  # which would begin the cue's times
    return f"{name}\n{_time(begin)} --> {_time(end)}\n{escape(words, quote=False)}\n"


def _milliseconds(tick: int | None, footage: Footage, *, up: bool) -> int:
    exact = nanoseconds((tick or 0) - footage.first, footage.base, up=up)
    return -(-exact // _MILLI) if up else exact // _MILLI


def _time(milliseconds: int) -> str:
    seconds, rest = divmod(milliseconds, 1000)
    minutes, second = divmod(seconds, 60)
    hour, minute = divmod(minutes, 60)
    return f"{hour:02d}:{minute:02d}:{second:02d}.{rest:03d}"
