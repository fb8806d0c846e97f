"""Tasks on their way to an auditor and home again: what travels, what is refused, and what is made of it."""

import json
import shutil
import sqlite3
from hashlib import sha256
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import bagit
import pytest
from hypothesis import HealthCheck, settings
from hypothesis import given as given_steps
from hypothesis import strategies as st

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.casefile import check_chain, read_books, read_events, write_copy
from reviewer.exchange import list_files
from reviewer.exchange.meets import read_meet
from reviewer.terms.canonical import canonical
from reviewer.terms.problems import DocumentError, ReviewerError
from tests.actions.small_meet import TODAY, back, begun, given, mark, out

CLIP = Path(__file__).resolve().parents[2] / "sample_clips" / "off-axis-fall.mp4"


def kinds(case: Path) -> list[str]:
    return [event.kind for event in read_events(case)]


def heads(folder: Path) -> dict[str, str]:
    """The last event of each of a meet's own cases."""
    return {path.name: read_events(path)[-1].hash for path in sorted((folder / "cases").glob("*.case"))}


def states(folder: Path) -> dict[str, str]:
    return {f"{one['start']}{one['auditor']}": one["state"] for one in actions.meet_queue(folder)["tasks"]}


def outcomes(folder: Path, bag: Path, author: str = "A") -> dict[str, str]:
    found = actions.receive(folder, bag, author=author).document
    return {one["start"]: one["outcome"] for one in found["cases"]}


def listed_anew(bag: Path) -> Path:
    """Make the manifests of a bag that was tampered with anew."""
    list_files(bag, {"External-Description": "made anew"})
    return bag


def refused(folder: Path, bag: Path) -> tuple[str, ...]:
    """Codes of what is refused; nothing of the meet has changed then."""
    before = (heads(folder), (folder / "meet.json").read_bytes(), sorted(folder.rglob("*")))
    with pytest.raises(ReviewerError) as fault:
        actions.receive(folder, bag, author="A")
    assert (heads(folder), (folder / "meet.json").read_bytes(), sorted(folder.rglob("*"))) == before
    return tuple(one.code for one in fault.value.problems)


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    """Two routines, both given to K, who sees what was posted."""
    folder = begun(tmp_path / "meet", 2)
    given(folder, "K")
    return folder


@pytest.fixture
def blind(tmp_path: Path) -> Path:
    """Two routines, each given to K and L, who are blind of each other."""
    folder = begun(tmp_path / "meet", 2)
    given(folder, "KL", double=2)
    return folder


def test_an_open_task_is_the_meets_case_and_a_blind_one_holds_nothing_that_anybody_said(
    meet: Path, tmp_path: Path
) -> None:
    tasks = out(meet, "K", tmp_path)
    assert read_events(tasks / "1.case") == read_events(meet / "cases" / "1.case")
    other = begun(tmp_path / "other", 1)
    with actions.open_case(other / "cases" / "1.case", author="A") as audit:
        actions.file_inquiry(audit, asked_by="coach", about="falls")
    mark(other / "cases" / "1.case", "A")
    given(other, "L", blind=True)
    alone = out(other, "L", tmp_path) / "1.case"
    assert kinds(alone) == ["case-opened", "rule-book-chosen", "second-begun"]
    assert b"9.550" not in alone.read_bytes()
    with actions.open_case(alone, author="L") as audit:
        assert (audit.letter, audit.posted, audit.marks) == ("L", None, ())


def test_no_name_word_or_path_travels_either_way(meet: Path, tmp_path: Path) -> None:
    secret = "Somebody said so"
    with actions.open_case(meet / "cases" / "1.case", author="A") as audit:
        actions.write_note(audit, secret)
        audit.case.remember_place("0" * 64, Path("/home/somebody/1.mp4"))
    tasks = out(meet, "K", tmp_path)
    with actions.open_case(tasks / "1.case", author="K") as audit:
        actions.write_note(audit, secret)
    home = actions.pack_return(mark(tasks / "1.case", "K").parent, tmp_path / "home", today=TODAY)
    assert [one["texts_left"] for one in home.document["tasks"]] == [1]
    for bag in (tmp_path / "bag-K", tmp_path / "home"):
        held = b"".join(path.read_bytes() for path in bag.rglob("*") if path.is_file())
        assert secret.encode() not in held
        assert b"/home/somebody" not in held
        assert str(tmp_path).encode() not in held
    actions.receive(meet, tmp_path / "home", author="A")
    with actions.open_case(meet / "cases" / "1.case", author=None) as audit:
        assert secret in {audit.case.text(digest) for digest, _ in audit.state.notes}


