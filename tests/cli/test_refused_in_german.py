"""Whoever has set German is refused in German; what programs read stays English."""

import json
import re
from collections.abc import Callable
from pathlib import Path
from shutil import copy

import pytest

from reviewer import actions
from reviewer.words import saying
from tests.words.test_german_report import english_alone, words_of

SQUARE_ON = Path(__file__).parents[2] / "sample_clips" / "square-on.mp4"
Reviewer = Callable[..., tuple[int, str, str]]
REFUSED = {
    "no case": "score nowhere.case",
    "no recording": "frames nowhere.mp4",
    "no frame": f"still {SQUARE_ON} 99999 -o one.png",
    "no moment": f"when {SQUARE_ON} soon",
    "no time code": f"when {SQUARE_ON} 99:00",
    "backwards": f"duration {SQUARE_ON} 90 10 --limit 3",
    "no edition": "rules show nowhere",
    "no rule book": "rules check routine.case",
    "an id that is taken": "rules copy demo-bars-2 mine.yaml --id demo-bars-2",
    "no use": "consent routine.case --for party",
    "a day gone by": "consent routine.case --for inquiry --until 2001-01-01",
    "no consent": "export routine.case --as csv --use teaching -o lines.csv",
    "a folder that cannot be": "report routine.case -o routine.case/report",
    "nothing settled": "settle take routine.case L1 first",
    "another's sheet": "seal routine.case --author B",
    "no inquiry": "inquiry answer routine.case q9",
    "no setting": "settings langage de",
    "no choice": "settings language xx",
    "no key": "keys next Foo",
    "a word of the edition": "short-codes cast arms-bent",
    "no document": "measure --points routine.case",
    "one sheet": "compare routine.case",
    "no report": "verify .",
    "no table": "agreement nowhere.csv",
    "bad marks": "score bad-marks.json",
    "marks that cannot be scored": "score odd-marks.json",
    "a bad rule book": "rules check bad-book.yaml",
    "no clause": "interpret routine.case nowhere other",
}
BAD_MARKS = {"format": "reviewer.marks/1", "marks": [{"id": 1, "kind": "elephant", "code": "cast", "odd": 1}]}
ODD_MARKS = {
    "format": "reviewer.marks/1",
    "marks": [
        {"id": "m1", "kind": "element", "code": "pulover", "order": 1},
        {"id": "m2", "kind": "fault", "code": "arms-bent", "amount": "0.700"},
        {"id": "m3", "kind": "element", "code": "cast-off", "order": 3, "with": ["odd"], "roles": ["odd"]},
    ],
}
_AS_TYPED = re.compile(
    r"`[^`]*`|'[^']*'|\"[^\"]*\"|--[\w-]+|\w+(?:[./-]\w+)+|^\w+: |\[0\]\.\w+", re.MULTILINE
)
"""Commands, what was typed, options, codes and names of files and fields."""
CODES = "language element fault fact courtesy inquiry teaching coach spotted"
"""Words that are typed as they are."""


@pytest.fixture(scope="module")
def begun(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A case without marks."""
    path = tmp_path_factory.mktemp("begun") / "routine.case"
    actions.start_case(path, author="A", athlete_code="G-07", consent="given", recording=SQUARE_ON).close()
    return path


@pytest.fixture(autouse=True)
def german(tmp_path: Path, begun: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with a case in it, on a machine where German is set."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "settings.toml").write_text('language = "de"\n', encoding="utf-8")
    monkeypatch.setenv("REVIEWER_SETTINGS", str(tmp_path / "settings.toml"))
    (tmp_path / "bad-marks.json").write_text(json.dumps(BAD_MARKS), encoding="utf-8")
    (tmp_path / "odd-marks.json").write_text(json.dumps(ODD_MARKS), encoding="utf-8")
    (tmp_path / "bad-book.yaml").write_text("format: reviewer.rule-book/2\nid: a b\n", encoding="utf-8")
    copy(begun, tmp_path / "routine.case")


def left_in_english(told: str) -> set[str]:
    """Words that stand in English sentences only, but for what is typed as it is."""
    return (words_of(_AS_TYPED.sub(" ", told)) & english_alone()) - words_of(CODES)


@pytest.mark.parametrize("command", REFUSED.values(), ids=REFUSED)
def test_a_refusal_is_german_at_the_terminal_and_english_for_programs(
    reviewer: Reviewer, monkeypatch: pytest.MonkeyPatch, tmp_path: Path, command: str
) -> None:
    code, _, told = reviewer(*command.split())
    assert code in (2, 3)
    assert told.strip()
    assert left_in_english(told) == set(), told
    for_programs = reviewer(*command.split(), "--json")[1]
    monkeypatch.setenv("REVIEWER_SETTINGS", str(tmp_path / "none.toml"))
    assert reviewer(*command.split(), "--json")[1] == for_programs
    for one in json.loads(for_programs or '{"problems": []}')["problems"]:
        assert f"{one['message']} {one['remedy']}" not in told


def test_a_broken_settings_file_is_no_reason_to_say_nothing(reviewer: Reviewer, tmp_path: Path) -> None:
    (tmp_path / "settings.toml").write_text("language = ", encoding="utf-8")
    code, _, told = reviewer("score", "nowhere.case")
    assert (code, "no such file" in told) == (2, True)


def test_the_check_would_have_found_english() -> None:
    assert "path" in left_in_english("There is no such file. Check the path.")


@pytest.mark.parametrize(
    ("where", "german"),
    [
        ("square-on.mp4: frame 12", "square-on.mp4: Bild 12"),
        ("marks.json: line 3", "marks.json: Zeile 3"),
        ("line shoulder-ankle", "Linie Schulter bis Knöchel"),
        ("recordings 1 and 2", "Aufnahmen 1 und 2"),
        ("mine.yaml: clause cast.limit", "mine.yaml: Bestimmung cast.limit"),
        ("mark m3", "Eintrag m3"),
    ],
)
def test_a_place_is_told_in_german_and_what_is_named_there_stays(where: str, german: str) -> None:
    assert saying("de").place(where) == german
