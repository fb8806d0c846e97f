"""A field changed in a YAML text leaves every other character as it was."""

from collections.abc import Iterator

import pytest
import yaml
from hypothesis import given
from hypothesis import strategies as st

from reviewer import rules
from reviewer.rules import splicing
from reviewer.rules.splicing import NoPlaceError

TEXT = """\
# at the top
a: one # said of a
b:
  - x  # said of x
  - y

# before c
c: {p: 1, q: 2, r: [s, t]}
d: |
  two
  lines

# before e
e: 'quoted' # said of e
f: on
  two lines
g:
  - {code: u, v: 1}
  - code: w
    v: 2 # said of v
  # at the end
"""

DATA = yaml.load(TEXT, Loader=yaml.BaseLoader)


def read(text: str) -> object:
    return yaml.load(text, Loader=yaml.BaseLoader)


def remarks(text: str) -> list[str]:
    return [line[line.index("#") :] for line in text.splitlines() if "#" in line]


@pytest.mark.parametrize(
    ("place", "value", "wanted"),
    [
        ("a", "new", {**DATA, "a": "new"}),
        ("a", "", {key: value for key, value in DATA.items() if key != "a"}),
        ("c.q", "-45 degrees", {**DATA, "c": {"p": "1", "q": "-45 degrees", "r": ["s", "t"]}}),
        ("c.q", "", {**DATA, "c": {"p": "1", "r": ["s", "t"]}}),
        ("c.r", "", {**DATA, "c": {"p": "1", "q": "2"}}),
        ("c.new", "a, b", {**DATA, "c": {**DATA["c"], "new": "a, b"}}),
        ("c.r", [], {**DATA, "c": {**DATA["c"], "r": []}}),
        ("d", "one line", {**DATA, "d": "one line"}),
        ("e", "published: here, page 3", {**DATA, "e": "published: here, page 3"}),
        ("f", "short", {**DATA, "f": "short"}),
        ("g.u.v", "9", {**DATA, "g": [{"code": "u", "v": "9"}, {"code": "w", "v": "2"}]}),
        ("g.w.v", "9", {**DATA, "g": [{"code": "u", "v": "1"}, {"code": "w", "v": "9"}]}),
        ("g.w.x", "9", {**DATA, "g": [{"code": "u", "v": "1"}, {"code": "w", "v": "2", "x": "9"}]}),
        ("g.u", "", {**DATA, "g": [{"code": "w", "v": "2"}]}),
        ("new", "here", {**DATA, "new": "here"}),
        ("new.inner", "here", {**DATA, "new": {"inner": "here"}}),
    ],
)
def test_a_change_reaches_what_it_names_and_nothing_else(
    place: str, value: splicing.Written, wanted: object
) -> None:
    changed = splicing.put(TEXT, place, value)
    assert read(changed) == wanted
    lost = set(remarks(TEXT)) - set(remarks(changed))
    assert lost <= {"# said of a"} if value == "" else not lost


def test_a_new_field_stands_before_the_remark_on_what_follows() -> None:
    text = "one:\n  a: 1\n\n# about two\ntwo: 2\n"
    assert splicing.put(text, "one.b", "2") == "one:\n  a: 1\n  b: 2\n\n# about two\ntwo: 2\n"


def test_a_list_on_lines_of_its_own_stays_one() -> None:
    assert splicing.put("a: # why\n  - x\n  - y\nb: 1\n", "a", ["p", "q", "r"]) == (
        "a: # why\n  - p\n  - q\n  - r\nb: 1\n"
    )


def test_line_ends_of_another_system_are_kept() -> None:
    changed = splicing.put("a: 1\r\nb:\r\n  c: 2\r\n", "b.d", "3")
    assert changed == "a: 1\r\nb:\r\n  c: 2\r\n  d: 3\r\n"


@pytest.mark.parametrize("place", ["g.nobody.v", "g.nobody", "a.inner"])
def test_a_place_that_is_not_there_is_said(place: str) -> None:
    with pytest.raises(NoPlaceError):
        splicing.put(TEXT, place, "1")


def test_what_is_not_there_cannot_be_taken_out() -> None:
    with pytest.raises(NoPlaceError) as found:
        splicing.put(TEXT, "nothing", "")
    assert found.value.known == tuple("abcdefg")


printable = st.text(
    st.characters(blacklist_categories=("Cs", "Cc"), blacklist_characters="\ufeff\ufffe\uffff"), max_size=40
)


@given(printable.filter(str.strip))
def test_any_text_is_read_back_as_it_was_written(text: str) -> None:
    for place in ("a", "c.q", "g.u.v", "g.w.v"):
        changed = splicing.put(TEXT, place, text)
        found = read(changed)
        for part in place.split("."):
            found = _inner(found, part)
        assert found == " ".join(text.split())


def _inner(found: object, part: str) -> object:
    if isinstance(found, list):
        return next(one for one in found if one["code"] == part)
    assert isinstance(found, dict)
    return found[part]


def places(tree: object, before: str = "") -> Iterator[str]:
    if isinstance(tree, str):
        yield before
    elif isinstance(tree, dict):
        for key, value in tree.items():
            yield from places(value, f"{before}.{key}" if before else key)


def test_every_text_of_a_shipped_clause_can_be_changed_alone() -> None:
    text = rules.find("demo-bars-2").read_text(encoding="utf-8")
    clauses = splicing.entries(text, splicing.composed(text))[-1]
    for clause in splicing.entries(text, clauses.value)[::7]:
        node = clause.value
        alone = " " * node.start_mark.column + text[node.start_mark.index : clause.end]
        for place in places(read(alone)):
            before, after = alone.splitlines(), splicing.put(alone, place, "changed").splitlines()
            differ = [line for line in after if line not in before]
            assert len(differ) == 1
            assert "changed" in differ[0]
