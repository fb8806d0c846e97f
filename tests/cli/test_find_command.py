"""``reviewer find``: passages among many cases, on paper and as a document; what makes no sense is named."""

import json
import shutil
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from reviewer import actions, rules
from reviewer.actions.documents import schema
from reviewer.terms.exact import Degrees
from reviewer.terms.marks import CastAngle, Mark
from tests.shelf.drawn_cases import draw_case, draw_cases

ROOT = Path(__file__).resolve().parents[2]
Program = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def evening(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return draw_cases(tmp_path_factory.mktemp("evening"), 12)


def answer(reviewer: Program, *words: str | Path, code: int = 0) -> dict[str, Any]:
    left, out, _ = reviewer("find", *words, "--json")
    assert left == code, out
    document: dict[str, Any] = json.loads(out)
    if "format" in document:
        assert list(Draft202012Validator(schema("found")).iter_errors(document)) == []
    return document


def test_casts_between_35_and_55_below_horizontal_with_a_clear_verdict(
    reviewer: Program, evening: Path
) -> None:
    found = answer(
        reviewer, evening, "--element", "cast*", "--angle", "-55", "-35", "--settled", "--limit", "99"
    )
    assert 0 < found["total"] == len(found["passages"])
    for one in found["passages"]:
        assert one["kind"] == "element"
        assert one["code"].startswith("cast")
        assert Degrees.parse("-55") <= Degrees.parse(one["angle"]["deg"]) <= Degrees.parse("-35")
        assert one["verdict"] != "cannot tell"
    other_way_round = answer(reviewer, evening, "--element", "cast*", "--angle", "-35", "-55", "--settled")
    assert other_way_round["total"] == found["total"]


def test_a_frame_stands_beside_its_tick(reviewer: Program, evening: Path) -> None:
    for one in answer(reviewer, evening, "--fault", "*", "--limit", "50")["passages"]:
        assert one["recording"] is None or one["frame"]["pts"] == 3000 * one["frame"]["frame"]


def test_it_is_told_in_lines(reviewer: Program, evening: Path) -> None:
    code, out, _ = reviewer("find", evening, "--fault", "*-bent", "--limit", "2")
    assert code == 0
    assert " bent at " in out
    assert "shown: 1 to 2" in out
    assert "More: --skip 2" in out


def test_nothing_found_is_no(reviewer: Program, evening: Path) -> None:
    found = answer(reviewer, evening, "--element", "gliede", code=1)
    assert found["total"] == 0
    (problem,) = found["problems"]
    assert (problem["where"], problem["remedy"]) == ("element gliede", "Is glide meant?")


@pytest.mark.parametrize(
    ("ends", "told"), [(("35", "55"), True), (("-100", "-90"), False), (("-1", "1"), False)]
)
def test_degrees_without_their_sign_are_pointed_out(
    reviewer: Program, evening: Path, ends: tuple[str, str], told: bool
) -> None:
    code, _, said = reviewer("find", evening, "--element", "giant", "--angle", *ends)
    assert (code, "negative: --angle -55 -35" in said) == (1, told)


def test_a_page_after_another(reviewer: Program, evening: Path) -> None:
    whole = answer(reviewer, evening, "--limit", "1000")["passages"]
    assert answer(reviewer, evening, "--limit", "7", "--skip", "30")["passages"] == whole[30:37]
    beyond = answer(reviewer, evening, "--skip", "100000")
    assert (beyond["passages"], beyond["total"]) == ([], len(whole))


@pytest.mark.parametrize(
    ("words", "where"),
    [
        (("--amount", "much", "0.3"), "--amount much 0.3"),
        (("--amount", "-0.1", "0.3"), "--amount -0.1 0.3"),
        (("--amount", "0.1", "1000"), "--amount 0.1 1000"),
        (("--angle", "-200", "0"), "--angle -200 0"),
        (("--angle", "low", "high"), "--angle low high"),
        (("--verdict", "good"), "--verdict good"),
        (("--since", "yesterday"), "--since yesterday"),
        (("--until", "2026-02-31x"), "--until 2026-02-31x"),
        (("--since", "2026-03-05", "--until", "2026-03-01"), "--until 2026-03-01"),
        (("--words", "***"), "--words ***"),
        (("--limit", "0"), "--limit 0"),
        (("--limit", "1000000"), "--limit 1000000"),
        (("--skip", "-1"), "--skip -1"),
    ],
)
def test_what_makes_no_sense_is_named_with_a_remedy(
    words: tuple[str, ...], where: str, reviewer: Program, evening: Path
) -> None:
    (problem,) = answer(reviewer, evening, *words, code=2)["problems"]
    assert problem["where"] == where
    assert problem["remedy"]


def test_all_that_makes_no_sense_is_named_at_once(reviewer: Program, evening: Path) -> None:
    words = ("--amount", "x", "y", "--verdict", "good", "--since", "now")
    assert len(answer(reviewer, evening, *words, code=2)["problems"]) == 3


def test_a_folder_that_is_not_there(reviewer: Program, tmp_path: Path) -> None:
    (problem,) = answer(reviewer, tmp_path / "nowhere", code=2)["problems"]
    assert problem["code"] == "no-folder"


@pytest.mark.parametrize(
    "words", ['"', "a OR b", "NEAR(", "kip AND", "words:x", "'; DROP TABLE cases; --", "ß"]
)
def test_words_are_never_read_as_a_language(words: str, reviewer: Program, evening: Path) -> None:
    code, out, _ = reviewer("find", evening, "--words", words, "--json")
    assert code in (0, 1, 2)
    assert json.loads(out)
    assert answer(reviewer, evening)["total"] > 0


def test_ten_thousand_results(reviewer: Program, tmp_path: Path) -> None:
    book = rules.load(rules.find("demo-bars-2"))
    marks = tuple(Mark(f"m{at}", "fact", "springboard-left") for at in range(1, 2501))
    for at in range(4):
        draw_case(tmp_path / f"{at}.case", book, marks, datetime(2026, 3, 1, tzinfo=UTC), f"{at:064x}")
    few = answer(reviewer, tmp_path, "--words", "springboard")
    assert (few["total"], few["cases"], len(few["passages"])) == (10_000, 4, 20)
    all_ = answer(reviewer, tmp_path, "--limit", "10000")
    assert len({(one["case"], one["mark"]) for one in all_["passages"]}) == 10_000


def test_markup_in_a_case_stays_what_was_typed(reviewer: Program, tmp_path: Path) -> None:
    book = tmp_path / "own.yaml"
    text = rules.find("demo-bars-2").read_text(encoding="utf-8")
    book.write_text(text.replace("name: Cast,", "name: <b>Cast</b> &amp; <script>,", 1), encoding="utf-8")
    with actions.start_case(
        tmp_path / "a.case", author="A", athlete_code="G-1", consent="given", rule_book=str(book)
    ) as audit:
        actions.place_mark(audit, kind="element", code="cast", angle=CastAngle("eye", Degrees(-40_000)))
        actions.write_note(audit, "<img src=x onerror=alert(1)>", None)
    (one,) = answer(reviewer, tmp_path, "--words", "script cast")["passages"]
    assert one["name"] == "<b>Cast</b> &amp; <script>"
    assert answer(reviewer, tmp_path, "--words", "onerror", code=1)["total"] == 0


def test_a_recording_is_here_missing_or_another_one(reviewer: Program, tmp_path: Path) -> None:
    film = Path(shutil.copyfile(ROOT / "sample_clips/square-on.mp4", tmp_path / "a.mp4"))
    with actions.start_case(
        tmp_path / "a.case", author="A", athlete_code="G-1", consent="given", recording=film
    ) as audit:
        actions.import_marks(audit, ROOT / "annotations/square-on.marks.json")

    def state() -> str:
        found = answer(reviewer, tmp_path, "--element", "cast")
        return str(found["passages"][0]["recording"]["state"])

    assert state() == "here"
    film.write_bytes(film.read_bytes() + b"more")
    assert state() == "changed"
    _, told, _ = reviewer("find", tmp_path, "--element", "cast")
    assert "another one" in told
    film.unlink()
    assert state() == "missing"
    shutil.copyfile(ROOT / "sample_clips/square-on.mp4", tmp_path / "a.mp4")
    assert state() == "here"


def test_the_deciding_frame_of_a_measured_cast_is_its_reading_s(reviewer: Program, tmp_path: Path) -> None:
    actions.run_demo(tmp_path / "demo")
    with actions.open_case(next((tmp_path / "demo").glob("*.case")), author=None) as audit:
        readings = {one.id: one.pts for one in audit.readings}
        measured = {m.id: m.angle.reading for m in audit.marks if m.angle and m.angle.reading}
    assert measured
    found = answer(reviewer, tmp_path, "--element", "cast*", "--limit", "99")["passages"]
    shown = {one["mark"]: one["frame"]["pts"] for one in found}
    assert {mark: shown[mark] for mark in measured} == {m: readings[r] for m, r in measured.items()}
