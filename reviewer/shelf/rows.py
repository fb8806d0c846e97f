"""A case as rows of the index: plain tuples, which pass from process to process in no time."""

import json
from collections.abc import Iterable, Iterator
from typing import Any, NamedTuple

from reviewer.terms.shelving import Shelved, ShelvedCase, Stretch, Subject

Row = tuple[Any, ...]


class CaseRows(NamedTuple):
    """The rows of one case.

    Attributes:
        case: of the table ``cases``, without its number.
        subjects: of ``subjects``, each once.
        recordings: of ``recordings``, without number and case.
        passages: of ``passages``, without the case; subject and recording are places in the rows above.
    """

    case: Row
    subjects: tuple[Row, ...]
    recordings: tuple[Row, ...]
    passages: tuple[Row, ...]


def rows_of(case: ShelvedCase) -> CaseRows:
    """What the index keeps of a case."""
    subjects: dict[Subject, int] = {}
    recordings: dict[str, tuple[int, Stretch]] = {}
    passages = []
    for place, one in enumerate(case.passages):
        subject = subjects.setdefault(one.subject, len(subjects))
        recording = None
        if one.stretch is not None:
            recording, _ = recordings.setdefault(one.stretch.recording, (len(recordings), one.stretch))
        passages.append((subject, recording, place, *_passage(one)))
    cited = tuple((one.recording, one.number, one.time_base) for _, one in recordings.values())
    return CaseRows(_case(case), tuple(map(_subject, subjects)), cited, tuple(passages))


def _case(case: ShelvedCase) -> Row:
    problem = None if case.problem is None else json.dumps(case.problem.to_json(), ensure_ascii=False)
    said = (case.path, case.stamp.changed, case.stamp.size, case.sha256, case.state, problem)
    return (*said, case.day, case.edition, case.division)


def _subject(one: Subject) -> Row:
    return (one.kind, one.code, one.name, one.on_code, one.on_name, _joined(one.clauses), one.words)


def _joined(clauses: Iterable[str]) -> str:
    """Clauses as one text, a line each."""
    return "\n".join(clauses)


def _passage(one: Shelved) -> Row:
    sizes = (None if size is None else size.thousandths for size in (one.amount, one.angle, one.uncertainty))
    return (one.mark, *sizes, one.by, one.verdict, one.settled, one.judge, one.seen, *_ticks(one.stretch))


def _ticks(stretch: Stretch | None) -> Iterator[int | None]:
    for moment in (stretch.first, stretch.last, stretch.deciding) if stretch else (None, None, None):
        yield None if moment is None else moment.frame
        yield None if moment is None else moment.pts
