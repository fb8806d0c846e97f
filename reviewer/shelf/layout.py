"""The tables of the index.

What marks have in common (`subjects`) stands once, and each passage points to it: so words are looked for
among some hundred subjects, not among all passages. Passages lie in the order of their cases and are read
once from the first to the last, whatever is looked for: an index on what they are about would be slower where
many are about it.
"""

APPLICATION_ID = 0x52565348
"""The four bytes ``RVSH`` in the file's header."""
VERSION = 1

TABLES = (
    "CREATE TABLE made (program TEXT NOT NULL) STRICT",
    "CREATE TABLE cases (id INTEGER PRIMARY KEY, path TEXT NOT NULL UNIQUE, changed INTEGER NOT NULL,"
    " size INTEGER NOT NULL, sha256 TEXT NOT NULL, state TEXT NOT NULL, problem TEXT,"
    " day TEXT NOT NULL, edition TEXT NOT NULL, division TEXT NOT NULL) STRICT",
    "CREATE INDEX newest ON cases (day DESC, path)",
    "CREATE TABLE subjects (id INTEGER PRIMARY KEY, kind TEXT NOT NULL, code TEXT NOT NULL,"
    " name TEXT NOT NULL, on_code TEXT NOT NULL, on_name TEXT NOT NULL, clauses TEXT NOT NULL,"
    " words TEXT NOT NULL, UNIQUE (kind, code, name, on_code, on_name, clauses, words)) STRICT",
    "CREATE VIRTUAL TABLE subject_words USING fts5 (words, content = '', tokenize = 'unicode61')",
    "CREATE TABLE passages (case_id INTEGER NOT NULL, subject INTEGER NOT NULL,"
    " recording INTEGER, place INTEGER NOT NULL, mark TEXT NOT NULL, amount INTEGER,"
    " angle INTEGER, uncertainty INTEGER, by TEXT, verdict TEXT,"
    " settled INTEGER NOT NULL, judge TEXT, seen TEXT, first_frame INTEGER,"
    " first_pts INTEGER, last_frame INTEGER, last_pts INTEGER, frame INTEGER, pts INTEGER,"
    " PRIMARY KEY (case_id, place)) STRICT, WITHOUT ROWID",
    "CREATE TABLE recordings (id INTEGER PRIMARY KEY, in_case INTEGER NOT NULL, sha256 TEXT NOT NULL,"
    " number INTEGER NOT NULL, time_base TEXT NOT NULL) STRICT",
    "CREATE INDEX of_case ON recordings (in_case)",
    "CREATE TABLE films (place TEXT PRIMARY KEY, sha256 TEXT NOT NULL) STRICT",
    f"PRAGMA application_id = {APPLICATION_ID}",
    f"PRAGMA user_version = {VERSION}",
)
