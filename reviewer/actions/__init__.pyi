# What the doors may use; each name is loaded when first used.

from . import books
from .agreement import agreement_of_sheets, agreement_of_table
from .athletenames import forget_name, has_names, known_names, names_document, set_name
from .audit import Audit, AuditError, Shown
from .bagsigning import make_key, sign_bag
from .books import book_document, check_book, load_book, shipped_books
from .carrying import carry_bars
from .clearing import clear_expired
from .clipparts import SetPart
from .cliprecipes import RecipeClip, begin_recipe, keep_recipe, read_recipe
from .clips import ClipMade, export_clip, keep_clip, make_clip
from .clipsets import SetBegun, begin_set, end_set, keep_part, make_part, make_set
from .clipwishes import CLIP_USES, ClipWish, seconds_of, speed_of
from .coachhistory import write_coach_history
from .coachpage import CoachMade, keep_coach_page, make_coach_page, write_coach_page
from .comparing import compare_sheets
from .consenting import consent_document, give_consent, may_leave, unrecorded, withdraw_consent
from .covering import Covered, confirm_covers, covers_on, place_cover, remove_cover
from .coveroffers import offered_covers
from .coversdocument import covers_document, save_covered_still
from .demo import fresh_demo, run_demo
from .documents import export_marks, import_marks, marks_text
from .doubled import Doubled, charged_twice
from .exercising import beside_key
from .expiring import expired_document, expired_in
from .exporting import export_case
from .falls import FallClock, fall_clock, goes_on, latest_fall, limit_after, stands
from .finding import cautions
from .following import follow_file, follow_on, keep_followed, keep_track, take_track
from .headfollowing import follow_apart, follow_heads, keep_followed_heads
from .inquiring import answer_inquiry, file_inquiry, withdraw_inquiry
from .inquirydocument import inquiries_document
from .interpreting import choose_edition, choose_interpretation
from .lengths import pool_readings, take_length
from .letter import excerpt, letter, write_letter
from .limiting import limit_audit
from .marking import (
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
    step_taken,
    take_and_confirm,
    take_reading,
    undo,
    withdraw_mark,
)
from .meetassigning import Wish, assign, unassign
from .meetchoosing import choose_by_hand, choose_by_lot, choose_by_trigger
from .meetconsents import Given, give_meet_consent
from .meetfigures import meet_figures
from .meetfilms import Work
from .meetindexing import Indexing, MeetIndexed, index_meet
from .meetlists import Begun, begin_meet, match_again, match_by_hand
from .meetmatching import PATTERN
from .meetqueue import meet_queue
from .meetreceiving import receive
from .meetreporting import write_meet_report
from .meetrescoring import MANY_ROUTINES
from .meetrows import Doing, MeetRow, meet_rows
from .meetsamples import Wanted, draw_sample, sample_size
from .meetsending import send
from .meetshowing import meet_list
from .meettriggers import meet_triggers
from .meetunpacking import pack_return, unpack_tasks
from .merging import merge_cases
from .missing import Step, missing
from .notes import notes_document, write_note
from .offered import DEFAULT_BOOK, FORMS, PARTS, PASSAGES_SHOWN, TABLES, USES, WHOLE, WHOSE
from .opening import open_case, start_case
from .otherwise import Alternative, alternatives, left_open, other_reading, together
from .outgoing import refuse_no_new_file, write_file
from .packing import pack_case
from .panelheld import as_panel
from .panelposted import (
    contradicts_itself,
    enter_posted_sheet,
    joined_sheets,
    posted_sheet_document,
    posted_sheet_found,
)
from .panels import enter_panel, keep_panel, panel_document, scores_on_sheets
from .passages import marks_told
from .posted import posted_document
from .postedcsv import read_posted
from .practicepage import (
    PracticeMade,
    keep_practice_page,
    make_practice_page,
    stretches_of,
    stretches_of_set,
    write_practice_page,
)
from .preferences import (
    Keyboard,
    KeyUse,
    Preferences,
    SettingsError,
    change_keys,
    change_setting,
    keyboard,
    keys_document,
    preferences,
    settings_document,
    small_pictures_folder,
)
from .protractor import measure_batch, measure_file, measure_together
from .recordings import frames_document, save_still
from .remembering import LeftAt, Remembered, recall, remember
from .reporting import ReportMade, keep_report, make_report, write_report
from .samplesheets import Source
from .scores import audit_score, score_document
from .sealing import seal
from .searching import ShelfAnswer, found_document, search_shelf
from .second import begin_second
from .settling import begin_settlement, open_lines, reopen_line, settle_line, settlement_document
from .several import (
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
from .shelfkeeping import forget, forget_everywhere
from .shortcodes import define_short_code, forget_short_code, short_codes, short_codes_document
from .spawning import Spawned, working
from .supposing import Supposed, supposed_sheet, what_if
from .timing import BEYOND, WITHIN, TimingError, duration_document, frame_of_moment, moments_document
from .verification import verify
from .wanting import wanted

__all__ = [
    "BEYOND",
    "CLIP_USES",
    "DEFAULT_BOOK",
    "FORMS",
    "MANY_ROUTINES",
    "PARTS",
    "PASSAGES_SHOWN",
    "PATTERN",
    "TABLES",
    "USES",
    "WHOLE",
    "WHOSE",
    "WITHIN",
    "Alternative",
    "Audit",
    "AuditError",
    "Begun",
    "Change",
    "ClipMade",
    "ClipWish",
    "CoachMade",
    "Covered",
    "Doing",
    "Doubled",
    "FallClock",
    "Given",
    "Indexing",
    "KeyUse",
    "Keyboard",
    "LeftAt",
    "MeetIndexed",
    "MeetRow",
    "PracticeMade",
    "Preferences",
    "RecipeClip",
    "Remembered",
    "ReportMade",
    "SetBegun",
    "SetPart",
    "SettingsError",
    "ShelfAnswer",
    "Shown",
    "Source",
    "Spawned",
    "Step",
    "Supposed",
    "TimingError",
    "Wanted",
    "Wish",
    "Work",
    "add_recording",
    "agreement_of_sheets",
    "agreement_of_table",
    "alternatives",
    "answer_inquiry",
    "as_panel",
    "assign",
    "assign_attempt",
    "audit_score",
    "begin_meet",
    "begin_recipe",
    "begin_second",
    "begin_set",
    "begin_settlement",
    "beside_key",
    "book_document",
    "books",
    "carry_bars",
    "cautions",
    "change_keys",
    "change_mark",
    "change_setting",
    "charged_twice",
    "check_book",
    "choose_by_hand",
    "choose_by_lot",
    "choose_by_trigger",
    "choose_edition",
    "choose_interpretation",
    "clear_expired",
    "compare_sheets",
    "confirm_covers",
    "consent_document",
    "contradicts_itself",
    "count_attempt",
    "counterpart",
    "counting_recording",
    "covers_document",
    "covers_on",
    "define_short_code",
    "describe_recordings",
    "draw_sample",
    "duration_document",
    "end_set",
    "enter_panel",
    "enter_posted",
    "enter_posted_sheet",
    "excerpt",
    "expired_document",
    "expired_in",
    "export_case",
    "export_clip",
    "export_marks",
    "fall_clock",
    "file_inquiry",
    "follow_apart",
    "follow_file",
    "follow_heads",
    "follow_on",
    "forget",
    "forget_everywhere",
    "forget_name",
    "forget_short_code",
    "found_document",
    "frame_of_moment",
    "frames_document",
    "frames_of",
    "frames_shown",
    "fresh_demo",
    "give_consent",
    "give_meet_consent",
    "goes_on",
    "has_names",
    "import_marks",
    "index_meet",
    "inquiries_document",
    "is_elsewhere",
    "join_recordings",
    "joined_sheets",
    "keep_clip",
    "keep_coach_page",
    "keep_followed",
    "keep_followed_heads",
    "keep_mark",
    "keep_panel",
    "keep_part",
    "keep_practice_page",
    "keep_recipe",
    "keep_report",
    "keep_track",
    "keyboard",
    "keys_document",
    "known_names",
    "latest_fall",
    "left_open",
    "letter",
    "limit_after",
    "limit_audit",
    "load_book",
    "make_clip",
    "make_coach_page",
    "make_key",
    "make_part",
    "make_practice_page",
    "make_report",
    "make_set",
    "marks_text",
    "marks_told",
    "match_again",
    "match_by_hand",
    "may_leave",
    "measure_batch",
    "measure_file",
    "measure_together",
    "meet_figures",
    "meet_list",
    "meet_queue",
    "meet_rows",
    "meet_triggers",
    "merge_cases",
    "missing",
    "moments_document",
    "names_document",
    "notes_document",
    "offered_covers",
    "offset",
    "open_case",
    "open_lines",
    "other_reading",
    "pack_case",
    "pack_return",
    "panel_document",
    "place_cover",
    "place_mark",
    "pool_readings",
    "posted_document",
    "posted_sheet_document",
    "posted_sheet_found",
    "preferences",
    "read_posted",
    "read_recipe",
    "recall",
    "receive",
    "recording_named",
    "recordings_document",
    "redo",
    "refuse_no_new_file",
    "remember",
    "remove_cover",
    "reopen_line",
    "run_demo",
    "sample_size",
    "save_covered_still",
    "save_still",
    "score_document",
    "scores_on_sheets",
    "seal",
    "search_shelf",
    "seconds_of",
    "send",
    "set_name",
    "settings_document",
    "settle_line",
    "settlement_document",
    "shipped_books",
    "short_codes",
    "short_codes_document",
    "sign_bag",
    "small_pictures_folder",
    "speed_of",
    "stands",
    "start_case",
    "step_taken",
    "stretches_of",
    "stretches_of_set",
    "supposed_sheet",
    "take_and_confirm",
    "take_length",
    "take_reading",
    "take_track",
    "together",
    "unassign",
    "undo",
    "unpack_tasks",
    "unrecorded",
    "verify",
    "wanted",
    "warnings_of",
    "what_if",
    "withdraw_consent",
    "withdraw_inquiry",
    "withdraw_mark",
    "working",
    "write_coach_history",
    "write_coach_page",
    "write_file",
    "write_letter",
    "write_meet_report",
    "write_note",
    "write_practice_page",
    "write_report",
]
