"""The catalogue holds what the program says, and German says all of it with the same arguments."""

from string import Formatter

import pytest
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po

from reviewer.terms.messages import listed, message
from reviewer.words import LANGUAGES, saying
from tests.words.extracting import LANGUAGES as FOLDER
from tests.words.extracting import POT, collected, languages

HOW = "run python -m tests.words.extracting"


def sentences(catalogue: Catalog) -> set[str]:
    return {one.id for one in catalogue if one.id and isinstance(one.id, str)}


def arguments(sentence: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(sentence) if name is not None}


@pytest.fixture(scope="module", params=languages())
def read(request: pytest.FixtureRequest) -> Catalog:
    with (FOLDER / f"{request.param}.po").open("rb") as file:
        return read_po(file, locale=request.param)


def test_the_template_holds_every_sentence_that_the_program_says_and_no_other() -> None:
    with POT.open("rb") as file:
        assert sentences(read_po(file)) == sentences(collected()), HOW


def test_every_language_that_may_be_asked_for_has_a_catalogue() -> None:
    assert set(LANGUAGES) == {"en", *languages()}


def test_a_language_knows_every_sentence_and_says_it_with_the_same_arguments(read: Catalog) -> None:
    assert sentences(read) == sentences(collected()), HOW
    told = [one for one in read if isinstance(one.id, str) and one.id and one.string]
    for one in told:
        assert arguments(str(one.string)) == arguments(str(one.id)), one.id
    assert len(told) >= 0.9 * len(sentences(read)), "too much of it would be told in English"


def test_what_is_compiled_says_what_is_written(read: Catalog) -> None:
    say = saying(str(read.locale))
    told = {one.id: one.string for one in read if one.id and one.string}
    assert {name: say.word(str(name)) for name in told} == told, HOW


def test_messages_of_the_score_are_told_in_the_language() -> None:
    said = message("{name} may cost {low} to {high}.", name="X", low="0.050", high="0.100")
    assert said.words() == "X may cost 0.050 to 0.100."
    assert saying("de").message(said) == "X darf 0,050 bis 0,100 kosten."


@pytest.mark.parametrize(
    ("english", "german"),
    [
        ("10.000", "10,000"),
        ("-0.100", "-0,100"),
        ("−43.2° ± 1.2° (95 %)", "−43,2° ± 1,2° (95 %)"),
        ("9.350, 9.400", "9,350; 9,400"),
        ("0:08.500", "0:08,500"),
        ("60 seconds", "60 Sekunden"),
        ("64 s", "64 s"),
    ],
)
def test_a_number_is_a_word_that_german_writes_with_a_comma(english: str, german: str) -> None:
    assert saying("de").word(english) == german
    assert saying("de")("{size}", size=english) == german
    assert saying("en").word(english) == english


@pytest.mark.parametrize(
    "code", ["0.1.0", "fault.arms-bent", "2026.11.26", "a0.5", "1/30000", "3.2-bars", "12"]
)
def test_what_is_a_code_or_a_day_keeps_its_points(code: str) -> None:
    assert saying("de").word(code) == code
    assert saying("de").numbers(code) == code


def test_a_number_within_words_of_the_program_has_a_comma_and_codes_beside_it_keep_theirs() -> None:
    assert saying("de").numbers("legs apart 0.100; v0.1.0 of x.pdf") == "legs apart 0,100; v0.1.0 of x.pdf"


def test_a_word_of_a_document_is_said_in_the_language_and_its_braces_stay_braces() -> None:
    assert saying("de").message(listed(["coach", "{x}"])) == "Trainer, {x}"


def test_what_no_catalogue_knows_stays_as_it_is_written() -> None:
    assert (
        saying("de").word("a clause of some club's own rule book") == "a clause of some club's own rule book"
    )
    assert saying("de").word("") == ""


def test_braces_in_an_argument_are_not_read_as_arguments() -> None:
    assert saying("de")("Finding: {finding}.", finding="{0} {finding}") == "Befund: {0} {finding}."


def test_another_language_is_refused() -> None:
    with pytest.raises(KeyError):
        saying("xx")
