"""What is on the strip and over the picture, in words: a row a thing, in the order of the routine."""

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import inf

from reviewer.desk.angles import angle_words
from reviewer.desk.bench import Bench
from reviewer.desk.calls import short
from reviewer.desk.followed import Followed
from reviewer.desk.ledger import signed
from reviewer.desk.points import named, words_for
from reviewer.desk.protractor import Protractor
from reviewer.desk.strip.routine import BEGINS, DAMAGE, ENDS, NOTE, UNTIMED, Row, collected, is_aside, seconds
from reviewer.terms.intervals import degrees_told, half_of, millimetres_told, tenths, told
from reviewer.terms.marks import Mark
from reviewer.terms.messages import noted
from reviewer.terms.shapes import Spot

COLUMNS = (
    noted("Kind"),
    noted("Name"),
    noted("Frame"),
    noted("Time"),
    noted("Amount or angle"),
    noted("Judge"),
    noted("Element"),
    noted("How seen"),
    noted("Lines of the sheet"),
)
KINDS = {
    "element": noted("element"),
    "fault": noted("fault"),
    "fact": noted("fact"),
    BEGINS: noted("begin of the exercise"),
    ENDS: noted("end of the exercise"),
    DAMAGE: noted("damaged stretch"),
    NOTE: noted("note"),
}
READING, LENGTH, TOP, POINT = noted("reading"), noted("length"), noted("top of a cast"), noted("point")


@dataclass(frozen=True, slots=True)
class Told:
    """One thing.

    Attributes:
        cells: a text for each of `COLUMNS`.
        key: what makes it the same thing after a change.
        tick: where it lies in the recording on the screen, or None.
        mark: id of the mark, or None.
    """

    cells: tuple[str, ...]
    key: tuple[str, ...]
    tick: int | None
    mark: str | None = None


