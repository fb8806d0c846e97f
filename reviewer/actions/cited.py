"""The recordings an open case cites: where they were found, what they hold, and which frame is meant."""

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from reviewer import video
from reviewer.casefile import Case, CaseState, RecordingCited
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.times import FrameTime, TimeBase


class AuditError(ReviewerError):
    """What was asked does not fit the state of this audit."""


@dataclass(frozen=True, slots=True)
class Shown:
    """A frame of one of the case's recordings.

    Attributes:
        recording: SHA-256.
        number: the recording's place among those cited, from 1.
        frame: 0-based.
        pts: tick that a mark names; the frame is on screen then.
    """

    recording: str
    number: int
    frame: int
    pts: int


class CitedRecordings:
    """The recordings of one case. A recording is named by its SHA-256; None is the first one.

    Attributes:
        case: the document on disk.
        recording_paths: where each recording that was found lies, by its SHA-256.
    """

    def __init__(
        self,
        case: Case,
        recording_paths: Mapping[str, Path] | None = None,
        facts: Mapping[str, RecordingFacts] | None = None,
    ) -> None:
        self.case = case
        self.recording_paths = dict(recording_paths or {})
        self._facts = dict(facts or {})

    @property
    def state(self) -> CaseState:
        """What the chain of events comes to."""
        return self.case.state

    @property
    def recording_path(self) -> Path | None:
        """Where the first recording lies, or None when it was not found."""
        first = self.state.recording
        if first is None:
            return next(iter(self.recording_paths.values()), None)
        return self.recording_paths.get(first.sha256)

    @property
    def facts(self) -> RecordingFacts | None:
        """What the first recording holds; None where it was not found."""
        first = self.state.recording
        return self.facts_of(first.sha256 if first else next(iter(self.recording_paths), ""))

    def facts_of(self, recording: str) -> RecordingFacts | None:
        """What a recording holds; None where it was not found."""
        path = self.recording_paths.get(recording)
        if path is not None and recording not in self._facts:
            self._facts[recording] = open_facts(path)
        return self._facts.get(recording)

    def found_at(self, path: Path, facts: RecordingFacts) -> None:
        """Note where a recording lies, for this audit and on this machine."""
        self.recording_paths[facts.sha256], self._facts[facts.sha256] = path, facts
        self.case.remember_place(facts.sha256, path.resolve())

    def cited(self, recording: str | None = None) -> RecordingCited:
        """What the case cites of a recording; an AuditError where it cites none such."""
        found = self._known(recording)
        if found is None:
            said = (
                message("The case cites no recording.")
                if recording is None
                else message("The case cites no such recording.")
            )
            remedy = message("See `reviewer recordings list`, or add it with `reviewer recordings add`.")
            raise AuditError(Problem("unknown-recording", recording or "recording", said, remedy))
        return found

    def number_of(self, recording: str | None) -> int:
        """The place of a recording among those cited, from 1."""
        return self.state.recordings.index(self.cited(recording)) + 1

    def own_name(self, recording: str | None) -> str | None:
        """How a mark or reading names a recording: None for the first; an AuditError for an unknown one."""
        if recording is None:
            return None
        return None if self.cited(recording) == self.state.recording else recording

    @property
    def cited_pts(self) -> tuple[int, ...]:
        """Ticks of every frame of the first recording; empty when none is cited."""
        return self.state.recording.pts if self.state.recording else ()

    def frame_at(self, pts: int, recording: str | None = None) -> int:
        """The number of the frame on screen at a tick of a recording."""
        return self._index(recording).frame_at(pts)

    def time(self, frame: int, recording: str | None = None) -> FrameTime:
        """The identity of a frame of a recording; an AuditError outside it."""
        index = self._index(recording)
        try:
            return index.time(frame)
        except IndexError:
            last = len(index.pts) - 1
            remedy = (
                message("Give a frame from 0 to {last}.", last=last)
                if last >= 0
                else message("Name a recording for this case first.")
            )
            raise AuditError(
                Problem(
                    "frame-out-of-range",
                    f"frame {frame}",
                    message("The recording has no such frame."),
                    remedy,
                )
            ) from None

    def _known(self, recording: str | None) -> RecordingCited | None:
        if recording is None:
            return self.state.recording
        return next((one for one in self.state.recordings if one.sha256 == recording), None)

    def _index(self, recording: str | None) -> RecordingFacts:
        known = self._known(recording) if recording is None else self.cited(recording)
        base = known.base if known else TimeBase(1, 1000)
        return RecordingFacts("", base, known.pts if known else (), (), "index", (0, 0), (0, 0), 0, "1/1")


def open_facts(path: Path) -> RecordingFacts:
    """What a recording holds, its file let go again."""
    with video.open_recording(path) as recording:
        return recording.facts
