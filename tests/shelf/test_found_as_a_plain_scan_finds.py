"""Whatever is looked for, the index finds what a plain scan of the same cases finds, in the same order."""

from pathlib import Path

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reviewer.actions import search_shelf
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.shelving import VERDICTS, Wanted
from tests.shelf.plain_scan import Seen, everything, scan

WORDS = ("cast", "bent", "spot", "kip", "arms bent", "FAULT", "Hilfest", "met", "not met", "7", "zebra", "a")
CODES = ("cast", "cast*", "Cast", "*circle*", "glide-kip", "*", "nobody", "c", "[c]ast", "c?st")
FAULTS = ("arms-bent", "Arms bent", "*step", "fall", "legs*", "nobody", "*")
CLAUSES = ("fault.*", "fault.arms-bent", "*cast*", "element.cast", "*", "bent")


def ends(kind: type, low: int, high: int) -> st.SearchStrategy[tuple]:
    pair = st.tuples(st.integers(low, high), st.integers(low, high))
    return pair.map(lambda two: tuple(kind(one) for one in sorted(two)))


def said(*words: str) -> st.SearchStrategy[str]:
    return st.one_of(st.just(""), st.sampled_from(words))


QUERIES = st.builds(
    Wanted,
    words=said(*WORDS),
    element=said(*CODES),
    fault=said(*FAULTS),
    clause=said(*CLAUSES),
    amount=st.one_of(st.none(), ends(Points, 0, 600)),
    angle=st.one_of(st.none(), ends(Degrees, -90_000, 10_000)),
    verdict=said(*VERDICTS),
    settled=st.sampled_from((None, None, True, False)),
    edition=said("demo-bars-2", "demo*", "international-bars"),
    division=said("division 2", "*2", "Senior*"),
    since=said("2026-03-02", "2026-03-05"),
    until=said("2026-03-04", "2026-03-08"),
)


class Marks(tuple[Seen, ...]):
    """Every mark of the evening, short where a failing test shows it."""

    def __repr__(self) -> str:
        return f"{len(self)} marks"


@pytest.fixture(scope="module")
def seen(evening: Path) -> Marks:
    return Marks(everything(evening))


@settings(max_examples=300, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(wanted=QUERIES)
def test_any_query(wanted: Wanted, evening: Path, seen: Marks) -> None:
    expected = scan(seen, wanted)
    found = search_shelf(evening, wanted, limit=5000, recordings=False).found
    assert [(hit.case.path, hit.passage.mark) for hit in found.hits] == expected
    assert (found.total, found.cases) == (len(expected), len({path for path, _ in expected}))


@pytest.mark.parametrize(
    "wanted",
    [
        Wanted(element="cast*", angle=(Degrees(-55_000), Degrees(-35_000)), settled=True),
        Wanted(fault="arms-bent"),
        Wanted(fault="*", element="cast*", settled=False),
        Wanted(clause="fault.*", amount=(Points(100), Points(100))),
        Wanted(verdict="cannot tell"),
        Wanted(words="Hilfest"),
        Wanted(since="2026-03-04", until="2026-03-04"),
        Wanted(edition="international-bars"),
    ],
    ids=str,
)
def test_these_queries_find_something(wanted: Wanted, evening: Path, seen: Marks) -> None:
    assert 0 < len(scan(seen, wanted)) < len(seen)
    assert search_shelf(evening, wanted, recordings=False).found.total == len(scan(seen, wanted))


@settings(max_examples=40, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(limit=st.integers(1, 400), skip=st.integers(0, 1200), wanted=QUERIES)
def test_any_page_is_that_part_of_the_whole(limit: int, skip: int, wanted: Wanted, evening: Path) -> None:
    whole = search_shelf(evening, wanted, limit=5000, recordings=False).found
    page = search_shelf(evening, wanted, limit=limit, skip=skip, recordings=False).found
    assert page.hits == whole.hits[skip : skip + limit]
    assert (page.total, page.cases) == (whole.total, whole.cases)


def test_a_passage_tells_the_mark_as_the_case_has_it(evening: Path, seen: Marks) -> None:
    marks = {one.key: one for one in seen}
    for hit in search_shelf(evening, Wanted(), limit=5000, recordings=False).found.hits:
        one, told = marks[hit.case.path, hit.passage.mark], hit.passage
        assert told.amount == one.amount
        assert set(told.subject.clauses) == one.clauses
        assert (told.subject.code, told.subject.name) == (one.mark.code, one.name)
        assert (told.seen, told.judge) == (one.mark.seen, one.mark.judge)
        if told.stretch is not None:
            assert told.stretch.deciding.pts == one.mark.moment() or one.mark.moment() is None
            assert told.stretch.first.frame * 3000 == told.stretch.first.pts
