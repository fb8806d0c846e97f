"""A clip from its sides, scene by scene: where pictures lie, how long they stay, what is drawn over them."""

from bisect import bisect_left
from collections.abc import Iterator, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from fractions import Fraction
from functools import lru_cache
from heapq import merge
from math import lcm

from reviewer import drawing, video
from reviewer.actions.audit import AuditError
from reviewer.actions.clipsides import Side
from reviewer.terms.clips import Laid, Scene, Sheet
from reviewer.terms.messages import message
from reviewer.terms.pictures import Picture
from reviewer.terms.problems import Problem
from reviewer.terms.shapes import Shape

_AT_ONCE = Fraction(1, 500)
"""Seconds within which two pictures beside each other change at once."""
BESIDE = 1920
"""Width in pixels that pictures side by side are brought down to."""
_STRIP = 10
"""How many times higher a picture's longer side is than the strip of words beneath it."""

Size = tuple[int, int]


@dataclass(frozen=True, slots=True)
class ClipPlan:
    """A clip before it is made.

    Attributes:
        sides: one, or two beside each other; the first says from when to when it goes.
        speed: 1 as it was.
        freeze_for: seconds that the first side's decisive frame stands still, besides its own time.
        captions: lines of words beneath the pictures: one for all, or one for each side.
        language: of the words.
    """

    sides: tuple[Side, ...]
    speed: Fraction
    freeze_for: Fraction
    captions: tuple[tuple[str, ...], ...]
    language: str

    @property
    def caption(self) -> tuple[str, ...]:
        """All lines."""
        return tuple(line for lines in self.captions for line in lines)

    @property
    def lasts(self) -> Fraction:
        """Seconds."""
        return self.sides[0].ends / self.speed + self.stands

    @property
    def stands(self) -> Fraction:
        """Seconds that it stands still."""
        return Fraction(0) if self.sides[0].decisive is None else self.freeze_for


@dataclass(frozen=True, slots=True)
class Layout:
    """Where a clip's pictures lie, in its pixels.

    Attributes:
        size: of the clip; both even.
        places: left, top, width and height of each picture.
        strip: the same of the words beneath, or None.
    """

    size: Size
    places: tuple[tuple[int, int, int, int], ...]
    strip: tuple[int, int, int, int] | None


def shared_room(plans: Sequence[ClipPlan]) -> Size:
    """Room for the pictures of each of several clips."""
    wholes = [_whole(_beside([side.size for side in plan.sides])) for plan in plans]
    return _even(max(width for width, _ in wholes)), _even(max(height for _, height in wholes))


