"""``reviewer rules`` as a user runs it: answers, exit codes, and each fault with its remedy."""

import json
import sys
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer.cli import run

SMALL = Path(__file__).parent / "small-book.yaml"
DATED = ("--since", "2027-01-01", "--source", "from memory")
Rules = Callable[..., tuple[int, str, str]]


@pytest.fixture
def rules(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Rules:
    def call(*words: str | Path) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["reviewer", "rules", *map(str, words)])
        code = run(lambda *_: 0)
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.fixture
def own(tmp_path: Path) -> Path:
    path = tmp_path / "own.yaml"
    path.write_bytes(SMALL.read_bytes())
    return path


def document(found: tuple[int, str, str], wanted: int = 0) -> Any:
    assert (found[0], found[2]) == (wanted, "")
    return json.loads(found[1])


def test_the_list_tells_apparatus_and_dates(rules: Rules) -> None:
    code, out, _ = rules("list")
    assert code == 0
    assert "demo-bars-2-previous" in out
    assert "uneven bars" in out
    assert "from 20" in out


def test_a_book_is_shown_in_the_order_of_judging_within_a_hundred_columns(rules: Rules) -> None:
    code, out, _ = rules("show", "demo-bars-2")
    assert code == 0
    assert max(map(len, out.splitlines())) <= 100
    chapters = [
        "START VALUE",
        "REQUIREMENTS",
        "ELEMENTS",
        "MOUNT AND DISMOUNT",
        "CREDIT WITHHELD",
        "CAST ANGLE",
    ]
    chapters += [
        "EXECUTION",
        "LANDINGS, CAPS AND WHAT A FALL SWALLOWS",
        "PANEL",
        "NEUTRAL DEDUCTIONS",
        "COURTESY",
    ]
    places = [out.index(f"\n{chapter}\n") for chapter in chapters]
    assert places == sorted(places)


def test_no_shipped_book_is_wider_than_a_hundred_columns(rules: Rules) -> None:
    _, found, _ = rules("list")
    for book in document(rules("list", "--json"))["rule_books"]:
        assert book["id"] in found
        for words in (("show", book["id"]), ("compare", "demo-bars-2", book["id"])):
            assert max(map(len, rules(*words)[1].splitlines())) <= 100


def test_every_clause_is_shown_with_its_id_date_and_source(rules: Rules) -> None:
    book = document(rules("show", "demo-bars-2", "--json"))
    _, out, _ = rules("show", "demo-bars-2")
    assert book["format"] == "reviewer.rules/1"
    assert all(clause["id"] in out for clause in book["clauses"])
    assert [one["id"] for one in book["clauses"] if not (one["since"] and one["source"])] == []
    shown = [id for chapter in book["chapters"] for id in chapter["clauses"]]
    assert sorted(shown) == sorted(one["id"] for one in book["clauses"])
    assert sum(book["rests_on"].values()) == len(book["clauses"])


def test_an_open_reading_is_shown_with_question_and_both_readings(rules: Rules, tmp_path: Path) -> None:
    rules("new", tmp_path / "new.yaml")
    _, out, _ = rules("show", tmp_path / "new.yaml")
    text = " ".join(out.split())
    assert "Left open: The same restricted element twice: each time, or once?" in text
    assert "Stated here: Each restricted element takes 0.500 points from the start value, the same" in text
    assert "again only once." in text
    clauses = document(rules("show", tmp_path / "new.yaml", "--json"))["clauses"]
    (open_,) = [one["left_open"] for one in clauses if one["left_open"]]
    assert set(open_) == {"question", "stated", "other"}


def test_each_value_is_said_in_words_with_the_names_of_the_book(rules: Rules) -> None:
    _, out, _ = rules("show", SMALL)
    assert "Together at most 0.400 points: Small step." in out
    assert "Slight hop" in out
    assert "up to 0.100" in out
    assert "Reached at 45 degrees below horizontal or higher" in out
    assert "The limit itself is included." in out


def test_two_seasons_differ_and_one_does_not_differ_from_itself(rules: Rules) -> None:
    """Common practice, no source: a medium step rose from 0.10 to 0.15."""
    code, out, _ = rules("compare", "demo-bars-2-previous", "demo-bars-2")
    assert code == 1
    assert "amount: 0.100 points -> 0.150 points" in out
    assert "only words, dates or sources" in out
    same = document(rules("compare", "demo-bars-2", "demo-bars-2", "--json"))
    assert same["same"] is True
    found = document(rules("compare", "demo-bars-2-previous", "demo-bars-2", "--json"), wanted=1)
    assert found["format"] == "reviewer.rules-compare/1"
    (step,) = [one for one in found["changed"] if one["id"] == "fault.medium-step"]
    assert step["values_changed"] is True


