"""What is on the strip, in ticks of the recording on the screen, whatever size it is shown in."""

from collections.abc import Iterator
from dataclasses import dataclass
from math import inf

from reviewer.desk.bench import Bench
from reviewer.desk.calls import short
from reviewer.terms.intervals import tenths
from reviewer.terms.marks import Mark
from reviewer.terms.times import FrameTime

BEGINS, ENDS, DAMAGE, NOTE, UNTIMED = "begins", "ends", "damage", "note", "untimed"
"""Kinds of rows beside those of marks (``element fault fact``)."""
_ORDER = (BEGINS, "element", "fault", "fact", NOTE, DAMAGE, ENDS, UNTIMED)


@dataclass(frozen=True, slots=True)
class Row:
    """One thing named beside the lanes.

    Attributes:
        kind: of the mark, or of the other kinds of rows.
        words: its name.
        tick: where it belongs, or None.
        mark: id of the mark, or None.
        aside: whether it does not count.
        until: tick at which a stretch or an element ends, or None.
        own: what a boundary may be moved of: names of the mark's ticks and where they lie.
        pieces: of a mark's words, its name and then whatever is said of it.
    """

    kind: str
    words: str
    tick: int | None
    mark: str | None = None
    aside: bool = False
    until: int | None = None
    own: tuple[tuple[str, int], ...] = ()
    pieces: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Routine:
    """All of it: rows by time, ticks of readings, first tick and length."""

    rows: tuple[Row, ...] = ()
    readings: tuple[int, ...] = ()
    first: int = 0
    length: int = 1


def collected(bench: Bench, moved: Mark | None = None) -> Routine:
    """What the case on the desk puts on the strip; ``moved`` stands in for the mark of its id."""
    marks = tuple(moved if moved and one.id == moved.id else one for one in bench.marks)
    aside = frozenset(bench.audit.set_aside) if bench.audit else frozenset()
    rows = [_of_mark(bench, mark, aside) for mark in _beside_elements(marks)]
    untimed = [row for row in rows if is_aside(row)]
    rows = [row for row in rows if not is_aside(row)]
    rows += [*_damage(bench), *_notes(bench), *_ends(bench, rows)]
    if untimed:
        untimed = [Row(UNTIMED, bench.say("without a time"), None), *untimed]
    return Routine((*_by_time(rows), *untimed), tuple(_readings(bench)), *_span(bench, rows))


def is_aside(row: Row) -> bool:
    """Whether a row is of a fact without a time, or the heading of these: below all that has a time."""
    return row.kind in ("fact", UNTIMED) and row.tick is None


def _beside_elements(marks: tuple[Mark, ...]) -> list[Mark]:
    """The marks in their order, a fault without a time behind its element."""
    places = {mark.id: at for at, mark in enumerate(marks)}

    def place(mark: Mark) -> tuple[int, bool]:
        home = mark.element if mark.moment() is None and mark.element in places else None
        return (places[mark.id], False) if home is None else (places[home], True)

    return sorted(marks, key=place)


def seconds(bench: Bench, tick: int) -> str:
    """Seconds of a tick of the recording on the screen; empty without one."""
    return FrameTime(tick, bench.facts.time_base).seconds() if bench.facts is not None else ""


def _of_mark(bench: Bench, mark: Mark, aside: frozenset[str]) -> Row:
    ticks = {name: bench.tick_here(mark.recording, getattr(mark, name)) for name in _moments(mark)}
    own = tuple((name, tick) for name, tick in ticks.items() if tick is not None)
    tick, pieces = bench.moment_here(mark), _pieces(bench, mark, mark.id in aside)
    until = bench.tick_here(mark.recording, mark.end)
    return Row(mark.kind, " ".join(pieces), tick, mark.id, mark.id in aside, until, own, pieces)


def _moments(mark: Mark) -> tuple[str, ...]:
    if mark.kind == "element":
        return ("start", "end")
    return ("at",) if mark.at is not None else ("start",)


def _pieces(bench: Bench, mark: Mark, aside: bool) -> tuple[str, ...]:
    word, parts = bench.say.word, [mark.code]
    if mark.amount is not None:
        parts.append(word(short(mark.amount)))
    if mark.angle is not None and mark.angle.value is not None:
        parts.append(word(f"{tenths(mark.angle.value)}°"))
    elif mark.angle is not None:
        parts.append(word(mark.angle.verdict or ""))
    parts += [word(one) for one in (*mark.roles, *mark.conditions)]
    return (*parts, bench.say("(set aside)")) if aside else tuple(parts)


def _damage(bench: Bench) -> Iterator[Row]:
    facts = bench.facts
    for first, last in facts.suspect if facts else ():
        said = bench.say("damaged, frames {first} to {last}", first=first, last=last)
        yield Row(DAMAGE, said, facts.pts[first], until=facts.pts[last]) if facts else Row(DAMAGE, said, None)


def _notes(bench: Bench) -> Iterator[Row]:
    """Remarks kept in the case; their words may have been erased."""
    audit = bench.audit
    for digest, tick in audit.state.notes if audit else ():
        text = audit.case.text(digest) if audit else None
        yield Row(NOTE, text or bench.say("a note, its words erased"), bench.tick_here(None, tick))


def _ends(bench: Bench, rows: list[Row]) -> Iterator[Row]:
    """Where the exercise begins and ends: its first element's start and its last one's end.

    It ends earlier where a fall took longer than the edition gives.
    """
    elements = [row for row in rows if row.kind == "element" and row.tick is not None and not row.aside]
    if not elements or bench.facts is None:
        return
    first, last = elements[0], elements[-1]
    begins = first.tick or 0
    yield Row(BEGINS, bench.say("begins {seconds} s", seconds=seconds(bench, begins)), begins)
    late = _out_of_time(bench, rows)
    if late is not None:
        yield Row(ENDS, bench.say("ended {seconds} s: out of time", seconds=seconds(bench, late)), late)
    elif last.until is not None:
        said = bench.say("ends {seconds} s", seconds=seconds(bench, last.until))
        yield Row(ENDS, said, last.until)


def _out_of_time(bench: Bench, rows: list[Row]) -> int | None:
    """Where a fall after which she went on too late lies."""
    notes = bench.audit.sheet.notes if bench.audit else ()
    late = {note.marks[0] for note in notes if note.code == "time-limit" and note.marks}
    return min((row.tick for row in rows if row.mark in late and row.tick is not None), default=None)


def _readings(bench: Bench) -> Iterator[int]:
    audit = bench.audit
    for reading in audit.readings if audit else ():
        where = audit.reading_on(reading.id) if audit and reading.id else None
        tick = bench.tick_here(where, reading.pts)
        if tick is not None:
            yield tick


def _by_time(rows: list[Row]) -> Iterator[Row]:
    """Rows by time; a mark without stays behind the one that it follows, all else without comes first."""
    last, placed = -inf, []
    for at, row in enumerate(rows):
        timed = row.tick is not None
        last = row.tick if row.tick is not None else last
        placed.append(
            (last if timed or row.mark else -inf, not timed, _ORDER.index(row.kind) if timed else 0, at, row)
        )
    yield from (one[-1] for one in sorted(placed, key=lambda one: one[:-1]))


def _span(bench: Bench, rows: list[Row]) -> tuple[int, int]:
    facts = bench.facts
    if facts is not None and len(facts.pts) > 1:
        return facts.pts[0], max(1, facts.pts[-1] - facts.pts[0])
    ticks = [tick for row in rows for tick in (row.tick, row.until) if tick is not None]
    return (min(ticks), max(1, max(ticks) - min(ticks))) if ticks else (0, 1)
