"""A German report has no English of the program's own, only what a rule book says in its own words."""

import json
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions, reports
from reviewer.words import saying
from tests.words.extracting import collected

_WORD = re.compile(r"[A-Za-zÄÖÜäöüß]{2,}")
_TEXT = re.compile(r"<style>.*?</style>|<code>.*?</code>|<[^>]*>", re.DOTALL)
_SPOKEN_BY_ATTRIBUTES = re.compile(r'(?:aria-label|data-of|alt)="([^"]*)"')


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's report in German and a letter, its start value asked about, a posted score beside it."""
    folder = tmp_path_factory.mktemp("bericht")
    actions.run_demo(folder)
    with actions.open_case(folder / "square-on.case", author="A") as audit:
        actions.enter_posted(audit, audit.sheet.final_score)
        name = actions.file_inquiry(audit, asked_by="coach", about="start value")
        actions.answer_inquiry(audit, name, "cannot be decided", marks=["m5"], readings=["r1"])
        actions.write_report(audit, folder / "bericht", language="de")
        actions.write_letter(audit, name, folder / "bericht" / "letter.txt", language="de")
    return folder / "bericht"


@pytest.fixture(scope="module")
def finding(report: Path) -> dict[str, Any]:
    found: dict[str, Any] = json.loads((report / "report.json").read_bytes())
    return found


_HASH = re.compile(r"\b[0-9a-f]{64}\b")
"""A fingerprint may hold letters that are a word."""


def words_of(text: str) -> set[str]:
    return {word.lower() for word in _WORD.findall(text)}


def english_alone() -> set[str]:
    """The words of English sentences that no German one has."""
    say, english, german = saying("de"), set[str](), set[str]()
    for one in filter(None, (str(one.id) for one in collected())):
        hollow, there = (re.sub(r"\{\w*\}", " ", text) for text in (one, say.word(one)))
        english |= words_of(hollow)
        german |= words_of(there) if there != hollow else set()
    return english - german


def of_the_book(finding: dict[str, Any]) -> Iterator[str]:
    """What stands in the report as a rule book, a judge or a code has it."""
    book, case = finding["rule_book"], finding["case"]
    yield from (book["title"], book["id"], book["season"], *book["cautions"], case["athlete_code"])
    for clause in finding["clauses"]:
        yield from (clause[key] for key in ("id", "title", "says"))
        yield clause["source"].removeprefix("published: ")
    for mark in finding["marks"]:
        yield from (mark["name"], mark["name"].rpartition(" ")[0], mark["name"].replace(".", ","))


def without(text: str, own: list[str]) -> str:
    for one in sorted(filter(None, own), key=len, reverse=True):
        text = text.replace(one, " ")
    return text


def told(html: str) -> Iterator[str]:
    yield from _SPOKEN_BY_ATTRIBUTES.findall(html)
    yield from re.split(r"[\n\x00]+", _TEXT.sub("\x00", html))


def left_in_english(html: str, finding: dict[str, Any]) -> list[str]:
    own, english = list(of_the_book(finding)), english_alone()
    names = words_of("case json reviewer verify FOLDER FILE recording pictures SHA")
    texts = (" ".join(_HASH.sub(" ", one).split()).replace("\u00a0", " ") for one in told(html))
    return [one for one in texts if (words_of(without(one, own)) & english) - names]


def test_a_german_report_says_nothing_in_english_but_what_the_rule_book_says(
    report: Path, finding: dict[str, Any]
) -> None:
    assert left_in_english((report / "report.html").read_text("utf-8"), finding) == []


def test_a_german_letter_says_nothing_in_english_but_what_the_rule_book_says(
    report: Path, finding: dict[str, Any]
) -> None:
    letter = " ".join((report / "letter.txt").read_text("utf-8").split())
    assert letter.startswith("ANTWORT AUF EINE ANFRAGE Die Worte dieses Berichts hat eine Maschine")
    assert left_in_english(letter, finding) == []


def points_left(text: str, finding: dict[str, Any]) -> list[str]:
    """Numbers with a decimal point, which Germans read as thousands, outside of a book's own words."""
    own = [*of_the_book(finding), *(f"{clause['id']}" for clause in finding["clauses"]), finding["version"]]
    return re.findall(r"(?<![\w.])[0-9]+\.[0-9]+(?![\w.])", without(" ".join(text.split()), own))


def test_german_numbers_have_a_comma_on_the_page_over_its_pictures_and_in_the_letter(
    report: Path, finding: dict[str, Any]
) -> None:
    page, letter = ((report / name).read_text("utf-8") for name in ("report.html", "letter.txt"))
    drawn = " ".join(re.findall(r"<text[^>]*>([^<]*)</text>", page))
    for text in (" ".join(told(page)), drawn, letter):
        assert re.search("[0-9],[0-9]", text)
        assert points_left(text, finding) == []
    assert finding["score"]["final_score"] == "9.650"


def test_the_check_would_have_found_a_sentence_and_a_label_in_english(finding: dict[str, Any]) -> None:
    page = reports.page(finding | {"language": "en"}, {})
    found = left_in_english(page, finding)
    assert {"The question and the finding", "Final score by the marks"} <= set(found)
