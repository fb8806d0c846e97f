"""The chosen mark: what was said of it, in small controls that each change one thing."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from textwrap import fill

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import (
    QCheckBox,
    QComboBox,
    QLabel,
    QScrollArea,
    QVBoxLayout,
    QWidget,
)

from reviewer import actions
from reviewer.desk.angles import angle_words
from reviewer.desk.attaching import attach, elements_box
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.calls import short
from reviewer.desk.falls import FallRows, Falls
from reviewer.desk.flowing import Flowing
from reviewer.desk.guide import Guide
from reviewer.desk.homes import straying
from reviewer.desk.placing import put_anew
from reviewer.terms.marks import EYE_VERDICTS, CastAngle, Mark
from reviewer.terms.messages import noted
from reviewer.terms.rulebook import Named

LEAST = 12
"""Letters of a name in one line at least, and the room that a box and the edges take."""
NOTHING = noted("Nothing is chosen. Type a call above, or choose a mark on the strip or a line of the sheet.")


class ChosenPanel(QScrollArea):
    """Shows the one chosen mark; made anew for each, so that it never shows what is not on disk.

    Attributes:
        guided: whether it says what is still missing while nothing is chosen.
        doings: what can be done then, by the names of the key table.
    """

    def __init__(self, bench: Bench, falls: Falls) -> None:
        super().__init__()
        self._bench, self._falls = bench, falls
        self.guided = True
        self.doings: Mapping[str, Callable[[], object]] = {}
        self.setWidgetResizable(True)
        self.setFrameShape(QScrollArea.Shape.NoFrame)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        self.setAccessibleName(bench.say("Chosen mark"))
        self.refresh()

    def refresh(self) -> None:
        """Read the chosen mark again."""
        page = QWidget()
        column = QVBoxLayout(page)
        column.setContentsMargins(2, 2, 2, 2)
        column.setSpacing(4)
        mark, many = self._bench.chosen_mark(), len(self._bench.chosen)
        if many == 0 and self.guided:
            column.addWidget(Guide(self._bench, self.doings))
        elif mark is None:
            say = self._bench.say
            words = QLabel(say("{count} marks are behind this line.", count=many) if many else say(NOTHING))
            words.setObjectName("quiet")
            words.setWordWrap(True)
            column.addWidget(words)
        else:
            self._fill(column, mark)
        column.addStretch()
        written = self._bench.audit is not None and self._bench.audit.author is not None
        page.setEnabled(written or mark is None)
        put_anew(self, page)

    def _fill(self, column: QVBoxLayout, mark: Mark) -> None:
        column.addLayout(self._head(mark))
        if (offer := self._offer(mark)) is not None:
            column.addLayout(offer)
        book = self._bench.book
        if mark.kind == "element" and book is not None:
            if self._bench.is_cast(mark):
                column.addLayout(self._verdicts(mark))
            column.addLayout(
                self._ticks(
                    self._bench.say("Role"), book.roles, mark.roles, lambda said: replace(mark, roles=said)
                )
            )
            column.addLayout(
                self._ticks(
                    self._bench.say("With"),
                    book.conditions,
                    mark.conditions,
                    lambda said: replace(mark, conditions=said),
                )
            )
        elif mark.kind == "fault":
            column.addLayout(self._amounts(mark))
            if (audit := self._bench.audit) is not None and actions.limit_after(audit, mark) is not None:
                column.addWidget(FallRows(self._bench, self._falls, mark))

    def _head(self, mark: Mark) -> Flowing:
        row, say = Flowing(), self._bench.say
        seen = [say("seen at {speed}", speed=say.word(mark.seen))] if mark.seen else []
        title = QLabel(" · ".join((self._bench.name_of(mark), mark.id, self._when(mark), *seen)))
        title.setObjectName("heading")
        title.setWordWrap(True)
        row.add(title, takes_room=True)
        row.add(self._buttons(mark), takes_room=True)
        return row

    def _buttons(self, mark: Mark) -> QWidget:
        """What can be done with the mark; all of it goes to the next line together."""
        say, bench, together, row = self._bench.say, self._bench, QWidget(), Flowing()
        if mark.kind == "element":
            row.add(button(say("Starts here"), lambda: bench.bound("start"), bench.tip("starts")))
            row.add(button(say("Ends here"), lambda: bench.bound("end"), bench.tip("ends")))
        row.add(button(say("Withdraw"), bench.withdraw, bench.tip("withdraw")))
        together.setLayout(row)
        return together

    def _verdicts(self, mark: Mark) -> Flowing:
        row, choice, say = Flowing(), QComboBox(), self._bench.say
        verdicts: tuple[str | None, ...] = (None, *EYE_VERDICTS)
        choice.setAccessibleName(say("Verdict by eye"))
        choice.setToolTip(say("Verdict by eye"))
        choice.addItems([say.word(one) if one else say("no verdict by eye") for one in verdicts])
        choice.setCurrentIndex(verdicts.index(mark.angle.verdict if mark.angle else None))
        choice.activated.connect(
            lambda at: self._bench.change(
                replace(mark, angle=CastAngle("eye", verdict=verdicts[at]) if at else None)
            )
        )
        row.add(QLabel(say("Cast")))
        row.add(choice)
        measured = mark.angle is not None and (mark.angle.value is not None or mark.angle.at_full_speed)
        row.add(QLabel(angle_words(mark.angle, say) if mark.angle and measured else ""))
        return row

    def _ticks(
        self,
        heading: str,
        offered: Iterable[Named],
        said: tuple[str, ...],
        changed: Callable[[tuple[str, ...]], Mark],
    ) -> Flowing:
        boxes = Flowing(even=True)
        boxes.add(QLabel(heading))
        letters = self.width() // self.fontMetrics().averageCharWidth() - LEAST
        for named in offered:
            box = QCheckBox(fill(named.name, max(LEAST, letters)))
            box.setToolTip(named.code)
            box.setChecked(named.code in said)
            box.clicked.connect(
                lambda on, code=named.code: self._bench.change(
                    changed((*said, code) if on else tuple(one for one in said if one != code))
                )
            )
            boxes.add(box)
        return boxes

    def _amounts(self, mark: Mark) -> Flowing:
        row, choice, say = Flowing(), QComboBox(), self._bench.say
        fault = self._bench.book.fault_of.get(mark.code) if self._bench.book else None
        amounts = fault.amounts if fault else ()
        choice.setAccessibleName(say("Amount"))
        choice.setToolTip(say("Amount"))
        choice.addItems([say.word(short(amount)) for amount in amounts])
        if mark.amount is not None:
            choice.setCurrentText(say.word(short(mark.amount)))
        choice.activated.connect(lambda at: self._bench.change(replace(mark, amount=amounts[at])))
        settled = QCheckBox(say("beyond dispute"))
        settled.setChecked(not mark.arguable)
        settled.setEnabled(fault is not None and not fault.flat)
        settled.clicked.connect(lambda on: self._bench.change(replace(mark, arguable=not on)))
        row.add(QLabel(say("Amount")))
        row.add(choice)
        row.add(settled)
        row.add(elements_box(self._bench, mark))
        return row

    def _offer(self, mark: Mark) -> Flowing | None:
        """A button that attaches what lies within it and belongs elsewhere; None for none."""
        strays = straying(self._bench, mark)
        if not strays:
            return None
        row, named = Flowing(), ", ".join(f"{one.code} {one.id}" for one in strays)
        words = self._bench.say("Attach here: {faults}", faults=named)
        if mark.kind == "fault":
            words = self._bench.say("Attach it to the element it lies in")
        row.add(button(words, lambda: attach(self._bench), self._bench.tip("attach")))
        return row

    def _when(self, mark: Mark) -> str:
        audit = self._bench.audit
        said = (mark.at,) if mark.at is not None else (mark.start, mark.end)
        ticks = [tick for tick in said if tick is not None]
        if audit is None or not ticks or not audit.cited_pts:
            return self._bench.say("no time")
        frames = [audit.frame_at(tick, mark.recording) for tick in ticks]
        say = self._bench.say
        where = say("frame {frame}", frame=frames[0])
        if len(frames) > 1:
            where = say("frames {first} to {last}", first=frames[0], last=frames[-1])
        if len(audit.state.recordings) == 1:
            return where
        return say("{where} of recording {number}", where=where, number=audit.number_of(mark.recording))