def test_a_second_reader_finds_both_bags_whole(meet: Path, tmp_path: Path) -> None:
    """By the library ``bagit``, which reads RFC 8493 as well."""
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    for bag in (tmp_path / "bag-K", back(tasks, "home")):
        assert bagit.Bag(str(bag)).validate()


def test_recordings_go_by_plain_names_and_lie_beside_the_cases(tmp_path: Path) -> None:
    film = tmp_path / "Somebodys Name.mp4"
    shutil.copyfile(CLIP, film)
    meet = begun(tmp_path / "meet", 2, recording=film)
    given(meet, "K", blind=True)
    sent = actions.send(meet, "K", tmp_path / "bag", today=TODAY)
    assert sent["recordings"] == 2
    assert not [path for path in (tmp_path / "bag").rglob("*") if "Somebody" in path.name]
    film.unlink()
    actions.unpack_tasks(tmp_path / "bag", tmp_path / "tasks")
    with actions.open_case(tmp_path / "tasks" / "2.case", author="K") as audit:
        assert audit.recording_path == tmp_path / "tasks" / "2-1.mp4"
    again = actions.send(meet, "K", tmp_path / "light", today=TODAY, recordings=False, again=True)
    assert (again["recordings"], [one["start"] for one in again["tasks"]]) == (0, ["1", "2"])


def test_recordings_that_are_gone_are_all_named_before_anything_is_packed(tmp_path: Path) -> None:
    film = tmp_path / "clip.mp4"
    shutil.copyfile(CLIP, film)
    meet = begun(tmp_path / "meet", 2, recording=film)
    given(meet, "K")
    film.unlink()
    with pytest.raises(AuditError) as fault:
        actions.send(meet, "K", tmp_path / "bag", today=TODAY)
    assert [one.code for one in fault.value.problems] == ["no-recording"] * 2
    assert states(meet) == {"1K": "to do", "2K": "to do"}
    assert not (tmp_path / "bag").exists()


def test_a_file_put_into_a_bag_and_one_taken_out_are_named_as_such(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 2)
    given(meet, "K")
    bag = back(mark(out(meet, "K", tmp_path) / "1.case", "K").parent, "home")
    (bag / "data" / "more.txt").write_text("more", "utf-8")
    (bag / "data" / "rule-book.yaml").unlink()
    with pytest.raises(DocumentError) as fault:
        actions.receive(meet, bag, author="A")
    said = {one.where: str(one.message) for one in fault.value.problems}
    assert said == {
        "data/more.txt": "It is there, and not listed: it was put in afterwards.",
        "data/rule-book.yaml": "It is listed, and not there.",
    }


def test_nothing_leaves_without_consent_and_all_are_named_at_once(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 3, consent="not recorded")
    with actions.open_case(meet / "cases" / "2.case", author="A") as audit:
        actions.give_consent(audit, ["inquiry"], None, TODAY)
    given(meet, "K")
    with pytest.raises(AuditError) as fault:
        actions.send(meet, "K", tmp_path / "bag", today=TODAY)
    (lacking,) = fault.value.problems
    assert lacking.where == "1, 3"
    assert f"reviewer meet consent {meet} 1 3 --for inquiry" in str(lacking.remedy)
    assert not (tmp_path / "bag").exists()


