"""One document, one sequence of bytes: RFC 8785 as far as it goes without floats."""

import json

import pytest
from hypothesis import given
from hypothesis import strategies as some

from reviewer.terms.canonical import canonical, readable

DOCUMENTS = some.recursive(
    some.none() | some.booleans() | some.integers() | some.text(),
    lambda inner: some.lists(inner) | some.dictionaries(some.text(), inner),
    max_leaves=12,
)


def test_strings_and_literals_as_in_the_rfc() -> None:
    # RFC 8785 section 3.2.2 (FACTS section 7): the example without its numbers, which are floats
    document = {"string": "€$\u000f\u000aA'\u0042\u0022\u005c\\\"/", "literals": [None, True, False]}
    assert canonical(document).decode() == (
        '{"literals":[null,true,false],"string":"€$\\u000f\\nA\'B\\"\\\\\\\\\\"/"}'
    )


def test_keys_sort_by_utf_16_code_units() -> None:
    # RFC 8785 section 3.2.3: the example of sorting; the surrogate pair stands before U+FB33
    keys = {
        "€": "Euro Sign",
        "\r": "Carriage Return",
        "\ufb33": "Hebrew Letter Dalet With Dagesh",
        "1": "One",
        "\U0001f600": "Emoji: Grinning Face",
        "\u0080": "Control",
        "ö": "Latin Small Letter O With Diaeresis",
    }
    assert list(json.loads(canonical(keys))) == [
        "\r", "1", "\u0080", "ö", "€", "\U0001f600", "\ufb33",
    ]  # fmt: skip


@pytest.mark.parametrize("odd", [1.0, float("nan"), {"a": [0.1]}, {1: "x"}, "half \ud800 pair", b"bytes"])
def test_what_has_no_canonical_form_is_refused(odd: object) -> None:
    with pytest.raises(ValueError, match=r"form|key|surrogates"):
        canonical(odd)


@given(DOCUMENTS)
def test_reading_and_writing_again_gives_the_same_bytes(document: object) -> None:
    written = canonical(document)
    assert json.loads(written) == document
    assert canonical(json.loads(written)) == written
    assert canonical(json.loads(readable(document))) == written


@given(some.dictionaries(some.text(), some.integers()))
def test_the_order_of_entry_does_not_matter(document: dict[str, int]) -> None:
    assert canonical(dict(reversed(document.items()))) == canonical(document)
