"""Two judges' cases made one: nothing lost, nothing rewritten, and what differs is shown."""

import json
import shutil
import sqlite3
from collections.abc import Callable, Iterator
from contextlib import ExitStack, suppress
from dataclasses import replace
from itertools import count
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as some

from reviewer.casefile import (
    Case,
    CaseError,
    Event,
    check_chain,
    create_case,
    fold,
    import_events,
    merge,
    open_case,
    read_events,
    renamed,
)
from reviewer.casefile.chain import hash_of, read_event
from reviewer.terms.canonical import canonical
from reviewer.terms.consents import NONE_IN_COMMON, Consent
from reviewer.terms.exact import Points
from tests.casefile.clocks import ticking

RECORDING = {
    "sha256": "a" * 64,
    "frames": 10,
    "time_base": "1/10",
    "first_pts": 0,
    "last_pts": 9,
    "pts_runs": [[0, 1, 10]],
}


def mark(name: str, **more: Any) -> dict[str, Any]:
    return {"mark": {"id": name, "kind": "element", "code": "cast"} | more}


def begun(path: Path, author: str, consent: str = "given", code: str = "G-07") -> Case:
    case = create_case(path, author, code, consent, ticking())
    case.append("rule-book-chosen", {"id": "b", "sha256": "b" * 64, "clauses": {}})
    case.append("recording-cited", RECORDING)
    return case


@pytest.fixture
def a(tmp_path: Path) -> Iterator[Case]:
    with begun(tmp_path / "a.case", "A") as case:
        yield case


@pytest.fixture
def b(tmp_path: Path) -> Iterator[Case]:
    with begun(tmp_path / "b.case", "B") as case:
        yield case


NUMBERS = count(1)
OPENED: list[Case] = []


@pytest.fixture(autouse=True)
def closed() -> Iterator[None]:
    """Whatever `joined` opened is closed in the end."""
    yield
    while OPENED:
        OPENED.pop().close()


def joined(first: Case, second: Case) -> Case:
    """Both merged, open for the first one's author."""
    path = first.path.parent / f"merged-{next(NUMBERS)}.case"
    merge(first, second, path, "C", ticking())
    OPENED.append(open_case(path, first.author, ticking()))
    return OPENED[-1]


def shown(case: Case) -> dict[str, Any]:
    return {one.id: one for one in case.state.marks}


def conflicts(case: Case) -> list[tuple[str, str, str]]:
    return [(one.what, one.where, one.stands) for one in case.state.conflicts]


def test_every_event_of_both_is_kept_byte_for_byte_and_one_event_joins_them(a: Case, b: Case) -> None:
    a.append("mark-placed", mark("m1"))
    b.append("mark-placed", mark("m1", code="giant"))
    both = joined(a, b)
    stored = read_events(both.path)
    assert check_chain(stored) == ()
    assert [one.number for one in stored] == list(range(1, 10))
    assert [(one.hash, one.body) for one in stored[:-1]] == [(e.hash, e.body) for e in (*a.events, *b.events)]
    assert stored[-1].kind == "cases-merged"
    assert stored[-1].parents == (a.events[-1].hash, b.events[-1].hash)


def test_ids_that_both_have_are_shown_apart_and_so_is_what_cites_them(a: Case, b: Case) -> None:
    for case, code in ((a, "cast"), (b, "giant")):
        case.append("mark-placed", mark("m1", code=code))
        case.append("mark-placed", mark("m2", kind="fault", code="arms-bent", element="m1", amount="0.100"))
        angle = {"deg": "-45.000", "u_deg": "0.500", "by": "protractor", "reading": "r1"}
        case.append("reading-confirmed", {"reading": {"id": "r1"}, **mark("m1", code=code, angle=angle)})
        case.append("readings-pooled", {"pool": {"id": "r2", "of": ["r1", "r1"], "pooled": {}}})
    b.append("mark-placed", mark("m3"))
    both = joined(a, b)
    marks = shown(both)
    assert {name: one.code for name, one in marks.items()} == {
        "m1": "cast", "m2": "arms-bent", "B.m1": "giant", "B.m2": "arms-bent", "m3": "cast"
    }  # fmt: skip
    assert (marks["m2"].element, marks["B.m2"].element) == ("m1", "B.m1")
    assert (marks["m1"].angle.reading, marks["B.m1"].angle.reading) == ("r1", "B.r1")
    assert [one["id"] for one in both.state.readings] == ["r1", "B.r1"]
    assert [one["of"] for one in both.state.pools] == [["r1", "r1"], ["B.r1", "B.r1"]]
    assert [(name, thing[1][1], thing[2]) for name, thing in renamed(both.events)] == [
        ("B.m1", "m1", "B"), ("B.m2", "m2", "B"), ("B.r1", "r1", "B"), ("B.r2", "r2", "B")
    ]  # fmt: skip
    assert conflicts(both) == []


