"""Short codes of a user's own, kept in one file; none are shipped and none takes a word from an edition."""

from pathlib import Path

import pytest

from reviewer import actions, settings
from reviewer.actions import SettingsError


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("REVIEWER_SETTINGS", str(tmp_path / "mine" / "settings.toml"))
    return tmp_path / "mine" / "short-codes.toml"


def test_none_are_shipped_and_reading_makes_no_file(file: Path) -> None:
    assert settings.read_short_codes().known == ()
    assert not file.parent.exists()


def test_a_code_stands_for_words_until_it_is_taken_out(file: Path) -> None:
    book = actions.load_book("demo-bars-2")
    actions.define_short_code("AB", "arms-bent  0.1", book)
    assert actions.define_short_code("k", "Glide-Kip", book) == {"ab": "arms-bent 0.1", "k": "glide-kip"}
    assert file.read_text(encoding="utf-8") == 'ab = "arms-bent 0.1"\nk = "glide-kip"\n'
    assert actions.forget_short_code("ab") == {"k": "glide-kip"}
    assert settings.read_short_codes().known[0].origin == f"{file}: line 1"


@pytest.mark.parametrize(
    "code", ["fall", "cast", "met", "posted", "mount", "9", "a-b", "ü", "@b", "", "a" * 13]
)
def test_what_is_a_word_of_the_edition_or_no_code_is_refused_and_nothing_written(
    code: str, file: Path
) -> None:
    with pytest.raises(SettingsError) as refused:
        actions.define_short_code(code, "arms-bent 0.1", actions.load_book("demo-bars-2"))
    assert str(refused.value.problems[0].remedy)
    assert not file.exists()


def test_a_code_of_no_words_and_one_that_is_not_there_are_refused(file: Path) -> None:
    book = actions.load_book("demo-bars-2")
    with pytest.raises(SettingsError):
        actions.define_short_code("k", "  ", book)
    with pytest.raises(SettingsError):
        actions.forget_short_code("k")
    assert not file.exists()


def test_what_an_edition_says_to_a_code_stands_beside_it(file: Path) -> None:
    file.parent.mkdir()
    file.write_text('fall = "cast"\nz = "cartwheel 0.1"\nk = "cast met"\n', encoding="utf-8")
    listed = actions.short_codes_document(actions.load_book("demo-bars-2"))["codes"]
    remarks = {one["code"]: one["remark"] for one in listed}
    assert remarks == {
        "fall": "fall is a word of demo-bars-2, which is meant instead.",
        "z": "demo-bars-2 has no word cartwheel.",
        "k": None,
    }


def test_a_bad_line_of_the_file_is_named_and_the_others_hold(file: Path) -> None:
    file.parent.mkdir()
    file.write_text('k = "glide-kip"\nab = 0.1\n', encoding="utf-8")
    found = settings.read_short_codes()
    assert found.words == {"k": "glide-kip"}
    assert [one.where for one in found.problems] == [f"{file}: line 2"]
