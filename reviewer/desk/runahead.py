"""Pictures made ready ahead of their time while a passage plays, since decoders give them in bursts."""

from collections.abc import Iterator
from threading import Condition, Thread

from reviewer.desk.pace import Passage
from reviewer.terms.pictures import Picture
from reviewer.terms.problems import ReviewerError
from reviewer.video import Recording


class RunAhead:
    """Goes before the frame that is due, on a thread of its own, until it is left.

    ``bell`` rings when the picture that is due is ready, and is rung by whoever waits and no longer wants it.
    """

    def __init__(self, recording: Recording, passage: Passage, bell: Condition) -> None:
        self._recording, self._step, self._bell = recording, passage.step, bell
        self._due: int | None = passage.first
        self._fault: ReviewerError | None = None
        self._thread = Thread(target=self._run, daemon=True)

    def __enter__(self) -> "RunAhead":
        self._thread.start()
        return self

    def __exit__(self, *_: object) -> None:
        with self._bell:
            self._due = None
            self._bell.notify_all()
        self._thread.join()

    def ask(self, frame: int) -> None:
        """Go before this frame from now on."""
        with self._bell:
            self._due = frame
            self._bell.notify_all()

    def has(self, frame: int) -> bool:
        """Whether there is nothing to wait for any more: it is ready, missing, or cannot be had."""
        return bool(self._is_ready(frame) or self._fault)

    def picture(self, frame: int) -> Picture | None:
        """The picture of a frame that it `has`, None for a missing one; `ReviewerError` if reading failed."""
        if self._fault is not None:
            raise self._fault
        return self._recording.at_hand(frame)

    def _is_ready(self, frame: int) -> bool:
        return self._recording.at_hand(frame) is not None or frame in self._recording.facts.missing

    def _run(self) -> None:
        try:
            while (due := self._due) is not None:
                self._go_before(due)
        except ReviewerError as fault:
            self._fault = fault
            self._ring()

    def _go_before(self, due: int) -> None:
        """Work for a frame until another one is due or all is ready."""
        told = False
        for _ in self._work(due):
            if not told and self._is_ready(due):
                told = True
                self._ring()
            if self._due != due:
                return
        self._ring()
        with self._bell:
            self._bell.wait_for(lambda: self._due != due or not self.has(due))

    def _work(self, due: int) -> Iterator[None]:
        yield from self._recording.make_shown((due,))
        yield from self._recording.run_before(due, self._step)

    def _ring(self) -> None:
        with self._bell:
            self._bell.notify_all()
