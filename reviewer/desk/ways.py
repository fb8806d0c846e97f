"""Ways of calling: in one look at full speed, as a list without times, or on the frame on the screen."""

from collections.abc import Callable

from PyQt6.QtCore import QObject, pyqtSignal

from reviewer.desk.bench import Bench
from reviewer.desk.listing import Listing
from reviewer.desk.looking import FULL, Look
from reviewer.desk.saidlabel import SaidLabel
from reviewer.desk.viewing import Viewing


class Ways(QObject):
    """Holds the ways together.

    Attributes:
        look: at full speed.
        line: which way it is, to be put above the entry line.

    Signals:
        typing(): calls are to be typed now, so that no letter of one is taken for a key of the picture.
    """

    typing = pyqtSignal()

    def __init__(self, bench: Bench, viewing: Viewing) -> None:
        super().__init__()
        self._bench, self._viewing = bench, viewing
        self.look, self._listing = Look(bench, viewing), Listing(bench, viewing)
        self.line = WayLine(bench, viewing, self.look, self._listing)
        self.look.began.connect(self.typing)
        self._listing.began.connect(self.typing)

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        return {**self.look.doings(), **self._listing.doings()}

    def hold(self, begun: bool) -> None:
        """A call is begun, or none is any more: while pictures run it lands where it was begun."""
        self._bench.held = self._bench.pts if begun and self._viewing.playing else None


class WayLine(SaidLabel):
    """Says which way it is; away while calls land on the frame on the screen, as usual."""

    def __init__(self, bench: Bench, viewing: Viewing, look: Look, listing: Listing) -> None:
        super().__init__()
        self._bench, self._viewing = bench, viewing
        self.setObjectName("heading")
        self.setWordWrap(True)
        self.setAccessibleName(bench.say("How calls are taken"))
        look.changed.connect(self._show)
        listing.changed.connect(self._show)
        bench.changed.connect(self._show)
        self._show()

    def _show(self) -> None:
        words = self._words()
        if words != self.text():
            self.setText(words)
        self.setVisible(bool(words))

    def _words(self) -> str:
        bench = self._bench
        if self._viewing.looking is not None:
            key = bench.key("look-once")
            if bench.seeing == FULL:
                return bench.say("One look at full speed · {key} breaks it off", key=key)
            return bench.say("A look again: how marks are seen is not said · {key} breaks it off", key=key)
        if bench.without_times:
            return bench.say(
                "Without times: calls are a list · {key} ends that", key=bench.key("without-times")
            )
        if bench.seeing is not None:
            return bench.say("After the look at full speed: marks are seen slowed down")
        return ""
