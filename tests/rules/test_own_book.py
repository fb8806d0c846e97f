"""The start of an own book is sound as it stands, and shows every kind of clause there is."""

import re
from pathlib import Path

from reviewer import rules
from reviewer.rules import amending
from reviewer.rules.arranging import CHAPTERS
from reviewer.rules.clauses import READERS
from reviewer.rules.wording import WORDING


def test_the_start_of_an_own_book_is_sound_and_says_it_is_not_official(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    book = amending.new_book(path)
    assert rules.check(path) == ()
    assert any("official" in caution for caution in book.cautions)


def test_with_every_example_switched_on_it_is_still_sound_and_shows_every_kind(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    amending.new_book(path)
    path.write_text(re.sub(r"(?m)^#: ", "", path.read_text(encoding="utf-8")), encoding="utf-8")
    assert {clause.rule for clause in rules.load(path).clauses} == set(READERS)


def test_every_kind_of_clause_has_its_words_and_its_chapter() -> None:
    assert set(WORDING) == set(READERS)
    chapters = [kind for kinds in CHAPTERS.values() for kind in kinds]
    assert sorted(chapters) == sorted(READERS)
