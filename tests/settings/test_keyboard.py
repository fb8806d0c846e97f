"""Keys of the desk: one data file, the user's own beside it, and no key that means two things."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from reviewer import settings
from reviewer.settings import SettingsError
from reviewer.settings.sequences import MODIFIERS, held_down, read_sequence, types_a_word


@pytest.fixture
def file(tmp_path: Path) -> Path:
    return tmp_path / "keys.toml"


def test_the_shipped_keys_mean_one_thing_each(file: Path) -> None:
    found = settings.read_keyboard(file)
    assert found.problems == ()
    assert all(use.says and use.under for use in found.uses)
    assert not file.exists()


def test_a_key_given_by_the_user_holds_and_the_rest_stays(file: Path) -> None:
    found = settings.keep_keys("next", "d right", file)
    assert found.use("next").keys == ("D", "Right")
    assert found.use("next").origin == f"{file}: line 1"
    assert found.use("previous").keys == ("Left",)
    assert settings.keep_keys("next", None, file).use("next").keys == ("Right",)


def test_a_use_may_have_no_key(file: Path) -> None:
    assert settings.keep_keys("clock", "", file).use("clock").keys == ()


@pytest.mark.parametrize(
    ("does", "typed", "code"),
    [
        ("next", "Left", "key-twice"),
        ("next", "Ctrl+O", "key-twice"),
        ("keep-reading", "Ctrl+O", "key-twice"),
        ("follow", "A", "key-twice"),
        ("say", "Ctrl+R", "key-twice"),
        ("next", "Tab", "key-taken"),
        ("say", "x", "key-taken"),
        ("next", "Hyper+J", "no-key"),
        ("next", "Ctrl+Ctrl+J", "no-key"),
        ("nxt", "J", "unknown-key-use"),
    ],
)
def test_what_cannot_be_is_refused_and_nothing_is_written(
    does: str, typed: str, code: str, file: Path
) -> None:
    with pytest.raises(SettingsError) as refused:
        settings.keep_keys(does, typed, file)
    assert code in [problem.code for problem in refused.value.problems]
    assert not file.exists()


def test_the_protractor_may_use_a_key_of_the_picture(file: Path) -> None:
    """It is asked first while it lies on the picture."""
    assert settings.keep_keys("follow", "T", file).problems == ()


def test_a_file_with_a_key_twice_is_named_and_the_shipped_keys_hold(file: Path) -> None:
    file.write_text('next = "W"\nprevious = "W"\nnxt = "K"\n', encoding="utf-8")
    found = settings.read_keyboard(file)
    said = [problem.code for problem in found.problems]
    assert said == ["unknown-key-use", "key-twice"]
    assert found.uses == settings.shipped_keys()


@given(
    st.lists(st.sampled_from(MODIFIERS), unique=True),
    st.sampled_from(["A", "7", "F5", "+", "/", "Left", "Space", "Esc", "["]),
)
def test_a_sequence_is_read_into_one_form_however_it_is_written(held: list[str], key: str) -> None:
    typed = "+".join([*held, key])
    form = read_sequence(typed)
    assert read_sequence(form) == form
    assert read_sequence(typed.lower()) == form
    assert held_down(form) == (bool({"Ctrl", "Alt", "Meta"} & set(held)) or key == "F5")


def test_only_what_a_call_may_hold_counts_as_typed() -> None:
    assert [types_a_word(one) for one in ("A", "Shift+A", "7", ".", "Space", "[", "F1", "Ctrl+A")] == [
        *(True, True, True, True, True, False, False, False)
    ]
