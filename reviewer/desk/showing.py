"""What can be looked at: frames, passages and other pictures, by the names of the key table."""

from collections.abc import Callable

from reviewer.desk.bench import Bench
from reviewer.desk.evidence import EvidenceView
from reviewer.desk.viewing import Viewing


class Showing:
    """Puts frames on the screen and plays them."""

    def __init__(self, bench: Bench, viewing: Viewing, evidence: EvidenceView) -> None:
        self._bench, self._viewing, self._evidence = bench, viewing, evidence

    def doings(self) -> dict[str, Callable[[], object]]:
        """What can be done here, by the names of the key table."""
        view = self._viewing
        return {
            "next": lambda: view.step(1),
            "previous": lambda: view.step(-1),
            "next-ten": lambda: view.step(10),
            "previous-ten": lambda: view.step(-10),
            "first": lambda: view.seek(0),
            "last": view.seek_last,
            "play": view.play_or_stop,
            "play-back": lambda: view.play_or_stop(-1),
            "play-over": self._play_over,
            "slower": lambda: view.pace(-1),
            "faster": lambda: view.pace(1),
            "clock": self._clock,
            "other-pictures": self._other_pictures,
            "closer": lambda: self._evidence.zoom(1.25),
            "farther": lambda: self._evidence.zoom(0.8),
            "whole": self._evidence.show_whole,
        }

    def _play_over(self) -> None:
        passage = self._bench.passage()
        if passage is None:
            self._refuse(self._bench.say("Choose an element with a start first: it is played over and over."))
        else:
            self._viewing.play_over(*passage)

    def _clock(self) -> None:
        """Count time from the frame on screen, or count no more."""
        picture, running = self._bench.picture, self._bench.clock is not None
        self._bench.clock = None if running or picture is None else picture.frame
        self._bench.changed.emit(frozenset({"clock"}))

    def _other_pictures(self) -> None:
        bench = self._bench
        facts, path = bench.facts, bench.recording
        if facts is None or path is None or facts.streams < 2:
            self._refuse(bench.say("The file holds no other moving pictures."))
        elif bench.audit is not None:
            said = bench.say("The case is about the pictures on the screen; close it to see the others.")
            self._refuse(said)
        else:
            self._viewing.load(path, (facts.stream + 1) % facts.streams)

    def _refuse(self, why: str) -> None:
        self._bench.said.emit(why, True)
