"""The score sheet as rows to read: every line, the sub-totals between them, what was not earned, problems."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from reviewer.desk.calls import short
from reviewer.desk.posting import beside_total, full_speed_words, resting_words
from reviewer.terms.exact import Points
from reviewer.terms.messages import noted
from reviewer.terms.posted import PostedSheet
from reviewer.terms.sheets import FACT, JUDGEMENT, Decision, Line, ScoreSheet
from reviewer.words import Saying

STAGE_WORDS = {
    "start-value": noted("Start value"),
    "execution": noted("Execution"),
    "neutral": noted("Neutral deductions"),
    "courtesy": noted("Courtesy"),
}
ENGLISH_WORDS = Saying()
NOTHING_POSTED = PostedSheet()
REFUSED, UNTAKEN, REMARKED = noted("Not earned"), noted("Not taken"), noted("To mind")


@dataclass(frozen=True, slots=True)
class Place:
    """Where a mark lies: in few words for the eye, and whole."""

    short: str
    whole: str


@dataclass(frozen=True, slots=True)
class Row:
    """One row of the sheet.

    Attributes:
        kind: ``line``, ``total``, ``heading``, ``not earned``, ``not taken``, ``remark``, ``warning``,
            ``decision``, ``reading`` or ``problem``.
        points: what moved or what stands, as text; empty where nothing does.
        words: the reason, or the total's name.
        beneath: where, stage, clause and source, whole: for the tip and for those who hear the sheet.
        marks: ids of the marks behind it.
        key: what makes it the same row on another sheet.
        span: what it might cost instead, beneath the points; empty where that is settled.
        more: what has to be read whole besides: a remedy, a posted part.
        where: frame, element and clause, in few words.
        rests: what kind of source it rests on.
        clause: of a reading that is left open.
        supposed: the points in the column of what is supposed; empty where nothing would differ.
        is_new: whether it stands on the supposed sheet only.
    """

    kind: str
    points: str
    words: str
    beneath: str = ""
    marks: tuple[str, ...] = ()
    key: tuple[object, ...] = ()
    span: str = ""
    more: str = ""
    where: str = ""
    rests: str = ""
    clause: str = ""
    supposed: str = ""
    is_new: bool = False

    @property
    def whole(self) -> str:
        """All of it in one piece, to be heard or shown as a tip."""
        span = f"({self.span})" if self.span else ""
        words = self.words if self.words.endswith((".", "?", "!")) or not self.words else f"{self.words}."
        return " ".join(part for part in (words, span, self.more, self.beneath) if part)


def plain_place(mark_id: str) -> Place:
    """A mark of which nothing but its id is known."""
    return Place(mark_id, mark_id)


def rows_of(
    sheet: ScoreSheet,
    whereabouts: Callable[[str], Place] = plain_place,
    say: Saying = ENGLISH_WORDS,
    posted: PostedSheet = NOTHING_POSTED,
    earned: tuple[str, ...] = (),
) -> tuple[Row, ...]:
    """The whole sheet: what is wrong, the ledger to the final score, what was not earned or taken, remarks,
    and what is left open.

    ``whereabouts`` says of a mark's id where it lies; ``earned`` are the elements behind the start value.
    """
    spans = {one.marks[0]: _span(one, say) or say("open") for one in sheet.reachable.decisions}
    told = _Telling(sheet, say, posted, earned, spans)
    return tuple(_placed(row, whereabouts) for row in told.rows())


def _placed(row: Row, whereabouts: Callable[[str], Place]) -> Row:
    if not row.marks or row.kind in ("total", "heading"):
        return row
    places = [whereabouts(mark) for mark in row.marks[:3]]
    more = f" + {len(row.marks) - 3}" if len(row.marks) > 3 else ""
    others = f" + {len(row.marks) - 1}" if len(row.marks) > 1 else ""
    return replace(
        row,
        where=_joined(f"{places[0].short}{others}", row.where),
        beneath=_joined(f"{', '.join(one.whole for one in places)}{more}", row.beneath),
    )


def _joined(*parts: str) -> str:
    return " · ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class _Telling:
    """Tells one sheet, row by row; ``spans``: what each mark left open might cost."""

    sheet: ScoreSheet
    say: Saying
    posted: PostedSheet
    earned: tuple[str, ...]
    spans: Mapping[str, str]

    def rows(self) -> Iterator[Row]:
        """All of them in reading order."""
        yield from self._problems()
        remarks = tuple(self._remarks())
        yield from (row for row in remarks if row.kind == "warning")
        yield from self._ledger()
        yield from self._headed(REFUSED, tuple(self._withheld()))
        yield from self._headed(UNTAKEN, tuple(self._untaken()))
        yield from self._headed(REMARKED, tuple(row for row in remarks if row.kind == "remark"))
        yield from self._decisions()

    def _headed(self, heading: str, rows: Sequence[Row], more: str = "") -> Iterator[Row]:
        if rows:
            marks = tuple(dict.fromkeys(mark for row in rows for mark in row.marks))
            words = self.say.word(heading)
            yield Row("heading", "", words, marks=marks, key=("heading", heading), more=more)
            yield from rows

    def _ledger(self) -> Iterator[Row]:
        sheet, parts = self.sheet, self.sheet.value_parts
        lines = tuple(self._stage("start-value"))
        yield from lines
        credited = self.say("Value parts credited: {number}", number=parts)
        start = self._total(noted("Start value"), sheet.start_value, "start", _behind(lines) + self.earned)
        yield replace(start, where=credited, beneath=credited)
        for judge in sheet.judges:
            lines = tuple(self._stage("execution", judge.judge))
            yield from lines
            name = noted("Score of judge {judge}")
            yield self._total(name, judge.score, f"judge {judge.judge}", _behind(lines), judge=judge.judge)
        yield from self._stage("execution")
        every = tuple(dict.fromkeys(mark for line in sheet.lines for mark in line.marks))
        of_judges = tuple(mark for line in sheet.lines if line.stage == "execution" for mark in line.marks)
        if len(sheet.judges) != 1 or sheet.panel_average != sheet.judges[0].score:
            yield self._total(noted("Average of the panel"), sheet.panel_average, "average", of_judges)
        yield from self._neutral()
        yield from self._stage("courtesy")
        row = self._total(noted("Final score"), sheet.final_score, "final", every)
        only = self.say("of the marks that could be scored") if sheet.problems else ""
        yield replace(row, more=_joined(row.more, only, resting_words(sheet, self.say)))
        if sheet.full_speed is not None:
            seen = sheet.full_speed
            row = self._total(noted("Seen at full speed"), seen.final_score, "full speed", seen.left_out)
            alone = len(self.posted.judges) <= len(sheet.judges)
            yield replace(row, more=full_speed_words(seen, self.posted.final, self.say, alone=alone))

    def _neutral(self) -> Iterator[Row]:
        lines = tuple(self._stage("neutral"))
        yield from lines
        if self.posted.neutral is not None:
            taken = -sum(line.points.thousandths for line in self.sheet.lines if line.stage == "neutral")
            yield self._total(noted("Neutral deductions"), Points(taken), "neutral", _behind(lines))

    def _total(
        self, name: str, points: Points, key: str, marks: Sequence[str] = (), **arguments: object
    ) -> Row:
        more = beside_total(self.posted, key, points, self.say)
        behind = tuple(dict.fromkeys(marks))
        words = self.say(name, **arguments)
        return Row("total", self.say.word(str(points)), words, marks=behind, key=("total", key), more=more)

    def _stage(self, stage: str, judge: str | None = None) -> Iterator[Row]:
        for line in self.sheet.lines:
            if line.stage == stage and line.judge == judge:
                yield self._line(line)

    def _line(self, line: Line) -> Row:
        stage = self.say.word(STAGE_WORDS.get(line.stage, line.stage))
        kind, _, place = line.source.partition(":")
        source = self.say.word(kind) + (f":{place}" if place else "")
        return Row(
            "line",
            self.say.word(signed(line.points)),
            self.say.message(line.why),
            _joined(stage, line.clause, source),
            line.marks,
            key=("line", line.clause, line.judge, line.marks),
            span=next((self.spans[mark] for mark in line.marks if mark in self.spans), ""),
            where=line.clause,
            rests=self.say.word(kind).split(",")[0],
        )

    def _withheld(self) -> Iterator[Row]:
        for one in self.sheet.not_earned:
            why, reason = self.say.message(one.why), self.say.word(one.reason)
            whole = _joined(f"{self.say.word(REFUSED)}: {reason}", one.clause)
            key = ("not earned", one.clause, one.marks)
            yield Row("not earned", "", why, whole, one.marks, key, where=one.clause)

    def _untaken(self) -> Iterator[Row]:
        for one in self.sheet.not_taken:
            why, whole = self.say.message(one.why), _joined(self.say.word(UNTAKEN), one.clause)
            key = ("not taken", one.clause, one.marks)
            yield Row("not taken", "", why, whole, one.marks, key, where=one.clause)

    def _remarks(self) -> Iterator[Row]:
        for one in self.sheet.notes:
            kind = "warning" if one.code == "one-error" else "remark"
            whole = _joined(self.say.word(REMARKED), one.clause or "")
            key = (kind, one.code, one.clause, one.marks)
            yield Row(kind, "", self.say.message(one.why), whole, one.marks, key, where=one.clause or "")

    def _problems(self) -> Iterator[Row]:
        for one in self.sheet.problems:
            key = ("problem", one.code, one.where, one.message)
            said, remedy = self.say.message(one.message), self.say.message(one.remedy)
            yield Row("problem", "", said, "", (one.where,), key, more=remedy)

    def _decisions(self) -> Iterator[Row]:
        reach = self.sheet.reachable
        rows = tuple(self._decision(one) for one in sorted(reach.decisions, key=_weight))
        if rows:
            between = self.say("They span {low} to {high}.", low=reach.low, high=reach.high)
            yield from self._headed(noted("Left open by the marks"), rows, between)

    def _decision(self, one: Decision) -> Row:
        kinds = {FACT: noted("a fact that can be asked about"), JUDGEMENT: noted("judgement of execution")}
        about = self.say.word(kinds.get(one.kind, one.kind))
        return Row(
            "decision", "", self.say.message(one.why), about, one.marks, ("decision", one.marks), where=about
        )


def _behind(rows: Sequence[Row]) -> tuple[str, ...]:
    return tuple(mark for row in rows for mark in row.marks)


def signed(points: Points) -> str:
    """Points that a line moves, with their sign."""
    return f"{'+' if points.thousandths > 0 else ''}{short(points)}".replace("-", "−")


def _ends(one: Decision) -> tuple[Points, Points] | None:
    said = dict(one.why.arguments)
    low, high = said.get("low"), said.get("high")
    return (low, high) if isinstance(low, Points) and isinstance(high, Points) else None


def _span(one: Decision, say: Saying) -> str:
    ends = _ends(one)
    return "–".join(say.word(short(end)) for end in ends) if ends else ""


def _weight(one: Decision) -> int:
    """Casts first, then what can move the score most."""
    ends = _ends(one)
    return -(10**9) if ends is None else (ends[0] - ends[1]).thousandths
