"""What a judge types means what it says. Codes are those the shipped edition lists."""

from dataclasses import replace
from pathlib import Path

import pytest
from PyQt6.QtGui import QKeySequence

from reviewer import actions
from reviewer.actions import Keyboard
from reviewer.desk.calls import Call, CallError, Vocabulary, Word, vocabulary
from reviewer.desk.keys import EXAMPLES, sheet
from reviewer.desk.offering import Habits, habits, offered
from reviewer.settings import shipped_keys
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.words import Saying


@pytest.fixture(scope="module")
def words() -> Vocabulary:
    return vocabulary(actions.load_book("demo-bars-2"))


def test_an_element_with_role_and_condition(words: Vocabulary) -> None:
    call = words.read("sole-circle-dismount dismount spotted")
    assert (call.kind, call.code) == ("element", "sole-circle-dismount")
    assert (call.roles, call.conditions) == (("dismount",), ("spotted",))


def test_a_cast_takes_a_verdict_or_an_angle_by_eye(words: Vocabulary) -> None:
    assert words.read("cast within").verdict == "within tolerance"
    assert words.read("cast not-met").verdict == "not met"
    assert str(words.read("cast -52").degrees()) == "-52.000"


@pytest.mark.parametrize("amount", ["0.1", ".1", "0.10"])
def test_an_amount_may_be_written_as_judges_write_it(words: Vocabulary, amount: str) -> None:
    assert str(words.read(f"arms-bent {amount}").points()) == "0.100"


def test_words_without_a_name_change_the_chosen_mark(words: Vocabulary) -> None:
    assert words.read("dismount spotted") == Call("change", roles=("dismount",), conditions=("spotted",))


def test_another_judge_and_what_is_beyond_dispute_are_said_in_the_same_line(words: Vocabulary) -> None:
    call = words.read("feet 0.05 @b settled slowed")
    assert (call.judge, call.settled, call.seen) == ("B", True, "slowed")


@pytest.mark.parametrize("typed", ["", "cartwheel", "cast cartwheel", "arms-bent 0.1 0.1x"])
def test_what_cannot_be_read_is_refused_with_a_remedy(words: Vocabulary, typed: str) -> None:
    with pytest.raises(CallError) as refused:
        words.read(typed)
    assert str(refused.value.problems[0].remedy)


def test_the_word_typed_whole_is_offered_first(words: Vocabulary) -> None:
    assert [word.text for word in offered(words, Habits(), "cast")][:2] == ["cast", "cast-squat-on"]
    assert offered(words, Habits(), "cast s")[0].text == "spotted"
    assert offered(words, Habits(), "bent")[0].text == "arms-bent"


def test_what_this_case_was_marked_with_most_is_offered_first_with_its_last_amount(words: Vocabulary) -> None:
    made = [Mark("m1", "fault", "legs-bent", amount=Points.parse("0.3"))]
    made += [Mark(f"m{at}", "fault", "legs-apart", amount=Points.parse(f"0.{at}")) for at in (9, 10)]
    known = habits(made)
    first, second = offered(words, known, "leg")[:2]
    assert (first.text, second.text) == ("legs-apart", "legs-bent")
    assert first.means.endswith("0.10 as last time")
    assert offered(words, known, "legs-bent")[0].text == "legs-bent"


def test_a_short_code_is_read_as_the_words_it_stands_for(words: Vocabulary) -> None:
    own = replace(words, shorts={"ab": "arms-bent 0.1", "s": "settled", "n": "note"})
    assert own.read("AB s").code == "arms-bent"
    assert (str(own.read("ab .3").points()), own.read("ab s").settled) == ("0.300", True)
    assert own.read("n Grip looked loose").text == "Grip looked loose"
    assert offered(own, Habits(), "ab")[0] == Word("ab", "short", "arms-bent 0.1")


def test_an_editions_own_word_goes_before_a_short_code_and_says_so(words: Vocabulary) -> None:
    call = replace(words, shorts={"fall": "cast met"}).read("fall")
    assert (call.code, call.aside) == ("fall", ("fall",))


def test_a_short_code_for_what_the_edition_lacks_says_so_when_used(words: Vocabulary) -> None:
    with pytest.raises(CallError) as refused:
        replace(words, shorts={"z": "cartwheel 0.1"}).read("z")
    assert "z stands for cartwheel 0.1" in str(refused.value)


def test_every_example_of_the_help_sheet_that_is_one_call_can_be_read(words: Vocabulary) -> None:
    for typed, _ in EXAMPLES:
        for part in typed.removesuffix(" …").replace("·", ",").split(","):
            words.read(part.strip())


def test_the_sheet_shows_every_key_and_each_is_one_that_the_window_knows() -> None:
    keyboard = Keyboard(shipped_keys(), Path("keys.toml"))
    keys = [sequence for use in keyboard.uses for sequence in use.keys]
    portable = QKeySequence.SequenceFormat.PortableText
    assert all(sequence in sheet(keyboard, Saying()) for sequence in keys)
    assert [QKeySequence(sequence).toString(portable) for sequence in keys] == keys


@pytest.mark.parametrize(("typed", "number"), [("feet 0,05", "0.05"), ("feet ,1", "0.1"), ("-7,5", "-7.5")])
def test_a_number_may_be_typed_with_a_decimal_comma(words: Vocabulary, typed: str, number: str) -> None:
    assert words.read(typed).number == number


def test_the_words_of_a_note_keep_their_commas(words: Vocabulary) -> None:
    assert words.read("note 1,5 turns").text == "1,5 turns"
