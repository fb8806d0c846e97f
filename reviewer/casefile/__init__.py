"""The case: one SQLite document with a chain of events that only grows."""

from reviewer.casefile.case import Case, case_in_memory, create_case, open_case
from reviewer.casefile.chain import Event, export_events, hash_of, import_events
from reviewer.casefile.checking import check_chain
from reviewer.casefile.conflicts import Conflict, words_of
from reviewer.casefile.copying import write_copy
from reviewer.casefile.errors import CaseError
from reviewer.casefile.folding import CaseState, RuleBookChosen, fold, state_at, undone_by
from reviewer.casefile.heads import Heads
from reviewer.casefile.kinds import EVIDENCE, LEFT
from reviewer.casefile.lineage import MERGED, apart
from reviewer.casefile.merging import merge
from reviewer.casefile.naming import as_shown, brought_by, renamed
from reviewer.casefile.payloads import CONFERENCES, MOST_ATTEMPTS
from reviewer.casefile.recordings import Joined, RecordingCited
from reviewer.casefile.storage import is_case, read_books, read_events
from reviewer.casefile.timelines import (
    Offset,
    Place,
    common_base,
    counterpart,
    offset_of,
    offsets_from,
    on_one_line,
)
from reviewer.casefile.writer import Hold

__all__ = [
    "CONFERENCES",
    "EVIDENCE",
    "LEFT",
    "MERGED",
    "MOST_ATTEMPTS",
    "Case",
    "CaseError",
    "CaseState",
    "Conflict",
    "Event",
    "Heads",
    "Hold",
    "Joined",
    "Offset",
    "Place",
    "RecordingCited",
    "RuleBookChosen",
    "apart",
    "as_shown",
    "brought_by",
    "case_in_memory",
    "check_chain",
    "common_base",
    "counterpart",
    "create_case",
    "export_events",
    "fold",
    "hash_of",
    "import_events",
    "is_case",
    "merge",
    "offset_of",
    "offsets_from",
    "on_one_line",
    "open_case",
    "read_books",
    "read_events",
    "renamed",
    "state_at",
    "undone_by",
    "words_of",
    "write_copy",
]
