"""A chain names the event that was changed, removed or moved."""

import json
import sqlite3
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from itertools import pairwise
from pathlib import Path

import pytest

from reviewer.casefile import Case, CaseError, Event, check_chain, import_events, open_case, read_events
from reviewer.casefile.chain import hash_of, read_event
from reviewer.terms.canonical import canonical

Chain = tuple[Event, ...]


@pytest.fixture
def chain(case: Case) -> tuple[Event, ...]:
    for number in range(1, 6):
        case.append("mark-placed", {"mark": {"id": f"m{number}", "kind": "element", "code": "cast"}})
    case.close()
    return case.events


def named(events: tuple[Event, ...]) -> set[str]:
    return {problem.where for problem in check_chain(events)}


def test_hashes_are_sha_256() -> None:
    # FIPS 180-4 example "abc", and the empty message (FACTS: computed)
    assert hash_of(b"abc") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert hash_of(b"") == "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"


def test_a_sound_chain_has_no_problem_and_each_event_names_the_one_before(chain: tuple[Event, ...]) -> None:
    assert check_chain(chain) == ()
    assert chain[0].parents == ()
    assert all(after.parents == (before.hash,) for before, after in pairwise(chain))
    assert all(sha256(event.body).hexdigest() == event.hash for event in chain)


def test_an_event_is_stored_as_its_canonical_bytes(chain: tuple[Event, ...]) -> None:
    said = json.loads(chain[1].body)
    assert set(said) == {"format", "kind", "author", "at", "parents", "payload"}
    assert said["format"] == "reviewer.event/1"
    assert canonical(said) == chain[1].body


@pytest.mark.parametrize("number", range(1, 7))
def test_a_changed_event_is_named(chain: tuple[Event, ...], number: int) -> None:
    changed = replace(chain[number - 1], body=chain[number - 1].body.replace(b"judge-1", b"judge-9"))
    events = (*chain[: number - 1], changed, *chain[number:])
    assert named(events) == {f"event {number}"}


@pytest.mark.parametrize("number", range(1, 6))
def test_a_changed_event_with_its_hash_made_again_is_named(chain: tuple[Event, ...], number: int) -> None:
    body = chain[number - 1].body.replace(b"judge-1", b"judge-9")
    forged = replace(chain[number - 1], body=body, hash=hash_of(body), author="judge-9")
    assert f"event {number}" in named((*chain[: number - 1], forged, *chain[number:]))


@pytest.mark.parametrize("number", range(1, 6))
def test_a_removed_event_is_named(chain: tuple[Event, ...], number: int) -> None:
    problems = check_chain((*chain[: number - 1], *chain[number:]))
    assert {problem.where for problem in problems} >= {f"event {number}"}
    assert all(problem.code == "event-removed" for problem in problems)


@pytest.mark.parametrize("number", range(2, 6))
def test_an_event_removed_and_the_rest_counted_anew_is_noticed(chain: tuple[Event, ...], number: int) -> None:
    rest = [replace(event, number=event.number - 1) for event in chain[number:]]
    assert f"event {number}" in named((*chain[: number - 1], *rest))


@pytest.mark.parametrize("number", range(1, 6))
def test_events_that_changed_places_are_named(chain: tuple[Event, ...], number: int) -> None:
    first, second = chain[number - 1], chain[number]
    swapped = (replace(second, number=number), replace(first, number=number + 1))
    assert f"event {number}" in named((*chain[: number - 1], *swapped, *chain[number + 1 :]))


def test_an_event_put_in_twice_or_hung_on_an_older_one_is_named(chain: tuple[Event, ...]) -> None:
    assert "event 3" in named((*chain[:4], chain[2], *chain[4:]))
    said = json.loads(chain[5].body) | {"parents": [chain[2].hash]}
    body = canonical(said)
    assert "event 5" in named((*chain[:5], read_event(6, hash_of(body), body)))


def removed(chain: Chain, number: int) -> Chain:
    return (*chain[: number - 1], *chain[number:])


def moved_to_the_end(chain: Chain, number: int) -> Chain:
    return (*removed(chain, number), chain[number - 1])


def moved_up(chain: Chain, number: int) -> Chain:
    return (*chain[: number - 2], chain[number - 1], chain[number - 2], *chain[number:])


def doubled(chain: Chain, number: int) -> Chain:
    return (*chain[:number], *chain[number - 1 :])


def put_in_again(chain: Chain, number: int) -> Chain:
    """Once more at its place, the rest counted on."""
    return tuple(replace(event, number=place) for place, event in enumerate(doubled(chain, number), start=1))


@pytest.mark.parametrize("number", range(2, 5))
@pytest.mark.parametrize(
    ("mended", "code", "shift"),
    [
        (removed, "event-removed", 0),
        (moved_to_the_end, "event-moved", 0),
        (moved_up, "event-moved", 0),
        (doubled, "event-doubled", 0),
        (put_in_again, "event-doubled", 1),
    ],
)
def test_an_event_is_named_once_and_as_what_happened_to_it(
    chain: Chain, mended: Callable[[Chain, int], Chain], code: str, shift: int, number: int
) -> None:
    found = check_chain(mended(chain, number))
    assert [(one.code, one.where) for one in found] == [(code, f"event {number + shift}")]