def test_inquiries_and_answers_go_with_their_marks(a: Case, b: Case) -> None:
    for case in (a, b):
        case.append("mark-placed", mark("m1"))
        asked = {"id": "q1", "asked_by": "coach", "about": "execution", "marks": ["m1"], "clauses": []}
        case.append("inquiry-filed", {"inquiry": asked})
        answer = {"inquiry": "q1", "finding": "stands", "marks": ["m1"], "readings": []}
        case.append("inquiry-answered", {"answer": answer})
    state = joined(a, b).state
    assert [(one.id, one.marks) for one in state.inquiries] == [("q1", ("m1",)), ("B.q1", ("B.m1",))]
    assert {name: one.marks for name, one in state.answers.items()} == {"q1": ("m1",), "B.q1": ("B.m1",)}


def test_a_case_merged_with_itself_or_with_what_it_holds_already_stays_as_it_is(a: Case, b: Case) -> None:
    a.append("mark-placed", mark("m1"))
    b.append("mark-placed", mark("m1"))
    assert joined(a, a).events == a.events
    both = joined(a, b)
    for again in (joined(both, both), joined(both, b), joined(both, a), joined(a, both), joined(b, both)):
        assert again.events == both.events
        assert again.state == both.state


def test_a_copy_that_was_worked_on_alone_is_taken_as_it_is(a: Case, tmp_path: Path) -> None:
    a.append("mark-placed", mark("m1"))
    shutil.copy(a.path, tmp_path / "copy.case")
    with open_case(tmp_path / "copy.case", "B", ticking()) as copy:
        copy.append("mark-placed", mark("m2"))
        assert joined(a, copy).events == copy.events


@pytest.fixture
def copies(a: Case, tmp_path: Path) -> Iterator[tuple[Case, Case]]:
    """A case, and a copy of it that somebody else works on."""
    a.append("mark-placed", mark("m1"))
    a.append("mark-placed", mark("m2"))
    shutil.copy(a.path, tmp_path / "copy.case")
    with open_case(tmp_path / "copy.case", "B", ticking()) as copy:
        yield a, copy


def test_what_both_changed_after_a_copy_was_made_is_a_conflict_and_the_first_stands(
    copies: tuple[Case, Case],
) -> None:
    ours, theirs = copies
    ours.append("mark-changed", mark("m1", order=1))
    theirs.append("mark-changed", mark("m1", order=2))
    theirs.append("mark-changed", mark("m2", order=3))
    both = joined(ours, theirs)
    assert (shown(both)["m1"].order, shown(both)["m2"].order) == (1, 3)
    (one,) = both.state.conflicts
    assert (one.what, one.where, one.stands) == ("mark", "m1", "first")
    assert (one.first, one.second) == (
        "code cast, id m1, kind element, order 1",
        "code cast, id m1, kind element, order 2",
    )


def test_new_marks_of_both_copies_are_told_apart_and_the_common_ones_are_not(
    copies: tuple[Case, Case],
) -> None:
    ours, theirs = copies
    for case, at in zip(copies, (1, 2), strict=True):
        case.append("mark-placed", mark("m3", start=at))
    assert set(shown(joined(ours, theirs))) == {"m1", "m2", "m3", "B.m3"}
    assert conflicts(joined(ours, theirs)) == []