def layout(plan: ClipPlan, room: Size | None = None, *, strip: bool | None = None) -> Layout:
    """The clip's own layout; or the one in a ``room`` for the pictures that several clips share.

    ``strip``: whether there is a place for words, without it where the clip has some.
    """
    sizes = _beside([side.size for side in plan.sides])
    whole = _whole(sizes)
    room = room or (_even(whole[0]), _even(whole[1]))
    sizes = [_fitting(size, whole, room) for size in sizes]
    left, places = _even((room[0] - sum(width for width, _ in sizes)) // 2, up=False), []
    for width, height in sizes:
        places.append((left, _even((room[1] - height) // 2, up=False), width, height))
        left += width
    if not (bool(plan.caption) if strip is None else strip):
        return Layout(room, tuple(places), None)
    high = _even(max(room) // _STRIP)
    return Layout((room[0], room[1] + high), tuple(places), (0, room[1], room[0], high))


def rate_of(plans: Sequence[ClipPlan], others: Sequence[Fraction] = ()) -> int:
    """Ticks a second in which all of the clips' times are whole; an AuditError where there are none.

    ``others``: seconds that have to be whole as well. Where two sides are joined by instants that fall
    between such ticks, the second is moved by less than one.
    """
    parts = [plan.freeze_for for plan in plans] + list(others)
    for plan in plans:
        for side in plan.sides:
            parts.append(Fraction(side.cited.base.numerator, side.cited.base.denominator) / plan.speed)
    rate = lcm(*(part.denominator for part in parts))
    if rate > video.FINEST_TICK:
        said = message(
            "These recordings and speeds have no common tick above 1/{tick} s.", tick=video.FINEST_TICK
        )
        raise AuditError(
            Problem("no-common-tick", "clip", said, message("Make a clip of each, or take other speeds."))
        )
    return rate


Damaged = list[tuple[int, int]]
"""Number of the side, and frame, of each picture that is damaged."""


def scenes(plan: ClipPlan, laid_out: Layout, rate: int, damaged: Damaged) -> Iterator[Scene]:
    """The clip in ticks of ``rate``; what of it is damaged is put in ``damaged`` meanwhile."""
    filming, led = _Filming(plan, laid_out, rate), _changes(plan.sides[0])
    with ExitStack() as stack:
        runs = [
            _run(stack.enter_context(video.open_recording(side.path)), number, side, led, damaged)
            for number, side in enumerate(_whole_ticked(plan, rate))
        ]
        for begin, number, picture in merge(*runs, key=_when):
            if begin >= plan.sides[0].ends:
                break
            yield from filming.up_to(begin)
            filming.shown[number] = picture
        yield from filming.up_to(plan.sides[0].ends)


_Shown = tuple[Fraction, int, Picture | None]
"""When, in seconds of the clip at full speed; at which place; and what is shown there from then on."""


def _when(shown: _Shown) -> tuple[Fraction, int]:
    return shown[:2]


def _run(
    recording: video.Recording, number: int, side: Side, led: list[Fraction], damaged: Damaged
) -> Iterator[_Shown]:
    for picture in recording.cut(side.first, side.last):
        if picture.suspect:
            damaged.append((number, picture.frame))
        begins = max(Fraction(0), side.begins(picture.frame))
        yield (_together(begins, led) if number else begins), number, picture
    yield side.ends, number, None


def _changes(side: Side) -> list[Fraction]:
    """When the pictures of a side change, in order."""
    return [side.begins(frame) for frame in range(side.first, side.last + 1)]


def _together(moment: Fraction, changes: list[Fraction]) -> Fraction:
    """The change that a moment is all but at, else the moment itself: no screen could show them apart."""
    place = bisect_left(changes, moment)
    near = min(changes[max(0, place - 1) : place + 1], key=lambda change: abs(change - moment))
    return near if abs(near - moment) < _AT_ONCE else moment


def _whole_ticked(plan: ClipPlan, rate: int) -> Iterator[Side]:
    """The sides, each moved to the nearest tick of the clip; the first is on one."""
    for side in plan.sides:
        yield side.moved(round(side.shift / plan.speed * rate) * plan.speed / rate)


class _Filming:
    """What is shown at each place now, and since when."""

    def __init__(self, plan: ClipPlan, laid_out: Layout, rate: int) -> None:
        self._plan, self._layout, self._rate = plan, laid_out, rate
        self._strip = _strip(plan, laid_out)
        self._since, self._stood = Fraction(0), plan.stands == 0
        self.shown: list[Picture | None] = [None] * len(plan.sides)

    def up_to(self, moment: Fraction) -> Iterator[Scene]:
        """The scene that lasts until then, where it lasts at all."""
        if moment == self._since:
            return
        lasts = (moment - self._since) / self._plan.speed
        leading = self.shown[0]
        if leading is not None and leading.frame == self._plan.sides[0].decisive and not self._stood:
            lasts, self._stood = lasts + self._plan.stands, True
        begins = self._since == 0
        self._since = moment
        yield Scene(tuple(self._laid()), tuple(self._sheets()), int(lasts * self._rate), begins)

    def _laid(self) -> Iterator[Laid]:
        for side, place, picture in zip(self._plan.sides, self._layout.places, self.shown, strict=True):
            if picture is not None:
                yield Laid(picture, side.covered.on(picture.frame), place[:2], place[2:])

    def _sheets(self) -> Iterator[Sheet]:
        yield from self._strip
        for side, place, picture in zip(self._plan.sides, self._layout.places, self.shown, strict=True):
            shapes = side.shapes.get(picture.frame, ()) if picture is not None else ()
            if shapes:
                png, (left, top) = _overlay(shapes, side.size, place[2:])
                yield Sheet(png, (place[0] + left, place[1] + top))


@lru_cache(4)
def _overlay(shapes: tuple[Shape, ...], picture: Size, shown: Size) -> tuple[bytes, Size]:
    """A frame's shapes may be asked for several times in a row, while the picture beside it goes on."""
    return drawing.overlay(shapes, picture, shown)


def _strip(plan: ClipPlan, laid_out: Layout) -> tuple[Sheet, ...]:
    if laid_out.strip is None or not plan.caption:
        return ()
    left, top, width, height = laid_out.strip
    ends = [*(place[0] for place in laid_out.places[1:]), width] if len(plan.captions) > 1 else [width]
    starts = [left, *ends[:-1]]
    return tuple(
        Sheet(drawing.caption(lines, (end - start, height), plan.language), (start, top))
        for lines, start, end in zip(plan.captions, starts, ends, strict=True)
    )


def _beside(sizes: list[Size]) -> list[Size]:
    """Pictures beside each other equally high, and not too wide together; one alone stays as it is."""
    if len(sizes) == 1:
        return sizes
    high = min(height for _, height in sizes)
    wide = sum(Fraction(width * high, height) for width, height in sizes)
    high = _even(int(high * min(Fraction(1), BESIDE / wide)), up=False)
    return [(_even(width * high // height, up=False), high) for width, height in sizes]


def _whole(sizes: Sequence[Size]) -> Size:
    """What pictures beside each other take together."""
    return sum(width for width, _ in sizes), max(height for _, height in sizes)


def _fitting(size: Size, whole: Size, room: Size) -> Size:
    """The part of a room that a picture takes where all together are ``whole``, which fills it one way."""
    times = min(Fraction(room[0], whole[0]), Fraction(room[1], whole[1]))
    if times == 1:
        return size
    return _even(int(size[0] * times), up=False), _even(int(size[1] * times), up=False)


def _even(pixels: int, *, up: bool = True) -> int:
    return pixels + (pixels % 2 if up else -(pixels % 2))