def test_what_was_lost_goes_again_as_it_went(blind: Path, tmp_path: Path) -> None:
    actions.send(blind, "K", tmp_path / "first", today=TODAY)
    with pytest.raises(DocumentError, match="--again"):
        actions.send(blind, "K", tmp_path / "second", today=TODAY)
    actions.send(blind, "K", tmp_path / "second", today=TODAY, again=True)
    for path in (tmp_path / "first").rglob("*.*"):
        if path.is_file():
            assert (
                path.read_bytes() == (tmp_path / "second" / path.relative_to(tmp_path / "first")).read_bytes()
            )


def test_an_auditor_without_tasks_is_refused_with_those_there_are(meet: Path, tmp_path: Path) -> None:
    with pytest.raises(DocumentError, match="Name one of: K"):
        actions.send(meet, "Q", tmp_path / "bag", today=TODAY)


def test_a_case_that_is_not_there_yet_is_named(meet: Path, tmp_path: Path) -> None:
    (meet / "cases" / "2.case").unlink()
    with pytest.raises(DocumentError, match="no case of this routine yet"):
        actions.send(meet, "K", tmp_path / "bag", today=TODAY)


def test_what_is_not_done_stays_with_the_auditor(blind: Path, tmp_path: Path) -> None:
    tasks = out(blind, "K", tmp_path)
    with pytest.raises(AuditError, match="Nothing was marked in it"):
        back(tasks, "home")
    mark(tasks / "1.case", "K")
    mark(tasks / "2.case", "K", seal=True)
    found = actions.pack_return(tasks, tmp_path / "home", today=TODAY)
    assert [one["start"] for one in found.document["tasks"]] == ["2"]
    assert [(one.code, one.where) for one in found.left] == [("not-sealed", str(tasks / "1.case"))]