def test_changed_here_and_withdrawn_there_is_a_conflict(copies: tuple[Case, Case]) -> None:
    ours, theirs = copies
    ours.append("mark-changed", mark("m1", order=1))
    theirs.append("mark-withdrawn", {"id": "m1"})
    assert set(shown(joined(ours, theirs))) == {"m1", "m2"}
    assert set(shown(joined(theirs, ours))) == {"m2"}
    assert conflicts(joined(ours, theirs)) == conflicts(joined(theirs, ours)) == [("mark", "m1", "first")]


def test_undone_here_and_changed_there_is_a_conflict_and_stays_undone(copies: tuple[Case, Case]) -> None:
    ours, theirs = copies
    ours.undo()  # the placing of m2
    theirs.append("mark-changed", mark("m2", order=1))
    assert set(shown(joined(ours, theirs))) == set(shown(joined(theirs, ours))) == {"m1"}
    assert conflicts(joined(ours, theirs)) == [("mark", "m2", "first")]
    assert conflicts(joined(theirs, ours)) == [("mark", "m2", "second")]


def test_a_cast_measured_by_both_keeps_both_readings(copies: tuple[Case, Case]) -> None:
    ours, theirs = copies
    for case, value in zip(copies, ("-44.000", "-47.000"), strict=True):
        angle = {"deg": value, "u_deg": "0.500", "by": "protractor", "reading": "r1"}
        case.append("reading-confirmed", {"reading": {"id": "r1", "of": []}, **mark("m1", angle=angle)})
    both = joined(ours, theirs)
    assert str(shown(both)["m1"].angle.value) == "-44.000"
    assert [one["id"] for one in both.state.readings] == ["r1", "B.r1"]
    assert conflicts(both) == [("mark", "m1", "first")]


@pytest.mark.parametrize(
    ("kind", "one", "other", "read"),
    [
        ("posted-entered", {"score": "8.900"}, {"score": "8.800"}, lambda s: s.posted == "8.900"),
        (
            "interpretation-chosen",
            {"clause": "c", "reading": "other"},
            {"clause": "c", "reading": "stated"},
            lambda s: s.interpretations == {"c": "other"},
        ),
        (
            "panel-entered",
            {"when": "before", "scores": {"A": "9.1"}},
            {"when": "before", "scores": {"A": "9.2"}},
            lambda s: s.panel == {"before": {"A": "9.1"}},
        ),
        (
            "rule-book-chosen",
            {"id": "x", "sha256": "c" * 64, "clauses": {}},
            {"id": "y", "sha256": "d" * 64, "clauses": {}},
            lambda s: s.rule_book.id == "x",
        ),
        ("audit-limited", {"parts": ["execution"]}, {"parts": []}, lambda s: s.limited_to == ("execution",)),
        (
            "attempt-assigned",
            {"sha256": "a" * 64, "attempt": 2},
            {"sha256": "a" * 64, "attempt": 3},
            lambda s: s.recordings[0].attempt == 2,
        ),
    ],
)
def test_a_matter_that_both_decided_is_a_conflict_until_somebody_decides_it_anew(
    a: Case, b: Case, kind: str, one: dict[str, Any], other: dict[str, Any], read: Callable[[Any], bool]
) -> None:
    a.append(kind, one)
    b.append(kind, other)
    both = joined(a, b)
    assert [stands for _, _, stands in conflicts(both)] == ["first"]
    assert read(both.state)
    both.append(kind, one)
    assert conflicts(both) == []
    assert read(both.state)
    both.undo()
    assert [stands for _, _, stands in conflicts(both)] == ["first"]
    b.append(kind, one)
    assert conflicts(joined(a, b)) == []


def consent(word: str, *uses: str, until: str | None = None) -> dict[str, Any]:
    said: dict[str, Any] = {"consent": word} | ({"for": list(uses)} if uses else {})
    return said | ({"until": until} if until else {})


