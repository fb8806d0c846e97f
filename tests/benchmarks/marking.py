"""From a call at the desk to the repainted score sheet, beyond a bare commit in the same run.

The case has sixty elements and two hundred faults. A call is typed and said by keys; the moment taken is when
all that it asked for is painted. The bare commit puts one row into a table of a file of its own, as safely.
"""

import sqlite3
from collections.abc import Iterator
from pathlib import Path
from statistics import median
from time import perf_counter

from PyQt6.QtCore import Qt
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer import actions, rules
from tests.benchmarks.clips import Setting
from tests.benchmarks.figures import Figure
from tests.benchmarks.scoring import Kind, routine
from tests.benchmarks.watching import LateError, desk

BIG = Kind(60, 200, 40, 2)
AT_MOST_MS = 50.0


def figures(setting: Setting, edition: str) -> Iterator[Figure]:
    """Milliseconds beyond the commit."""
    rounds = 5 if setting.quick else 40
    case = _case(setting.scratch / f"{edition}.case", edition)
    with desk(setting) as bench:
        bench.window.open_case(case, None)
        QTest.qWait(200)
        bench.window.entry.setFocus()
        before = len(bench.window.bench.marks)
        marked, committed = [], []
        with _bare(setting.scratch / f"{edition}.bare") as table:
            for _ in range(rounds):
                committed.append(_commit(table))
                marked.append(_mark(_word(edition)))
        if len(bench.window.bench.marks) != before + rounds:
            raise LateError("not every call became a mark")
    beyond = [one - other for one, other in zip(marked, committed, strict=True)]
    beside = {"call to paint, ms": median(marked), "bare commit, ms": median(committed)}
    what = f"mark to sheet beyond a commit, 60 elements and 200 faults, {edition}"
    low, high = min(beyond), max(beyond)
    yield Figure(what, median(beyond), "ms", rounds, low, high, None, AT_MOST_MS, beside)


def _case(path: Path, edition: str) -> Path:
    path.unlink(missing_ok=True)
    with actions.start_case(
        path, author="A", athlete_code="G-1", consent="given", rule_book=edition, recording=None
    ) as audit:
        for mark in routine(rules.load(rules.find(edition)), BIG):
            actions.keep_mark(audit, mark)
    return path


def _word(edition: str) -> str:
    """A fact of the edition: it is said in one word."""
    return rules.load(rules.find(edition)).facts[0].code


def _mark(word: str) -> float:
    """Milliseconds from the key that says a call to the end of all painting it asked for."""
    application, entry = QApplication.instance(), QApplication.focusWidget()
    assert isinstance(application, QApplication)
    assert entry is not None
    QTest.keyClicks(entry, word)
    begun = perf_counter()
    QTest.keyClick(entry, Qt.Key.Key_Return)
    application.processEvents()
    return 1000 * (perf_counter() - begun)


def _bare(path: Path) -> sqlite3.Connection:
    path.unlink(missing_ok=True)
    table = sqlite3.connect(path, isolation_level=None)
    table.execute("pragma synchronous = full")
    table.execute("create table events (number integer primary key, body text)")
    return table


def _commit(table: sqlite3.Connection) -> float:
    begun = perf_counter()
    table.execute("begin immediate")
    table.execute("insert into events (body) values (?)", ("x" * 300,))
    table.execute("commit")
    return 1000 * (perf_counter() - begun)
