"""What a person can do, one small function each, returning what changed. The doors come in here."""

from reviewer.actions.agreement import agreement_of_sheets, agreement_of_table
from reviewer.actions.audit import Audit, AuditError, Shown
from reviewer.actions.books import book_document, check_book, load_book, shipped_books
from reviewer.actions.carrying import carry_bars
from reviewer.actions.comparing import compare_sheets
from reviewer.actions.consenting import consent_document, give_consent, may_leave, withdraw_consent
from reviewer.actions.demo import fresh_demo, run_demo
from reviewer.actions.documents import export_marks, import_marks, marks_text
from reviewer.actions.doubled import Doubled, charged_twice
from reviewer.actions.exporting import FORMS, TABLES, export_case
from reviewer.actions.falls import FallClock, fall_clock, goes_on, latest_fall, limit_after, stands
from reviewer.actions.finding import cautions
from reviewer.actions.following import follow_file, follow_on, keep_followed, keep_track, take_track
from reviewer.actions.inquiring import answer_inquiry, file_inquiry, withdraw_inquiry
from reviewer.actions.inquirydocument import inquiries_document
from reviewer.actions.interpreting import choose_edition, choose_interpretation
from reviewer.actions.lengths import pool_readings, take_length
from reviewer.actions.letter import letter, write_letter
from reviewer.actions.limiting import WHOLE, limit_audit
from reviewer.actions.marking import (
    Change,
    change_mark,
    counting_recording,
    enter_posted,
    frames_of,
    frames_shown,
    is_elsewhere,
    keep_mark,
    place_mark,
    redo,
    take_and_confirm,
    take_reading,
    undo,
    withdraw_mark,
)
from reviewer.actions.merging import merge_cases
from reviewer.actions.missing import Step, missing
from reviewer.actions.notes import notes_document, write_note
from reviewer.actions.opening import DEFAULT_BOOK, cite_recording, open_case, start_case
from reviewer.actions.otherwise import Alternative, alternatives, left_open, other_reading, together
from reviewer.actions.outgoing import write_file
from reviewer.actions.packing import make_key, pack_case, sign_bag
from reviewer.actions.panelposted import (
    contradicts_itself,
    enter_posted_sheet,
    joined_sheets,
    posted_sheet_document,
    posted_sheet_found,
)
from reviewer.actions.panels import enter_panel, keep_panel, panel_document, scores_on_sheets
from reviewer.actions.posted import posted_document
from reviewer.actions.postedcsv import read_posted
from reviewer.actions.preferences import (
    change_keys,
    change_setting,
    keyboard,
    keys_document,
    preferences,
    settings_document,
    small_pictures_folder,
)
from reviewer.actions.protractor import measure_batch, measure_file, measure_together
from reviewer.actions.recordings import frames_document, save_still
from reviewer.actions.reporting import write_report
from reviewer.actions.samplesheets import Source
from reviewer.actions.scores import audit_score, score_document
from reviewer.actions.sealing import seal
from reviewer.actions.second import begin_second
from reviewer.actions.settling import begin_settlement, reopen_line, settle_line, settlement_document
from reviewer.actions.several import (
    add_recording,
    assign_attempt,
    count_attempt,
    counterpart,
    describe_recordings,
    join_recordings,
    offset,
    recording_named,
    recordings_document,
    warnings_of,
)
from reviewer.actions.shortcodes import (
    define_short_code,
    forget_short_code,
    short_codes,
    short_codes_document,
)
from reviewer.actions.supposing import Supposed, supposed_sheet, what_if
from reviewer.actions.timing import TimingError, duration_document, frame_of_moment, moments_document
from reviewer.actions.verification import verify
from reviewer.casefile import PARTS
from reviewer.measuring import BEYOND, WITHIN
from reviewer.reports import excerpt
from reviewer.settings import (
    Keyboard,
    KeyUse,
    LeftAt,
    Preferences,
    Remembered,
    SettingsError,
    recall,
    remember,
)
from reviewer.terms.consents import USES

__all__ = [
    "BEYOND",
    "DEFAULT_BOOK",
    "FORMS",
    "PARTS",
    "TABLES",
    "USES",
    "WHOLE",
    "WITHIN",
    "Alternative",
    "Audit",
    "AuditError",
    "Change",
    "Doubled",
    "FallClock",
    "KeyUse",
    "Keyboard",
    "LeftAt",
    "Preferences",
    "Remembered",
    "SettingsError",
    "Shown",
    "Source",
    "Step",
    "Supposed",
    "TimingError",
    "add_recording",
    "agreement_of_sheets",
    "agreement_of_table",
    "alternatives",
    "answer_inquiry",
    "assign_attempt",
    "audit_score",
    "begin_second",
    "begin_settlement",
    "book_document",
    "carry_bars",
    "cautions",
    "change_keys",
    "change_mark",
    "change_setting",
    "charged_twice",
    "check_book",
    "choose_edition",
    "choose_interpretation",
    "cite_recording",
    "compare_sheets",
    "consent_document",
    "contradicts_itself",
    "count_attempt",
    "counterpart",
    "counting_recording",
    "define_short_code",
    "describe_recordings",
    "duration_document",
    "enter_panel",
    "enter_posted",
    "enter_posted_sheet",
    "excerpt",
    "export_case",
    "export_marks",
    "fall_clock",
    "file_inquiry",
    "follow_file",
    "follow_on",
    "forget_short_code",
    "frame_of_moment",
    "frames_document",
    "frames_of",
    "frames_shown",
    "fresh_demo",
    "give_consent",
    "goes_on",
    "import_marks",
    "inquiries_document",
    "is_elsewhere",
    "join_recordings",
    "joined_sheets",
    "keep_followed",
    "keep_mark",
    "keep_panel",
    "keep_track",
    "keyboard",
    "keys_document",
    "latest_fall",
    "left_open",
    "letter",
    "limit_after",
    "limit_audit",
    "load_book",
    "make_key",
    "marks_text",
    "may_leave",
    "measure_batch",
    "measure_file",
    "measure_together",
    "merge_cases",
    "missing",
    "moments_document",
    "notes_document",
    "offset",
    "open_case",
    "other_reading",
    "pack_case",
    "panel_document",
    "place_mark",
    "pool_readings",
    "posted_document",
    "posted_sheet_document",
    "posted_sheet_found",
    "preferences",
    "read_posted",
    "recall",
    "recording_named",
    "recordings_document",
    "redo",
    "remember",
    "reopen_line",
    "run_demo",
    "save_still",
    "score_document",
    "scores_on_sheets",
    "seal",
    "settings_document",
    "settle_line",
    "settlement_document",
    "shipped_books",
    "short_codes",
    "short_codes_document",
    "sign_bag",
    "small_pictures_folder",
    "stands",
    "start_case",
    "supposed_sheet",
    "take_and_confirm",
    "take_length",
    "take_reading",
    "take_track",
    "together",
    "undo",
    "verify",
    "warnings_of",
    "what_if",
    "withdraw_consent",
    "withdraw_inquiry",
    "withdraw_mark",
    "write_file",
    "write_letter",
    "write_note",
    "write_report",
]