@pytest.mark.parametrize(
    ("ours", "theirs", "stands"),
    [
        (consent("given"), consent("withdrawn"), Consent("withdrawn")),
        (consent("withdrawn"), consent("given", "teaching"), Consent("withdrawn")),
        (consent("given"), consent("not recorded"), Consent("not recorded")),
        (consent("not recorded"), consent("given"), Consent("not recorded")),
        (consent("given"), consent("given"), Consent("given")),
        (consent("given", "inquiry", "teaching"), consent("given"), Consent("given", ("inquiry",))),
        (consent("given", "teaching"), consent("given", "coach"), Consent(NONE_IN_COMMON)),
        (
            consent("given", "inquiry", "coach", until="2027-06-30"),
            consent("given", "coach", "teaching", until="2027-01-31"),
            Consent("given", ("coach",), "2027-01-31"),
        ),
        (
            consent("given", "inquiry", until="2027-06-30"),
            consent("given", "inquiry"),
            Consent("given", ("inquiry",), "2027-06-30"),
        ),
    ],
)
def test_of_two_consents_what_both_allow_stands(
    tmp_path: Path, ours: dict[str, Any], theirs: dict[str, Any], stands: Consent
) -> None:
    with begun(tmp_path / "1.case", "A", code="G-1") as a, begun(tmp_path / "2.case", "B", code="G-2") as b:
        for case, said in ((a, ours), (b, theirs)):
            case.append("consent-changed", said)
        for both, code in ((joined(a, b), "G-1"), (joined(b, a), "G-2")):
            assert both.state.permission == stands
            assert (both.state.consent, both.state.athlete_code) == (stands.word, code)
            assert ("athlete code", "", "first") in conflicts(both)
            assert (("consent", "", "narrower") in conflicts(both)) is (ours != theirs)


def test_an_opening_without_consent_narrows_the_merged_case_too(tmp_path: Path) -> None:
    with begun(tmp_path / "1.case", "A") as a, begun(tmp_path / "2.case", "B", "not recorded") as b:
        for both in (joined(a, b), joined(b, a)):
            assert (both.state.consent, both.state.athlete_code) == ("not recorded", "G-07")
            assert conflicts(both) == [("consent", "", "narrower")]
            both.append("consent-changed", consent("given", "inquiry"))
            assert (both.state.consent, conflicts(both)) == ("given", [])


def test_a_merged_case_is_worked_on_with_the_ids_that_are_shown(a: Case, b: Case) -> None:
    for case in (a, b):
        case.append("mark-placed", mark("m1"))
    both = joined(a, b)
    both.append("mark-changed", mark("B.m1", order=7))
    assert {name: one.order for name, one in shown(both).items()} == {"m1": None, "B.m1": 7}
    both.append("mark-withdrawn", {"id": "m1"})
    assert set(shown(both)) == {"B.m1"}
    assert both.state == fold(both.events)
    assert check_chain(read_events(both.path)) == ()


def test_each_judge_undoes_their_own_in_a_merged_case(a: Case, b: Case) -> None:
    for case in (a, b):
        case.append("mark-placed", mark("m1"))
        case.append("posted-entered", {"score": "8.900" if case is a else "8.800"})
    both = joined(a, b)
    both.close()
    with open_case(both.path, "B", ticking()) as theirs:
        assert conflicts(theirs) == [("posted score", "", "first")]
        theirs.undo()
        assert conflicts(theirs) == []
        theirs.undo()
        assert set(shown(theirs)) == {"m1"}
        theirs.redo()
        assert set(shown(theirs)) == {"m1", "B.m1"}
        theirs.undo()
        with pytest.raises(CaseError, match="no change to undo"):
            theirs.undo()


def test_the_edition_a_second_case_begins_with_is_not_undone(a: Case, b: Case) -> None:
    both = joined(a, b)
    both.close()
    with open_case(both.path, "B", ticking()) as theirs, pytest.raises(CaseError, match="no change to undo"):
        theirs.undo()


def test_marks_that_name_no_recording_stay_on_their_own_cases_first(tmp_path: Path, a: Case) -> None:
    other = RECORDING | {"sha256": "e" * 64}
    with create_case(tmp_path / "o.case", "B", "G-07", "given", ticking()) as b:
        b.append("recording-cited", other)
        b.append("recording-cited", RECORDING)
        b.append("mark-placed", mark("m1", start=3))
        b.append("mark-placed", mark("m2", start=4, recording="a" * 64))
        both = joined(a, b)
    assert [one.sha256[0] for one in both.state.recordings] == ["a", "e"]
    assert {name: one.recording for name, one in shown(both).items()} == {"m1": "e" * 64, "m2": "a" * 64}


