"""The sheet first, its frames afterwards: calls typed as a list, then put on frames one by one."""

from collections.abc import Callable
from dataclasses import replace

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer import actions
from reviewer.desk.answering import place_of
from reviewer.desk.bench import Bench
from reviewer.desk.calls import CallError
from reviewer.desk.homes import home_words, offer_words
from reviewer.desk.viewing import Viewing
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


class Listing(QObject):
    """Types without times, and puts marks on frames.

    Signals:
        changed(): calls are typed otherwise than before.
        began(): a list is typed from now on.
    """

    changed = pyqtSignal()
    began = pyqtSignal()

    def __init__(self, bench: Bench, viewing: Viewing) -> None:
        super().__init__()
        self._bench, self._viewing = bench, viewing

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {"without-times": self._turn, "put-here": self.put_here, "next-untimed": self.choose_next}

    def _turn(self) -> None:
        bench = self._bench
        if self._viewing.is_held():
            return
        bench.without_times = not bench.without_times
        listed = bench.say(
            "Calls are a list now, without times: the order typed is the order of the routine."
        )
        timed = bench.say("Calls land on the frame on the screen again.")
        bench.said.emit(listed if bench.without_times else timed, False)
        self.changed.emit()
        if bench.without_times:
            self.began.emit()

    def put_here(self) -> None:
        """Put the chosen mark on the frame on the screen, and choose the next one without a time."""
        bench, mark = self._bench, self._bench.chosen_mark()
        if mark is None:
            self.choose_next()
            return
        if bench.attempt(lambda: actions.change_mark(bench.open_audit(), self._put(mark))):
            where = place_of(bench, bench.mark(mark.id) or mark)
            said = bench.say("{code} is put on its frame: {where}.", code=mark.code, where=where)
            more = home_words(bench, mark) or offer_words(bench, bench.mark(mark.id))
            bench.said.emit(" ".join(filter(None, (said, more, self._go_on(mark)))), False)

    def choose_next(self) -> None:
        """Choose the next mark without a time."""
        self._bench.said.emit(self._go_on(self._bench.chosen_mark()), False)

    def _put(self, mark: Mark) -> Mark:
        """The mark on the frame on the screen; refused where there is none, or where it cannot be."""
        bench, pts = self._bench, self._bench.pts
        if pts is None:
            remedy = message("Open one with {key}.", key=bench.key("open"))
            raise CallError(Problem("no-picture", mark.code, message("No recording is open."), remedy))
        if mark.moment() is None:
            mark = replace(mark, recording=bench.on_screen)
        return bench.moved(mark, "start" if mark.kind == "element" else "at", pts)

    def _go_on(self, after: Mark | None) -> str:
        """Choose the next mark without a time, in words; facts need none."""
        bench = self._bench
        ids = [mark.id for mark in bench.marks]
        at = ids.index(after.id) + 1 if after is not None and after.id in ids else 0
        ahead = (*bench.marks[at:], *bench.marks[:at])
        untimed = next((mark for mark in ahead if mark.kind != "fact" and mark.moment() is None), None)
        if untimed is None:
            return bench.say("Every element and fault has a time.")
        bench.choose((untimed.id,))
        return bench.say("Next: {code} {mark}.", code=untimed.code, mark=place_of(bench, untimed))
