"""An open audit: the case on disk, its rule book, and its recordings where they were found."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Self

from reviewer import rules, scoring, video
from reviewer.casefile import Case, CaseState, RecordingCited, on_one_line
from reviewer.measuring import reading_from_record
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.readings import Reading
from reviewer.terms.rulebook import RuleBook
from reviewer.terms.sheets import ScoreSheet
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


class Audit:
    """One routine under review. Close it, or use it in a ``with``.

    A recording is named by its SHA-256; None is the first one of the case.

    Attributes:
        case: the document on disk.
        book: the edition the case is scored by.
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
        self._sheets: dict[tuple[Mark, ...], ScoreSheet] = {}
        self.book = self._chosen_book()

    def __enter__(self) -> Self:
        return self

    def __exit__(self, *_: object) -> None:
        self.close()

    def close(self) -> None:
        """Let go of the case."""
        self.case.close()

    @property
    def path(self) -> Path:
        """The case's file."""
        return self.case.path

    @property
    def author(self) -> str | None:
        """Who writes, or None when read only."""
        return self.case.author

    @property
    def state(self) -> CaseState:
        """What the chain of events comes to."""
        return self.case.state

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks in routine order."""
        return self.state.marks

    @property
    def readings(self) -> tuple[Reading, ...]:
        """The readings kept in the case, oldest first."""
        return tuple(reading_from_record(record) for record in self.state.readings)

    @property
    def posted(self) -> Points | None:
        """The score the panel posted, where entered."""
        return Points.parse(self.state.posted) if self.state.posted is not None else None

    @property
    def athlete_code(self) -> str:
        """The code that stands for the athlete."""
        return self.state.athlete_code

    @property
    def consent(self) -> str:
        """The state of consent to the recording's use."""
        return self.state.consent

    @property
    def sheet(self) -> ScoreSheet:
        """The score of the marks as they are now, of the attempt that counts; derived, never stored."""
        marks = self._of_attempt(self.marks, self.state.attempt)
        if marks not in self._sheets:
            self._sheets = {marks: scoring.score(marks, self.book)}
        return self._sheets[marks]

    def scored_by(self, book: RuleBook) -> ScoreSheet:
        """The score of the attempt that counts by another edition."""
        return scoring.score(self._of_attempt(self.marks, self.state.attempt), book)

    def what_if(self, mark: Mark) -> ScoreSheet:
        """The score of a mark's own attempt with this mark added or changed; nothing is written."""
        others = tuple(one for one in self.marks if one.id != mark.id)
        return scoring.score(self._of_attempt((*others, mark), self.attempt_of(mark)), self.book)

    @property
    def set_aside(self) -> tuple[str, ...]:
        """Ids of the marks that are kept and do not count: those of attempts other than the one that does."""
        return tuple(mark.id for mark in self.marks if self.attempt_of(mark) != self.state.attempt)

    def attempt_of(self, mark: Mark) -> int:
        """The attempt whose recording a mark was made on."""
        found = self._known(mark.recording) or self.state.recording
        return found.attempt if found else self.state.attempt

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
                "The case cites no recording." if recording is None else "The case cites no such recording."
            )
            remedy = "See `reviewer recordings list`, or add it with `reviewer recordings add`."
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

    def shown(self, mark_ids: Iterable[str]) -> tuple[Shown, ...]:
        """The frame each timed mark is shown at, on its own recording, in routine order."""
        wanted = set(mark_ids)
        timed = [(mark, mark.moment()) for mark in self.marks if mark.id in wanted]
        frames = [self._shown(mark.recording, pts) for mark, pts in timed if pts is not None]
        return tuple(dict.fromkeys(one for one in frames if one is not None))

    def frames(self, mark_ids: tuple[str, ...], recording: str | None = None) -> tuple[tuple[int, int], ...]:
        """Frame number and tick of each mark timed on one recording, in its order."""
        known = self._known(recording)
        found = (one for one in self.shown(mark_ids) if known and one.recording == known.sha256)
        return tuple((one.frame, one.pts) for one in found)

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
                f"Give a frame from 0 to {last}." if last >= 0 else "Name a recording for this case first."
            )
            raise AuditError(
                Problem("frame-out-of-range", f"frame {frame}", "The recording has no such frame.", remedy)
            ) from None

    def reading_on(self, reading_id: str) -> str | None:
        """The recording a reading was taken on; None for the first."""
        named: dict[str, str | None] = {one["id"]: one.get("recording") for one in self.state.readings}
        return named.get(reading_id)

    def _known(self, recording: str | None) -> RecordingCited | None:
        if recording is None:
            return self.state.recording
        return next((one for one in self.state.recordings if one.sha256 == recording), None)

    def _shown(self, recording: str | None, pts: int) -> Shown | None:
        known = self._known(recording)
        if known is None:
            return None
        return Shown(known.sha256, self.number_of(recording), self.frame_at(pts, recording), pts)

    def _of_attempt(self, marks: tuple[Mark, ...], attempt: int) -> tuple[Mark, ...]:
        """The marks of one attempt, on one line of time: what scoring looks at."""
        own = tuple(mark for mark in marks if self.attempt_of(mark) == attempt)
        first = self.state.recording
        return on_one_line(own, self.state.places, first.sha256 if first else None)

    def _index(self, recording: str | None) -> RecordingFacts:
        known = self._known(recording) if recording is None else self.cited(recording)
        base = known.base if known else TimeBase(1, 1000)
        return RecordingFacts("", base, known.pts if known else (), (), "index", (0, 0), (0, 0), 0, "1/1")

    def _chosen_book(self) -> RuleBook:
        chosen = self.state.rule_book
        text = self.case.book(chosen.sha256) if chosen else None
        if chosen is None or text is None:
            raise AuditError(
                Problem(
                    "no-rule-book",
                    self.case.path.name,
                    "The case holds no rule book to score by.",
                    "Take the case from a copy that is whole, or start it again.",
                )
            )
        return rules.parse(text, f"{self.case.path.name}: rule book {chosen.id}")


def open_facts(path: Path) -> RecordingFacts:
    """What a recording holds, its file let go again."""
    with video.open_recording(path) as recording:
        return recording.facts