def test_three_cases_merge_in_any_grouping_to_the_same_marks(a: Case, b: Case, tmp_path: Path) -> None:
    with begun(tmp_path / "d.case", "D") as d:
        for number, case in enumerate((a, b, d)):
            case.append("mark-placed", mark("m1", order=number))
        left, right = joined(joined(a, b), d), joined(a, joined(b, d))
        wanted = {"m1": 0, "B.m1": 1, "D.m1": 2}
        assert {name: one.order for name, one in shown(left).items()} == wanted
        assert {name: one.order for name, one in shown(right).items()} == wanted
        crossed = joined(joined(a, b), joined(b, a))
        assert {name: one.order for name, one in shown(crossed).items()} == {"m1": 0, "B.m1": 1}
        for case in (left, right, crossed):
            assert check_chain(case.events) == ()


def test_work_after_crossed_merges_means_what_its_writer_saw(a: Case, b: Case) -> None:
    a.append("mark-placed", mark("m1", code="cast"))
    b.append("mark-placed", mark("m1", code="giant"))
    one, other = joined(a, b), joined(b, a)
    other.append("mark-changed", mark("m1", code="giant", order=5))  # the second judge's, as shown there
    other.append("mark-changed", mark("A.m1", code="cast", order=6))
    seen = {name: (mark.code, mark.order) for name, mark in shown(joined(one, other)).items()}
    assert seen == {"m1": ("cast", 6), "B.m1": ("giant", 5)}


def test_two_cases_under_one_letter_are_told_apart_too(tmp_path: Path) -> None:
    paths = [tmp_path / f"{number}.case" for number in range(3)]
    cases = [begun(path, "A") for path in paths]
    for case in cases:
        case.append("mark-placed", mark("m1", code=case.path.stem))
    both = joined(joined(cases[0], cases[1]), cases[2])
    assert {name: one.code for name, one in shown(both).items()} == {"m1": "0", "A.m1": "1", "A.A.m1": "2"}
    for case in cases:
        case.close()


def test_texts_and_rule_books_of_both_come_along(a: Case, b: Case) -> None:
    books = [case.keep_book(f"book of {case.author}") for case in (a, b)]
    texts = [case.keep_text(f"note of {case.author}") for case in (a, b)]
    both = joined(a, b)
    assert [both.book(one) for one in books] == ["book of A", "book of B"]
    assert [both.text(one) for one in texts] == ["note of A", "note of B"]


def test_an_existing_file_is_never_overwritten(a: Case, b: Case) -> None:
    kept = b.path.read_bytes()
    with pytest.raises(CaseError) as refused:
        merge(a, b, b.path, "C", ticking())
    assert refused.value.problems[0].code == "case-exists"
    assert b.path.read_bytes() == kept


@pytest.fixture
def merged_events(a: Case, b: Case) -> tuple[Event, ...]:
    for case in (a, b):
        for number in range(1, 4):
            case.append("mark-placed", mark(f"m{number}"))
    both = joined(a, b)
    both.append("mark-placed", mark("m9"))
    both.append("mark-placed", mark("m10"))
    return both.events


def named(events: tuple[Event, ...]) -> set[str]:
    return {problem.where for problem in check_chain(events)}


@pytest.mark.parametrize("number", range(1, 15))
def test_a_changed_event_of_a_merged_chain_is_named(merged_events: tuple[Event, ...], number: int) -> None:
    old = merged_events[number - 1]
    changed = replace(old, body=old.body.replace(b'"at":"2026', b'"at":"2027'))
    assert f"event {number}" in named((*merged_events[: number - 1], changed, *merged_events[number:]))
    body = changed.body
    forged = read_event(number, hash_of(body), body)
    assert f"event {number}" in named((*merged_events[: number - 1], forged, *merged_events[number:]))


@pytest.mark.parametrize("number", range(1, 15))
def test_a_removed_event_of_a_merged_chain_is_named(merged_events: tuple[Event, ...], number: int) -> None:
    rest = (*merged_events[: number - 1], *merged_events[number:])
    assert f"event {number}" in named(rest)
    anew = tuple(replace(event, number=place) for place, event in enumerate(rest, start=1))
    assert named(anew)