def test_what_is_to_stay_as_it_was_comes_home_by_name(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    found = actions.pack_return(tasks, tmp_path / "home", today=TODAY, unchanged=["2"])
    assert [one.where for one in found.left] == [str(tasks / "1.case")]
    assert outcomes(meet, tmp_path / "home") == {"2": "nothing new"}
    assert states(meet) == {"1K": "sent", "2K": "home"}


def test_a_case_that_rested_at_home_goes_on_from_there(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    assert outcomes(meet, back(tasks, "home")) == {"1": "taken"}
    assert read_events(meet / "cases" / "1.case") == read_events(tasks / "1.case")
    assert states(meet) == {"1K": "home", "2K": "sent"}


def test_a_bag_that_comes_twice_says_nothing_new(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    actions.receive(meet, home, author="A")
    before = heads(meet)
    assert outcomes(meet, home) == {"1": "nothing new"}
    assert heads(meet) == before


def test_an_older_return_after_a_newer_one_changes_nothing(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    older = back(tasks, "older")
    with actions.open_case(tasks / "1.case", author="K") as audit:
        actions.write_note(audit, "seen again")
    assert outcomes(meet, back(tasks, "newer")) == {"1": "taken"}
    before, queue = heads(meet), read_meet(meet).queue
    assert outcomes(meet, older) == {"1": "older"}
    assert (heads(meet), read_meet(meet).queue) == (before, queue)


def test_a_case_that_went_on_in_both_places_is_merged(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    with actions.open_case(meet / "cases" / "1.case", author="A") as audit:
        actions.write_note(audit, "at home")
    found = actions.receive(meet, back(tasks, "home"), author="A").document
    assert [one["outcome"] for one in found["cases"]] == ["merged"]
    assert found["cases"][0]["merge"]["conflicts"] == []
    events = read_events(meet / "cases" / "1.case")
    assert events[-1].kind == "cases-merged"
    assert check_chain(events) == ()
    with actions.open_case(meet / "cases" / "1.case", author=None) as audit:
        assert len(audit.marks) == 5
        assert audit.case.text(audit.state.notes[0][0]) == "at home"
    with actions.open_case(tasks / "1.case", author="K") as audit:
        actions.write_note(audit, "and more")
    assert outcomes(meet, back(tasks, "more")) == {"1": "merged"}


@given_steps(st.lists(st.sampled_from(["here", "there", "return", "older"]), min_size=2, max_size=7))
@settings(deadline=None, max_examples=12, suppress_health_check=[HealthCheck.too_slow])
def test_nothing_that_was_done_in_either_place_is_lost(steps: list[str]) -> None:
    with TemporaryDirectory() as place:
        folder = Path(place)
        meet = begun(folder / "meet", 1)
        given(meet, "K")
        tasks = out(meet, "K", folder)
        mark(tasks / "1.case", "K")
        bags = [back(tasks, "first")]
        ours = meet / "cases" / "1.case"
        for number, step in enumerate([*steps, "return"]):
            if step in ("here", "there"):
                case, author = (ours, "A") if step == "here" else (tasks / "1.case", "K")
                with actions.open_case(case, author=author) as audit:
                    actions.write_note(audit, f"note {number}")
                continue
            before = {event.hash for event in read_events(ours)}
            bags += [back(tasks, f"home-{number}")] if step == "return" else []
            actions.receive(meet, bags[-1 if step == "return" else 0], author="A")
            assert before <= {event.hash for event in read_events(ours)}
        known = {event.hash for event in read_events(ours)}
        assert {event.hash for event in read_events(tasks / "1.case")} <= known
        assert check_chain(read_events(ours)) == ()
        assert states(meet) == {"1K": "home"}


def test_two_blind_sheets_come_home_apart_and_can_be_settled(blind: Path, tmp_path: Path) -> None:
    for auditor in "KL":
        tasks = out(blind, auditor, tmp_path)
        mark(tasks / "1.case", auditor, seal=True)
        assert outcomes(blind, back(tasks, f"home-{auditor}")) == {"1": "taken"}
    sheets = [blind / "audited" / f"1.{auditor}.case" for auditor in "KL"]
    (one,) = (one for one in actions.meet_queue(blind)["doubles"] if one["start"] == "1")
    assert one["both_home"]
    assert all(str(sheet) in command for sheet in sheets for command in one["commands"])
    assert kinds(blind / "cases" / "1.case")[-1] == "posted-sheet-entered"
    with actions.begin_settlement(*sheets, blind / "audited" / "1.settled.case", "C") as audit:
        assert actions.settlement_document(audit)["open"] == 0
    (one,) = (one for one in actions.meet_queue(blind)["doubles"] if one["start"] == "1")
    assert one["settled"] == str(blind / "audited" / "1.settled.case")


def test_two_different_sheets_of_one_blind_auditor_are_not_made_one(blind: Path, tmp_path: Path) -> None:
    tasks = out(blind, "K", tmp_path)
    shutil.copytree(tasks, tmp_path / "tasks-other")
    mark(tasks / "1.case", "K", seal=True)
    mark(tmp_path / "tasks-other" / "1.case", "K", seal=True)
    actions.receive(blind, back(tasks, "home"), author="A")
    assert refused(blind, back(tmp_path / "tasks-other", "other")) == ("two-sheets",)


def test_consent_withdrawn_at_home_keeps_that_case_out_and_lets_the_rest_in(
    blind: Path, tmp_path: Path
) -> None:
    tasks = out(blind, "K", tmp_path)
    for name in "12":
        mark(tasks / f"{name}.case", "K", seal=True)
    with actions.open_case(blind / "cases" / "2.case", author="A") as audit:
        actions.withdraw_consent(audit)
    found = actions.receive(blind, back(tasks, "home"), author="A")
    assert [one["start"] for one in found.document["cases"]] == ["1"]
    assert [(one.code, one.where) for one in found.refused] == [("consent-withdrawn", "2.case")]
    assert not (blind / "audited" / "2.K.case").exists()
    assert (states(blind)["1K"], states(blind)["2K"]) == ("home", "sent")


def test_the_rest_of_a_bag_is_taken_by_name_where_one_case_cannot_be(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    for name in "12":
        mark(tasks / f"{name}.case", "K")
    mark(meet / "cases" / "1.case", "A", seal=True)
    home = back(tasks, "home")
    assert refused(meet, home) == ("blind-sheet",)
    with pytest.raises(AuditError, match="Name one of: 1, 2"):
        actions.receive(meet, home, author="A", only=["3"])
    found = actions.receive(meet, home, author="A", only=["2"]).document
    assert [one["start"] for one in found["cases"]] == ["2"]


def test_a_byte_that_changed_on_the_way_is_named_and_nothing_taken(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    case = home / "data" / "cases" / "1.case"
    held = bytearray(case.read_bytes())
    held[len(held) // 2] ^= 1
    case.write_bytes(held)
    with pytest.raises(DocumentError) as fault:
        actions.receive(meet, home, author="A")
    assert [one.where for one in fault.value.problems] == ["data/cases/1.case"]
    assert refused(meet, home) == ("bag-damaged",)


def altered(case: Path, number: int) -> None:
    """Give an event other bytes, and leave its hash."""
    database = sqlite3.connect(case)
    database.execute("DROP TRIGGER events_are_not_rewritten")
    database.execute(
        "UPDATE events SET body = CAST(replace(body, '0.100', '0.300') AS BLOB) WHERE number = ?", [number]
    )
    database.commit()
    database.close()


def test_a_case_tampered_with_under_a_new_manifest_is_named_by_its_event(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    for name in "12":
        mark(tasks / f"{name}.case", "K")
    home = back(tasks, "home")
    case = home / "data" / "cases" / "1.case"
    number = next(event.number for event in read_events(case) if b'"code":"arms-bent"' in event.body)
    altered(case, number)
    listed_anew(home)
    with pytest.raises(AuditError) as fault:
        actions.receive(meet, home, author="A")
    assert [(one.code, one.where) for one in fault.value.problems] == [
        ("event-changed", f"data/cases/1.case: event {number}")
    ]
    assert refused(meet, home) == ("event-changed",)


def test_a_rule_book_tampered_with_is_named(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    database = sqlite3.connect(home / "data" / "cases" / "1.case")
    database.execute("UPDATE books SET text = replace(text, '0.300', '0.900')")
    database.commit()
    database.close()
    assert refused(meet, listed_anew(home)) == ("book-changed",)


def test_a_case_of_other_origin_is_named_and_refused(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    for name in "12":
        mark(tasks / f"{name}.case", "K")
    home = back(tasks, "home")
    shutil.copyfile(home / "data" / "cases" / "2.case", home / "data" / "cases" / "1.case")
    assert refused(meet, listed_anew(home)) == ("other-case",)


def test_a_chain_made_anew_from_the_first_event_is_not_what_was_sent(meet: Path, tmp_path: Path) -> None:
    """Its hashes fit, so the chain is sound; it lacks the very event that the case was sent with."""
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    case = home / "data" / "cases" / "1.case"
    events, books = read_events(case), read_books(case)
    forged, before = [], ""
    for event in events:
        said: dict[str, Any] = json.loads(event.body)
        said["author"], said["parents"] = "Z", [before] if before else []
        body = canonical(said)
        before = sha256(body).hexdigest()
        forged.append(type(event)(event.number, before, body))
    case.unlink()
    write_copy(case, forged, books)
    assert check_chain(read_events(case)) == ()
    assert refused(meet, listed_anew(home)) == ("other-case",)


def test_a_bag_of_another_meet_is_refused(meet: Path, tmp_path: Path) -> None:
    out(meet, "K", tmp_path)
    other = begun(tmp_path / "elsewhere" / "meet", 2)
    given(other, "K")
    tasks = out(other, "K", tmp_path / "elsewhere")
    mark(tasks / "1.case", "K")
    assert refused(meet, back(tasks, "home")) == ("other-case",)


def test_a_bag_of_an_auditor_who_was_sent_nothing_is_refused(meet: Path, tmp_path: Path) -> None:
    other = begun(tmp_path / "elsewhere" / "meet", 1)
    given(other, "Q")
    tasks = out(other, "Q", tmp_path / "elsewhere")
    mark(tasks / "1.case", "Q")
    assert refused(meet, back(tasks, "home")) == ("not-sent",)


def test_an_unsealed_blind_sheet_is_refused_at_home_too(blind: Path, tmp_path: Path) -> None:
    tasks = out(blind, "K", tmp_path)
    mark(tasks / "1.case", "K", seal=True)
    home = back(tasks, "home")
    case = home / "data" / "cases" / "1.case"
    events, books = read_events(case), read_books(case)
    case.unlink()
    write_copy(case, events[:-1], books)
    assert refused(blind, listed_anew(home)) == ("not-sealed",)


def test_what_is_no_return_is_refused(meet: Path, tmp_path: Path) -> None:
    out(meet, "K", tmp_path)
    assert refused(meet, tmp_path / "bag-K") == ("no-queue",)
    assert refused(meet, tmp_path / "nowhere") == ("not-a-bag",)
    assert refused(meet, meet) == ("not-a-bag",)
    with actions.open_case(meet / "cases" / "1.case", author=None) as audit:
        actions.pack_case(audit, tmp_path / "one", use="inquiry", today=TODAY, report=False)
    assert refused(meet, tmp_path / "one") == ("no-queue",)


@pytest.mark.parametrize(
    "said",
    [
        "[" * 1000,
        "{}",
        '{"way": "home", "auditor": "Anna", "tasks": []}',
        '{"way": "home", "auditor": "K", "tasks": []}',
        '{"way": "home", "auditor": "K", "tasks": [{"start": "../1", "recordings": []}]}',
    ],
)
def test_a_list_of_tasks_that_is_none_is_named(meet: Path, tmp_path: Path, said: str) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    (home / "data" / "queue.json").write_text(said, "utf-8")
    assert refused(meet, listed_anew(home)) == ("no-queue",)


def test_a_file_that_the_list_names_and_the_bag_lacks_is_named(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    (home / "data" / "cases" / "1.case").unlink()
    assert refused(meet, listed_anew(home)) == ("no-file",)


def test_a_bag_packed_as_one_file_is_read_too(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    archive = Path(shutil.make_archive(str(home), "zip", home.parent, home.name))
    assert outcomes(meet, archive) == {"1": "taken"}


def test_a_case_that_somebody_writes_to_is_not_replaced(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    with (
        actions.open_case(meet / "cases" / "1.case", author="A"),
        pytest.raises(ReviewerError, match="only one may"),
    ):
        actions.receive(meet, home, author="A")
    assert outcomes(meet, home) == {"1": "taken"}


def test_a_bag_is_not_laid_over_what_is_there(meet: Path, tmp_path: Path) -> None:
    tasks = out(meet, "K", tmp_path)
    with pytest.raises(AuditError, match="already"):
        actions.unpack_tasks(tmp_path / "bag-K", tasks)
    with pytest.raises(AuditError, match="already"):
        actions.send(meet, "K", tmp_path / "bag-K", today=TODAY, again=True)


def test_such_a_bag_is_not_taken_for_a_packed_case(meet: Path, tmp_path: Path) -> None:
    out(meet, "K", tmp_path)
    with pytest.raises(AuditError, match="reviewer meet unpack"):
        actions.verify(tmp_path / "bag-K")


def test_a_signature_says_from_whom_a_bag_comes_and_breaks_when_it_is_made_anew(
    meet: Path, tmp_path: Path
) -> None:
    for name in ("k.pem", "other.pem"):
        actions.make_key(tmp_path / name)
    tasks = out(meet, "K", tmp_path)
    mark(tasks / "1.case", "K")
    home = back(tasks, "home")
    wanted = tmp_path / "k.public.pem"
    with pytest.raises(AuditError, match="no signature by this key"):
        actions.receive(meet, home, author="A", signer=wanted)
    signer = actions.sign_bag(home, tmp_path / "k.pem")["signer"]
    with pytest.raises(AuditError, match="no signature by this key"):
        actions.receive(meet, home, author="A", signer=tmp_path / "other.public.pem")
    shutil.copytree(home, tmp_path / "anew")
    assert refused(meet, listed_anew(tmp_path / "anew")) == ("signature",)
    found = actions.receive(meet, home, author="A", signer=wanted).document
    assert (found["signers"], found["cases"][0]["outcome"]) == ([signer], "taken")
