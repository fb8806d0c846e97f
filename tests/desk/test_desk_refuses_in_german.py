"""A German desk says in German what it refuses, whatever is typed and whatever lies on it."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest
from PyQt6.QtCore import QCoreApplication, QEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication

from reviewer.desk.window import DeskWindow
from reviewer.words import saying
from tests.desk.conftest import until
from tests.desk.hands import call
from tests.words.test_german_report import english_alone, words_of

CALLS = (
    "xyzzy",
    "cast cast",
    "arms-bent",
    "arms-bent 0.7",
    "arms-bent nonsense",
    "fall 0.3",
    "cast -500",
    "hop -20",
    "go",
    "go 99999",
    "go 99:00",
    "go soon",
    "starts",
    "ends",
    "note",
    "note " + "w" * 2100,
    "withdraw",
    "posted",
    "posted abc",
    "posted 77",
    "short",
    "short cast arms-bent",
    "short ab",
    "short !! arms-bent",
    "forget qq",
)
_AS_TYPED = re.compile(r"`[^`]*`|'[^']*'|„[^“]*“|\w+(?:[.:/-]\w+)+|^[\w!]+: |  [\w!]+: ")
"""Commands, what was typed, codes, and where it stands."""
CODES = "short note go arms bent square on mp4 clock cast"
"""Words that are typed as they are."""


@pytest.fixture
def german(application: QApplication, case: Path) -> Iterator[DeskWindow]:
    """A case without marks on a German desk."""
    shown = DeskWindow("A", say=saying("de"))
    shown.show()
    assert QTest.qWaitForWindowExposed(shown)
    shown.activateWindow()
    assert QTest.qWaitForWindowActive(shown)
    shown.open_case(case, None)
    until(lambda: shown.bench.picture is not None)
    yield shown
    shown.close()
    shown.deleteLater()
    QCoreApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete.value)


def left_in_english(told: str) -> set[str]:
    return (words_of(_AS_TYPED.sub(" ", told)) & english_alone()) - words_of(CODES)


def test_what_a_german_desk_refuses_it_refuses_in_german(german: DeskWindow) -> None:
    told: list[tuple[str, bool]] = []
    german.bench.said.connect(lambda words, wrong: told.append((words, wrong)))
    refused = {}
    for typed in CALLS:
        told.clear()
        call(german, typed)
        refused[typed] = " ".join(words for words, wrong in told if wrong)
    assert {typed: left_in_english(said) for typed, said in refused.items() if left_in_english(said)} == {}
    assert len(list(filter(None, refused.values()))) >= 20, refused


def test_files_that_are_no_cases_or_recordings_are_refused_in_german(
    german: DeskWindow, tmp_path: Path
) -> None:
    told: list[str] = []
    german.bench.said.connect(lambda words, wrong: told.append(words if wrong else ""))
    empty = tmp_path / "leer.mp4"
    empty.write_bytes(b"nothing of a film")
    for path in (tmp_path / "nirgends.mp4", empty):
        german.open_recording(path)
        until(lambda: any(told))
        assert left_in_english(" ".join(told)) == set(), told
        told.clear()
    for path in (tmp_path / "nirgends.case", empty):
        german.open_case(path, None)
        until(lambda: any(told))
        assert left_in_english(" ".join(told)) == set(), told
        told.clear()