def test_any_other_order_of_a_merged_chain_is_noticed(merged_events: tuple[Event, ...]) -> None:
    def in_order(events: list[Event]) -> tuple[Event, ...]:
        return tuple(replace(event, number=place) for place, event in enumerate(events, start=1))

    first, second, rest = merged_events[:6], merged_events[6:12], merged_events[12:]
    assert named(in_order([*first, *second, *rest])) == set()
    assert named(in_order([*second, *first, *rest]))  # sound by parents alone: the sides in exchanged places
    woven = [event for pair in zip(first, second, strict=True) for event in pair]
    assert named(in_order([*woven, *rest]))
    for place in range(len(merged_events) - 1):
        swapped = list(merged_events)
        swapped[place], swapped[place + 1] = swapped[place + 1], swapped[place]
        assert named(in_order(swapped)), place


def test_a_whole_side_taken_out_is_noticed(merged_events: tuple[Event, ...]) -> None:
    rest = (*merged_events[:6], *merged_events[12:])
    assert named(tuple(replace(event, number=place) for place, event in enumerate(rest, start=1)))


def test_a_merged_case_travels_as_an_export_and_opens_again(a: Case, b: Case) -> None:
    b.append("mark-placed", mark("m1"))
    both = joined(a, b)
    again = import_events(json.loads(json.dumps(both.export())))
    assert again == both.events
    assert fold(again) == both.state


GESTURES = some.lists(
    some.tuples(some.sampled_from("ABC"), some.sampled_from(["place", "change", "posted", "undo", "merge"])),
    max_size=16,
)


@given(GESTURES, some.randoms(use_true_random=False))
@settings(max_examples=25, deadline=None)
def test_nothing_is_lost_however_cases_are_worked_on_and_merged(
    tmp_path_factory: pytest.TempPathFactory, gestures: list[tuple[str, str]], chance: Any
) -> None:
    folder = tmp_path_factory.mktemp("many")
    with ExitStack() as opened:
        cases = {one: opened.enter_context(begun(folder / f"{one}.case", one)) for one in "ABC"}
        for number, (letter, gesture) in enumerate(gestures):
            case = cases[letter]
            if gesture == "merge":
                other = cases[chance.choice([one for one in "ABC" if one != letter])]
                merge(case, other, folder / f"{number}.case", letter, ticking())
                known = {event.hash for event in (*case.events, *other.events)}
                cases[letter] = case = open_case(folder / f"{number}.case", letter, ticking())
                opened.enter_context(case)
                assert known <= {event.hash for event in case.events}
            else:
                work(case, gesture, number)
            assert check_chain(case.events) == ()
            assert case.state == fold(case.events)
            assert len({one.id for one in case.state.marks}) == len(case.state.marks)


def work(case: Case, gesture: str, number: int) -> None:
    marks = case.state.marks
    if gesture == "change" and marks:
        case.append("mark-changed", {"mark": marks[0].to_json() | {"order": number}})
    elif gesture == "posted":
        case.append("posted-entered", {"score": str(Points(number))})
    elif gesture == "undo":
        with suppress(CaseError):
            case.undo()
    else:
        case.append("mark-placed", mark(f"m{len(case.events)}"))


def test_a_merge_kept_in_a_file_that_was_tampered_with_is_refused(a: Case, b: Case) -> None:
    both = joined(a, b)
    both.close()
    database = sqlite3.connect(both.path)
    database.execute("DROP TRIGGER events_are_not_removed")
    database.execute("DELETE FROM events WHERE number = 5")
    database.commit()
    database.close()
    with pytest.raises(CaseError, match="event 5"):
        open_case(both.path, None)


def test_a_body_that_says_it_merges_one_thing_is_no_sound_chain(a: Case) -> None:
    said = {"format": "reviewer.event/1", "kind": "cases-merged", "author": "A", "payload": {}}
    body = canonical(said | {"at": "2026-03-14T09:00:00.000000Z", "parents": [a.events[-1].hash]})
    assert named((*a.events, read_event(4, hash_of(body), body))) == {"event 4"}
