"""An open audit: the case on disk, its rule book, and its recordings where they were found."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Self

from reviewer import rules, scoring
from reviewer.actions.cited import AuditError, CitedRecordings, Shown
from reviewer.casefile import Case, on_one_line
from reviewer.measuring import KeptTrack, reading_from_record, track_from_record
from reviewer.terms.consents import Consent
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.pictures import RecordingFacts
from reviewer.terms.problems import Problem
from reviewer.terms.readings import Reading
from reviewer.terms.rulebook import OTHER, RuleBook
from reviewer.terms.sheets import ScoreSheet

__all__ = ["Audit", "AuditError", "Shown"]

_ID = re.compile(r"(?:[\w-]+\.)*[A-Za-z]\d+")
"""A mark, a reading, a line or an inquiry, as a place."""


class Audit(CitedRecordings):
    """One routine under review. Close it, or use it in a ``with``."""

    def __init__(
        self,
        case: Case,
        recording_paths: Mapping[str, Path] | None = None,
        facts: Mapping[str, RecordingFacts] | None = None,
    ) -> None:
        super().__init__(case, recording_paths, facts)
        self._sheets: dict[tuple[RuleBook, frozenset[Mark]], ScoreSheet] = {}
        self._books: dict[str, RuleBook] = {}
        _ = self.book  # a case whose edition cannot be read is refused here, not at the first score

    def __enter__(self) -> Self:
        return self

    def __exit__(self, _: object, fault: BaseException | None, *__: object) -> None:
        """Close it. A refusal that names a mark, a reading, a line or an inquiry names the case as well."""
        self.close()
        if type(fault) is AuditError and any(_ID.fullmatch(one.where) for one in fault.problems):
            raise AuditError(map(self._placed, fault.problems)) from None

    def _placed(self, one: Problem) -> Problem:
        return replace(one, where=f"{self.path.name}: {one.where}") if _ID.fullmatch(one.where) else one

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
    def letter(self) -> str:
        """The letter of the judge whose sheet this is, where no fault says another: who began the case."""
        return self.case.events[0].author

    def judges_of(self, marks: Iterable[Mark]) -> tuple[str, ...]:
        """The judge who scores on these marks of the case where none of their faults says whose it is."""
        named = any(mark.judge is not None for mark in marks if mark.kind == "fault")
        return () if named else (self.letter,)

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The marks in routine order."""
        return self.state.marks

    @property
    def readings(self) -> tuple[Reading, ...]:
        """The readings kept in the case, oldest first."""
        return tuple(reading_from_record(record) for record in self.state.readings)

    @property
    def tracks(self) -> tuple[KeptTrack, ...]:
        """The tracks kept in the case, oldest first."""
        return tuple(track_from_record(record) for record in self.state.tracks)

    @property
    def posted(self) -> Points | None:
        """The score the panel posted, where entered."""
        return Points.parse(self.state.posted) if self.state.posted is not None else None

    @property
    def posted_start(self) -> Points | None:
        """The start value the panel posted, where entered."""
        sheet = self.state.posted_sheet
        return sheet.start_value if sheet is not None else None

    @property
    def athlete_code(self) -> str:
        """The code that stands for the athlete."""
        return self.state.athlete_code

    @property
    def consent(self) -> str:
        """The state of consent to the recording's use."""
        return self.state.consent

    @property
    def permission(self) -> Consent:
        """What that consent covers."""
        return self.state.permission

    @property
    def book(self) -> RuleBook:
        """The edition the case is scored by, read as the judge chose where it leaves a reading open."""
        book = self._edition()
        return book.read_as(others_in(book, self.state.interpretations))

    @property
    def sheet(self) -> ScoreSheet:
        """The score of the marks as they are now, of the attempt that counts; derived, never stored."""
        return self._kept_sheet(self.counting_marks)

    @property
    def counting_marks(self) -> tuple[Mark, ...]:
        """The marks of the attempt that counts, on one line of time."""
        return self._of_attempt(self.marks, self.state.attempt)

    def scored_by(self, book: RuleBook) -> ScoreSheet:
        """The score of the attempt that counts by another edition."""
        return self._scored(self.counting_marks, book)

    def what_if(self, mark: Mark) -> ScoreSheet:
        """The score of a mark's own attempt with this mark added or changed; nothing is written."""
        others = tuple(one for one in self.marks if one.id != mark.id)
        return self._kept_sheet(self._of_attempt((*others, mark), self.attempt_of(mark)))

    def _kept_sheet(self, marks: tuple[Mark, ...]) -> ScoreSheet:
        """The score of these marks, the last one kept: a mark that is tried is most often placed next.

        In whatever order they stand, since a sheet does not depend on it.
        """
        book, found = self.book, frozenset(marks)
        if (book, found) not in self._sheets:
            self._sheets = {(book, found): self._scored(marks, book)}
        return self._sheets[book, found]

    def _scored(self, marks: tuple[Mark, ...], book: RuleBook) -> ScoreSheet:
        return scoring.score(marks, book, self.judges_of(marks))

    @property
    def set_aside(self) -> tuple[str, ...]:
        """Ids of the marks that are kept and do not count: those of attempts other than the one that does."""
        counts = self.state.attempt
        return tuple(mark.id for mark in self.marks if self.attempt_of(mark) != counts)

    def attempt_of(self, mark: Mark) -> int:
        """The attempt whose recording a mark was made on."""
        found = self._known(mark.recording) or self.state.recording
        return found.attempt if found else self.state.attempt

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

    def reading_on(self, reading_id: str) -> str | None:
        """The recording a reading, a track or a length was taken on; None for the first."""
        state = self.state
        kept = (*state.readings, *state.tracks, *state.lengths)
        named: dict[str, str | None] = {one["id"]: one.get("recording") for one in kept}
        return named.get(reading_id)

    def _shown(self, recording: str | None, pts: int) -> Shown | None:
        known = self._known(recording)
        if known is None:
            return None
        return Shown(known.sha256, self.number_of(recording), self.frame_at(pts, recording), pts)

    def _of_attempt(self, marks: tuple[Mark, ...], attempt: int) -> tuple[Mark, ...]:
        """The marks of one attempt, on one line of time: what scoring looks at."""
        if all(one.attempt == attempt for one in self.state.recordings):
            own = marks
        else:
            own = tuple(mark for mark in marks if self.attempt_of(mark) == attempt)
        first = self.state.recording
        return on_one_line(own, self.state.places, first.sha256 if first else None)

    def _edition(self) -> RuleBook:
        chosen = self.state.rule_book
        if chosen is not None and chosen.sha256 in self._books:
            return self._books[chosen.sha256]
        text = self.case.book(chosen.sha256) if chosen else None
        if chosen is None or text is None:
            raise AuditError(
                Problem(
                    "no-rule-book",
                    self.case.path.name,
                    message("The case holds no rule book to score by."),
                    message("Take the case from a copy that is whole, or start it again."),
                )
            )
        book = rules.parse(text, f"{self.case.path.name}: rule book {chosen.id}")
        self._books[chosen.sha256] = book
        return book


def others_in(book: RuleBook, chosen: Mapping[str, str]) -> frozenset[str]:
    """The clauses of a book that are to be taken in their other reading; what it does not know is left."""
    open_ = {one.clause for one in book.interpretations}
    return frozenset(clause for clause, reading in chosen.items() if reading == OTHER and clause in open_)
