"""What a sheet says to an inquiry: whether the posted score stands, changes, or cannot be decided.

Execution is not judged again: a posted score that the same marks allow stands. What nobody could see on the
recording decides nothing.
"""

from dataclasses import dataclass
from typing import NamedTuple

from reviewer.scoring.reaching import nearest
from reviewer.terms.exact import Points
from reviewer.terms.inquiries import CHANGES, STANDS, UNDECIDED
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.sheets import Decision, PanelHeld, Room, ScoreSheet


@dataclass(frozen=True, slots=True)
class Proposal:
    """A finding as the marks have it; the judge confirms it, or finds otherwise.

    Attributes:
        finding: one of `reviewer.terms.inquiries.FINDINGS`.
        score: what the score would be, where it changes.
        by: how far that is from what was posted.
        why: in sentences.
        marks: ids of the marks it rests on.
    """

    finding: str
    why: tuple[Message, ...]
    marks: tuple[str, ...] = ()
    score: Points | None = None
    by: Points | None = None


class _Words(NamedTuple):
    """What is said of that from which a score begins, by what the edition calls it."""

    unposted: str
    given: str
    possible: str
    other: str


_START = _Words(
    noted("No posted start value was entered."),
    noted("The marks give the posted start value of {posted}."),
    noted("What was not seen leaves start values of {starts} possible."),
    noted("The start value is {ours}, not {posted}."),
)
_DIFFICULTY = _Words(
    noted("No posted difficulty was entered."),
    noted("The marks give the posted difficulty of {posted}."),
    noted("What was not seen leaves difficulties of {starts} possible."),
    noted("The difficulty is {ours}, not {posted}."),
)


def propose(sheet: ScoreSheet, room: Room, posted: Points | None, panel: PanelHeld | None = None) -> Proposal:
    """The finding on a whole score; ``panel``: held as the average of more judges than marked."""
    if posted is None:
        return Proposal(UNDECIDED, (message("No posted score was entered."),))
    open_ = tuple(one for one in sheet.reachable.decisions if one.kind == "fact")
    if open_ and len(room.facts.scores) != 1:
        return _with_open_facts(sheet, posted, open_, panel)
    return _settled(sheet, posted, panel)


def propose_start(
    sheet: ScoreSheet,
    starts: frozenset[Points],
    posted: Points | None,
    credit: tuple[str, ...] = (),
    *,
    added: bool = False,
) -> Proposal:
    """The finding on a start value alone; ``starts`` are those that what was not seen leaves possible.

    It rests on the marks that lost points and on those of ``credit``. Where it is ``added`` after the average
    it is called difficulty.
    """
    words = _DIFFICULTY if added else _START
    if posted is None:
        return Proposal(UNDECIDED, (message(words.unposted),))
    marks = tuple(dict.fromkeys((*credit, *_moving(sheet, "start-value"))))
    if starts == {posted}:
        return Proposal(STANDS, (message(words.given, posted=posted),), marks)
    if posted in starts:
        named = ", ".join(str(one) for one in sorted(starts))
        said = message(words.possible, starts=named)
        return Proposal(UNDECIDED, (said,), _marks(sheet.reachable.decisions))
    ours = min(starts, key=lambda one: (abs((one - posted).thousandths), one))
    said = message(words.other, ours=ours, posted=posted)
    return Proposal(CHANGES, (said,), marks, ours, ours - posted)


def unanswered(about: str, marks: tuple[str, ...]) -> Proposal:
    """The finding on what the marks by themselves do not answer: the judge looks and says."""
    said = message("The marks alone do not answer what was asked about {about}: the judge does.", about=about)
    return Proposal(UNDECIDED, (said,), marks)


def unscored(marks: tuple[str, ...]) -> Proposal:
    """The finding where marks that it rests on cannot be scored as they stand."""
    said = message(
        "Marks cannot be scored as they stand, and were left out: {marks}.", marks=", ".join(marks)
    )
    return Proposal(UNDECIDED, (said,), marks)


def beyond_audit(marks: tuple[str, ...]) -> Proposal:
    """The finding on what a part of the score that is not audited would have to answer."""
    said = message("What was asked takes a part of the score that was not audited.")
    return Proposal(UNDECIDED, (said,), marks)


def _with_open_facts(
    sheet: ScoreSheet, posted: Points, open_: tuple[Decision, ...], panel: PanelHeld | None
) -> Proposal:
    unseen = tuple(one.why for one in open_)
    if nearest(sheet.reachable, posted)[0] is not False or _allows(panel):
        said = message("Whether {posted} stands rests on what this recording does not show.", posted=posted)
        return Proposal(UNDECIDED, (said, *unseen), _marks(open_))
    return _changed(
        sheet, posted, message("Whatever was not seen, {posted} cannot be reached.", posted=posted)
    )


def _allows(panel: PanelHeld | None) -> bool:
    return panel is not None and panel.reached is not False


def _settled(sheet: ScoreSheet, posted: Points, panel: PanelHeld | None) -> Proposal:
    if posted == sheet.final_score:
        said = message("The marks give the posted score of {posted}.", posted=posted)
        return Proposal(STANDS, (said,), _moving(sheet))
    if nearest(sheet.reachable, posted)[0] is not False:
        low, high = sheet.reachable.low, sheet.reachable.high
        said = message(
            "The posted score lies within what judges may differ by on these marks: {low} to {high}.",
            low=low, high=high,
        )  # fmt: skip
        return Proposal(STANDS, (said,), _marks(sheet.reachable.decisions))
    if panel is not None and _allows(panel):
        said = message(
            "The posted score is the average of {count} judges, and on these marks such a panel may come "
            "to it.",
            count=panel.judges,
        )
        return Proposal(STANDS, (said,), _marks(sheet.reachable.decisions))
    return _changed(sheet, posted, message("On these marks {posted} cannot be reached.", posted=posted))


def _changed(sheet: ScoreSheet, posted: Points, why: Message) -> Proposal:
    """The score becomes that of the sheet; the least change that any judging allows is said beside."""
    _, least = nearest(sheet.reachable, posted)
    beside = message(
        "However execution is judged, the score is at least {away} away from it.",
        away=Points(abs((least - posted).thousandths)),
    )
    ours = sheet.final_score
    return Proposal(CHANGES, (why, beside), _moving(sheet), ours, ours - posted)


def _moving(sheet: ScoreSheet, stage: str | None = None) -> tuple[str, ...]:
    """The marks behind the lines that move points."""
    lines = (line for line in sheet.lines if line.points and stage in (None, line.stage))
    return tuple(dict.fromkeys(mark for line in lines for mark in line.marks))


def _marks(decisions: tuple[Decision, ...]) -> tuple[str, ...]:
    return tuple(dict.fromkeys(mark for one in decisions for mark in one.marks))