def test_a_new_book_passes_the_check(rules: Rules, tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    code, out, _ = rules("new", path)
    assert (code, str(path) in out) == (0, True)
    assert rules("check", path)[0] == 0


def test_a_book_is_copied_amended_added_to_and_taken_from(rules: Rules, tmp_path: Path) -> None:
    path = tmp_path / "mine.yaml"
    (tmp_path / "clause.yaml").write_text(
        "id: extra-casts\ntitle: Extra casts\nrule: note\nsince: 2026-08-01\nsource: from memory\n"
        "says: Nothing.\n"
    )
    assert rules("copy", SMALL, path, "--id", "mine", "--title", "Mine")[0] == 0
    code, out, _ = rules("amend", path, "fault.hop", "up-to=", "amount=0.050 points", *DATED)
    assert code == 0
    assert "up-to: 0.100 points -> (not said)" in out
    assert rules("amend", path, "steps-together", "faults=[small-step, hop]", *DATED)[0] == 0
    assert rules("amend", path, "steps-together", "faults=hop", "faults=small-step", *DATED)[0] == 0
    assert rules("amend-head", path, "season=2027-28")[0] == 0
    assert rules("add", path, tmp_path / "clause.yaml", "--after", "start-value")[0] == 0
    assert rules("remove", path, "extra-swings")[0] == 0
    found = document(rules("compare", SMALL, path, "--json"), wanted=1)
    assert [one["id"] for one in found["added"]] == ["extra-casts"]
    assert [one["id"] for one in found["taken_away"]] == ["extra-swings"]
    assert {one["id"] for one in found["changed"]} == {"fault.hop", "steps-together"}
    assert {one["field"] for one in found["head"]} == {"id", "title", "season"}
    assert rules("check", path)[0] == 0


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("show", "no-such-book"), "demo-bars-2"),
        (("show", "FOLDER"), "folder"),
        (("compare", "demo-bars-2", "FOLDER"), "folder"),
        (("new", "FOLDER"), "folder"),
        (("new", "OWN"), "there already"),
        (("new", "FOLDER/nowhere/own.yaml"), "cannot be written"),
        (("copy", "demo-bars-2", "OWN", "--id", "own"), "there already"),
        (("amend", "demo-bars-2", "fault.hop", "up-to=0.200 points", *DATED), "rules copy demo-bars-2"),
        (("amend", "OWN", "fault.hopp", "up-to=0.200 points", *DATED), "fault.hop"),
        (("amend", "OWN", "fault.hop", "upto=0.200 points", *DATED), "up-to"),
        (("amend", "OWN", "fault.hop", "up-to", *DATED), "FIELD=VALUE"),
        (("amend", "OWN", "elements.restricted", "elements.giants.name=Giants", *DATED), "giant"),
        (("amend", "OWN", "fault.hop", "up-to=0.200 points"), "--since"),
        (("amend-head", "OWN", "seasons=2027-28"), "seasons"),
        (("add", "OWN", "FOLDER/missing.yaml"), "missing.yaml"),
        (("add", "OWN", "LATIN"), "UTF-8"),
        (("show", "LATIN"), "UTF-8"),
        (("remove", "OWN", "fault.small-step"), "small-step"),
    ],
    ids=lambda value: " ".join(value) if isinstance(value, tuple) else None,
)
def test_each_fault_is_told_with_its_remedy_and_nothing_is_written(
    rules: Rules, own: Path, words: tuple[str, ...], said: str
) -> None:
    latin = own.with_name("latin.yaml")
    latin.write_bytes("title: Übung\n".encode("latin-1"))
    before = own.read_bytes()
    places = {"FOLDER": str(own.parent), "OWN": str(own), "LATIN": str(latin)}
    typed = [word.replace("FOLDER", places["FOLDER"]) for word in words]
    code, out, err = rules(*(places.get(word, word) for word in typed))
    assert (code, out) == (2, "")
    assert said in err
    assert own.read_bytes() == before


def test_problems_come_as_a_document_where_one_is_asked_for(rules: Rules, own: Path) -> None:
    found = document(rules("amend", own, "fault.hop", "up-to=lots", *DATED, "--json"), wanted=2)
    assert {one["where"] for one in found["problems"]} == {f"{own}: clause fault.hop"}


@pytest.mark.parametrize(
    "command", ["list", "show", "check", "compare", "new", "copy", "amend", "amend-head", "add", "remove"]
)
def test_each_command_explains_itself_with_an_example(rules: Rules, command: str) -> None:
    code, out, _ = rules(command, "--help")
    assert code == 0
    assert f"Example: reviewer rules {command}" in out