def test_several_events_removed_in_a_row_are_named_together(chain: Chain) -> None:
    found = check_chain((*chain[:2], *chain[5:]))
    assert [(one.where, str(one.message)) for one in found] == [("events 3 to 5", "They were removed.")]


def test_the_opening_removed_is_named_once(chain: Chain) -> None:
    assert [one.where for one in check_chain(chain[1:])] == ["event 1"]


@pytest.mark.parametrize(
    "spoil",
    [
        lambda said: canonical(said).replace(b",", b", ", 1),
        lambda said: canonical(said).replace(b"judge-1", b"\\ud800"),
        lambda said: canonical(said).replace(b"judge-1", "ä\\ud800".encode()),
        lambda said: canonical(said).replace(b"judge-1", b"\\u0061"),
        lambda said: canonical(said).replace(b'"cast"', b'"cast","x":1.5'),
        lambda said: canonical(said).replace(b'"cast"', b'"cast","code":"cast"'),
        lambda said: canonical(said | {"extra": None}),
        lambda said: canonical(said | {"format": "reviewer.event/2"}),
        lambda said: canonical(said | {"at": "yesterday"}),
        lambda said: canonical(said | {"kind": "mark-invented"}),
        lambda said: canonical(said | {"payload": {"mark": {"id": "m9"}}}),
        lambda said: canonical(said | {"parents": "none"}),
        lambda said: b'{"kind":' + b"[" * 100_000,
        lambda said: b"\xff\xfe",
        lambda said: b"",
        lambda said: b"7",
    ],
)
def test_a_body_that_is_no_sound_event_is_named_whatever_its_hash(
    chain: tuple[Event, ...], spoil: Callable[[dict[str, object]], bytes]
) -> None:
    body = spoil(json.loads(chain[5].body))
    document = {
        "format": "reviewer.case/1",
        "events": [{"number": one.number, "hash": one.hash, "body": one.body.decode()} for one in chain[:5]]
        + [{"number": 6, "hash": hash_of(body), "body": body.decode("utf-8", "replace")}],
    }
    assert named(import_events(document)) == {"event 6"}


def test_a_merge_has_two_parents_and_nothing_else_has(chain: tuple[Event, ...]) -> None:
    def event(number: int, *parents: Event, **more: object) -> Event:
        said = json.loads(chain[1].body) | {"parents": [one.hash for one in parents], "author": f"j{number}"}
        body = canonical(said | more)
        return read_event(number, hash_of(body), body)

    left, right = event(3, chain[1]), event(4, chain[1])
    merge: dict[str, object] = {"kind": "cases-merged", "payload": {}}
    assert check_chain((*chain[:2], left, right, event(5, left, right, **merge))) == ()
    assert named((*chain[:2], left, right, event(5, left, right))) == {"event 5"}
    assert named((*chain[:2], left, right, event(5, right, left, **merge))) == {"event 3"}
    assert named((*chain[:2], left, event(4, left, **merge))) == {"event 4"}
    assert named((*chain[:2], left, event(4, left, left, **merge))) == {"event 4"}


def test_no_event_at_all_is_a_problem() -> None:
    assert named(()) == {"event 1"}


def test_an_export_is_the_chain_again(case: Case) -> None:
    case.append("mark-placed", {"mark": {"id": "m1", "kind": "element", "code": "häng-kippe"}})
    document = json.loads(json.dumps(case.export()))
    assert document["format"] == "reviewer.case/1"
    assert import_events(document) == case.events
    assert check_chain(import_events(document)) == ()


@pytest.mark.parametrize("document", [[], {}, {"format": "reviewer.case/2", "events": []}, {"events": 3}])
def test_what_is_no_export_is_refused(document: object) -> None:
    with pytest.raises(CaseError):
        import_events(document)  # type: ignore[arg-type]


def test_entries_of_an_export_may_be_anything(chain: tuple[Event, ...]) -> None:
    whole = {"number": 1, "hash": chain[0].hash, "body": chain[0].body.decode()}
    odd = [
        None,
        3,
        {},
        {"number": "2", "hash": None, "body": 5},
        {"number": True, "hash": "h", "body": "\ud800"},
    ]
    events = import_events({"format": "reviewer.case/1", "events": [whole, *odd]})
    assert len(events) == 6
    assert check_chain(events)


def test_a_tampered_file_is_read_and_its_event_is_named(case: Case, chain: tuple[Event, ...]) -> None:
    database = sqlite3.connect(case.path)
    database.execute("DROP TRIGGER events_are_not_rewritten")
    database.execute("UPDATE events SET body = CAST(replace(body, 'cast', 'giant') AS BLOB) WHERE number = 4")
    database.commit()
    database.close()
    assert named(read_events(case.path)) == {"event 4"}
    with pytest.raises(CaseError, match="event 4"):
        open_case(case.path, None)


def test_a_row_taken_out_of_the_file_is_named(case: Case, chain: tuple[Event, ...], tmp_path: Path) -> None:
    database = sqlite3.connect(case.path)
    database.execute("DROP TRIGGER events_are_not_removed")
    database.execute("DELETE FROM events WHERE number = 3")
    database.commit()
    database.close()
    assert named(read_events(case.path)) == {"event 3"}