class Telling:
    """Tells the case on the desk and what lies over the picture."""

    def __init__(self, bench: Bench, protractor: Protractor, followed: Followed) -> None:
        self._bench, self._protractor, self._followed = bench, protractor, followed

    def rows(self) -> tuple[Told, ...]:
        """All there is by time; what has none stays behind what it follows."""
        last, placed = -inf, []
        lines = _lines(self._bench)
        for row in (row for row in collected(self._bench).rows if row.kind != UNTIMED):
            last = inf if is_aside(row) else last if row.tick is None else row.tick
            placed.append((last, self._of_row(row, lines)))
        placed += [(-inf if one.tick is None else one.tick, one) for one in self._beside()]
        return tuple(one for _, one in sorted(placed, key=lambda one: one[0]))

    def _of_row(self, row: Row, lines: Mapping[str, list[str]]) -> Told:
        bench, mark = self._bench, self._bench.mark(row.mark)
        kind = bench.say.word(KINDS[row.kind])
        if mark is None:
            return self._made((kind, row.words), (row.kind, row.words), row.tick, until=row.until)
        home = bench.mark(mark.element)
        seen = bench.say.word(mark.seen) if mark.seen is not None else ""
        aside = bench.say("(set aside)") if row.aside else ""
        cells = (
            " ".join(part for part in (kind, aside) if part),
            self._name(mark),
            self._frames(mark),
            self._times(row.tick, row.until),
            self._size(mark),
            mark.judge or "",
            f"{home.code} {home.id}" if home is not None else "",
            seen,
            "; ".join(lines.get(mark.id, ())),
        )
        return Told(cells, ("mark", mark.id), row.tick, mark.id)

    def _made(
        self,
        first: tuple[str, str],
        key: tuple[str, ...],
        tick: int | None,
        size: str = "",
        *,
        until: int | None = None,
        element: str = "",
    ) -> Told:
        """A row of what is no mark."""
        facts = self._bench.facts
        frames = [str(facts.frame_at(one)) for one in (tick, until) if one is not None] if facts else []
        where = self._span(frames)
        size = self._bench.say.word(size)
        return Told((*first, where, self._times(tick, until), size, "", element, "", ""), key, tick)

    def _name(self, mark: Mark) -> str:
        """Its name in the edition, its code and id, and what was said of it."""
        said = [self._bench.say.word(one) for one in (*mark.roles, *mark.conditions)]
        return ", ".join((f"{self._bench.name_of(mark)} ({mark.code} {mark.id})", *said))

    def _frames(self, mark: Mark) -> str:
        audit, say = self._bench.audit, self._bench.say
        ticks = [
            one for one in ((mark.at,) if mark.at is not None else (mark.start, mark.end)) if one is not None
        ]
        if audit is None or not ticks or not audit.state.recordings:
            return ""
        where = self._span([str(audit.frame_at(tick, mark.recording)) for tick in ticks])
        if len(audit.state.recordings) == 1:
            return where
        return say("{where} of recording {number}", where=where, number=audit.number_of(mark.recording))

    def _times(self, tick: int | None, until: int | None) -> str:
        if tick is None or self._bench.facts is None:
            return ""
        ends = [seconds(self._bench, one) for one in (tick, until) if one is not None]
        return self._bench.say.numbers(f"{self._span(ends)} s")

    def _span(self, ends: list[str]) -> str:
        if len(ends) < 2:
            return ends[0] if ends else ""
        return self._bench.say("{first} to {last}", first=ends[0], last=ends[1])

    def _size(self, mark: Mark) -> str:
        say = self._bench.say
        parts = [say.word(short(mark.amount))] if mark.amount is not None else []
        parts += [say("beyond dispute")] if not mark.arguable else []
        parts += [angle_words(mark.angle, say)] if mark.angle is not None else []
        parts += [say.word(str(one)) for one in (mark.clock, mark.length) if one is not None]
        return ", ".join(parts)

    def _beside(self) -> Iterator[Told]:
        yield from self._readings()
        yield from self._kept()
        yield from self._over_picture()

    def _readings(self) -> Iterator[Told]:
        bench, audit = self._bench, self._bench.audit
        for one in audit.readings if audit is not None else ():
            cited = [mark for mark in bench.marks if mark.angle and mark.angle.reading == one.id]
            tick = bench.tick_here(audit.reading_on(one.id) if audit else None, one.pts)
            yield self._made(
                (bench.say.word(READING), f"{named(one.clicks.line, bench.say)} ({one.id})"),
                ("reading", one.id),
                tick,
                told(one.value, half_of(one.value, one.interval), "°"),
                element=", ".join(f"{mark.code} {mark.id}" for mark in cited),
            )

    def _kept(self) -> Iterator[Told]:
        """Lengths and tops of followed casts that the case keeps."""
        say, audit = self._bench.say, self._bench.audit
        for one in audit.state.lengths if audit is not None else ():
            first = (say.word(LENGTH), f"{named(one['clicks']['line'], say)} ({one['id']})")
            tick = self._tick(one["id"], one["clicks"]["frame"])
            yield self._made(first, ("length", one["id"]), tick, millimetres_told(one["length"]))
        for track in audit.tracks if audit is not None else ():
            if (top := track.document["top"]) is not None:
                first = (say.word(TOP), say("followed cast, kept ({track})", track=track.id))
                yield self._made(
                    first, ("track", track.id), self._tick(track.id, top["frame"]), degrees_told(top)
                )

    def _over_picture(self) -> Iterator[Told]:
        """The protractor's points, joints that are being followed, and the top that is proposed."""
        bench, say = self._bench, self._bench.say
        track = self._followed.track
        if track is not None and (top := track["top"]) is not None:
            first = (say.word(TOP), say("followed cast, not kept yet"))
            yield self._made(first, ("top",), self._tick(None, top["frame"]), degrees_told(top))
        frame = self._protractor.frame
        spots = dict(self._protractor.spots) if track is None else self._followed.joints()
        if track is not None:
            frame = bench.picture.frame if bench.picture is not None else None
        for name, spot in spots.items():
            first = (say.word(POINT), words_for(name, say))
            yield self._made(first, ("point", name), self._tick(None, frame), say.numbers(_place(spot)))

    def _tick(self, measured: str | None, frame: int | None) -> int | None:
        """Of a frame, on which something of this id was measured, or what lies over the picture."""
        facts, audit = self._bench.facts, self._bench.audit
        elsewhere = measured and audit and not self._bench.is_here(audit.reading_on(measured))
        if facts is None or frame is None or elsewhere or frame >= len(facts.pts):
            return None
        return facts.pts[frame]


def _place(spot: Spot) -> str:
    return f"x {tenths(spot.x)}, y {tenths(spot.y)} px"


def _lines(bench: Bench) -> Mapping[str, list[str]]:
    """For each mark the clauses of the sheet's lines that rest on it, and what they moved."""
    found: dict[str, list[str]] = defaultdict(list)
    sheet, say = bench.audit.sheet if bench.audit is not None else None, bench.say
    if sheet is None:
        return found
    for line in sheet.lines:
        for mark in line.marks:
            found[mark].append(f"{line.clause} {say.word(signed(line.points))}")
    refused = [(one.clause, one.marks) for one in sheet.not_earned]
    refused += [(one.clause, one.marks) for one in sheet.not_taken]
    for clause, marks in refused:
        for mark in marks:
            found[mark].append(say("{clause}: gives or costs nothing", clause=clause))
    return found
