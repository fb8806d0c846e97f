"""What the covering of heads says and can do, in a row beneath the picture."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from PyQt6.QtWidgets import QVBoxLayout, QWidget

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.buttons import button
from reviewer.desk.flowing import Flowing
from reviewer.desk.saidlabel import SaidLabel
from reviewer.terms.messages import noted

_BUTTONS = (
    ("cover-next-head", noted("Next head")),
    ("cover-gone", noted("Out of the picture")),
    ("cover-follow", noted("Follow")),
    ("cover-lost", noted("Next lost")),
    ("cover-confirm", noted("Confirm what was seen")),
)


class CoverPage(QWidget):
    """The head in hand, what is covered and what is still to be done; a button for each step."""

    def __init__(self, bench: Bench, doings: Mapping[str, Callable[[], object]]) -> None:
        super().__init__()
        self._bench, say = bench, bench.say
        self.said = SaidLabel()
        self.said.setWordWrap(True)
        self.said.setAccessibleName(say("Covers over heads"))
        row = Flowing()
        for does, words in _BUTTONS:
            row.add(button(say(words), doings[does], bench.tip(does)))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(3)
        column.addWidget(self.said)
        column.addLayout(row)
        self.hide()

    def tell(self, covered: actions.Covered, head: str, *, here: bool, looked: int | None) -> None:
        """Say how far it has come; ``looked``: frames looked at so far while heads are followed."""
        say = self._bench.say
        if looked is not None:
            stop = self._bench.key("cover-back")
            self.said.setText(say("Following heads: {count} frames. {key} stops it.", count=looked, key=stop))
            return
        larger, smaller = (self._bench.key(does) for does in ("cover-larger", "cover-smaller"))
        if here:
            first = say(
                "Head {head} is covered by hand here. {larger} and {smaller} size it.",
                head=head,
                larger=larger,
                smaller=smaller,
            )
        else:
            first = say("Click the middle of head {head}, so that the cover hides all of it.", head=head)
        self.said.setText(f"{first} {self._state(covered)}")

    def _state(self, covered: actions.Covered) -> str:
        say, follow = self._bench.say, self._bench.key("cover-follow")
        if not covered.heads.letters:
            return say("No head is covered yet.")
        if covered.unfollowed:
            heads = ", ".join(covered.unfollowed)
            return say("To be followed: {heads} ({key}).", heads=heads, key=follow)
        lost = sum(last - first + 1 for first, last in covered.lost)
        found = [say("Lost on {count} frames: the cover has grown there.", count=lost)] if lost else []
        looked = ", ".join(f"{first}–{last}" for first, last in covered.looked_through)
        if looked:
            found.append(say("Looked through: frames {frames}.", frames=looked))
        else:
            confirm = self._bench.key("cover-confirm")
            found.append(say("Nobody has looked through it: play it, then {key} confirms.", key=confirm))
        return " ".join(found)
