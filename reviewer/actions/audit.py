"""An open audit: the case on disk, the rule book it is scored by, and the recording where it was found."""

from pathlib import Path
from typing import Self

from reviewer import rules, scoring, video
from reviewer.casefile import Case, CaseState
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


class Audit:
    """One routine under review. Close it, or use it in a ``with``.

    Attributes:
        case: the document on disk.
        book: the edition the case is scored by.
        recording_path: where the cited recording lies, or None when it was not found.
        facts: what the recording holds; None without one.
    """

    def __init__(self, case: Case, recording_path: Path | None, facts: RecordingFacts | None) -> None:
        self.case = case
        self.recording_path = recording_path
        self.facts = facts
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
        """The score of the marks as they are now; derived, never stored."""
        marks = self.marks
        if marks not in self._sheets:
            self._sheets = {marks: scoring.score(marks, self.book)}
        return self._sheets[marks]

    def what_if(self, mark: Mark) -> ScoreSheet:
        """The score with one mark added or changed; nothing is written."""
        others = tuple(one for one in self.marks if one.id != mark.id)
        return scoring.score((*others, mark), self.book)

    def frames(self, mark_ids: tuple[str, ...]) -> tuple[tuple[int, int], ...]:
        """Frame number and tick of each timed mark, in the order of the recording."""
        moments = {mark.moment() for mark in self.marks if mark.id in mark_ids}
        timed = sorted(moment for moment in moments if moment is not None)
        return tuple((self.frame_at(pts), pts) for pts in timed) if self.cited_pts else ()

    @property
    def cited_pts(self) -> tuple[int, ...]:
        """Ticks of every frame of the cited recording; empty when none is cited."""
        return self.state.recording.pts if self.state.recording else ()

    def frame_at(self, pts: int) -> int:
        """The number of the frame on screen at a tick of the cited recording."""
        return self._index.frame_at(pts)

    def time(self, frame: int) -> FrameTime:
        """The identity of a frame of the cited recording; an AuditError outside it."""
        try:
            return self._index.time(frame)
        except IndexError:
            last = len(self.cited_pts) - 1
            remedy = (
                f"Give a frame from 0 to {last}." if last >= 0 else "Name a recording for this case first."
            )
            raise AuditError(
                Problem("frame-out-of-range", f"frame {frame}", "The recording has no such frame.", remedy)
            ) from None

    @property
    def _index(self) -> RecordingFacts:
        cited = self.state.recording
        base = TimeBase.parse(cited.time_base) if cited else TimeBase(1, 1000)
        return RecordingFacts("", base, self.cited_pts, (), "index", (0, 0), (0, 0), 0, "1/1")

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
