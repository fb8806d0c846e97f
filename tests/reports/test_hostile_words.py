"""Words that try to be markup, that run the wrong way or never end stay words, on the page and on paper."""

import re
from io import BytesIO
from pathlib import Path
from typing import Any

import pikepdf
import pypdf
import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from reviewer import reports
from reviewer.reports.plain import printable
from tests.reports.browsing import found_by

HOSTILE = {
    "typst": '#panic("x") #import "@preview/a:1.0.0": * $ sum_(i=1)^n $ *b* _i_ `raw` <label> @ref // /* \\',
    "html": "</bdi></td><script>document.title = 'run'</script><img src=x onerror=\"document.title='run'\">",
    "template": "{{ 7 * 7 }}{% raw %}{0.__class__}{name}%s%(x)s",
    "right to left": "שלום \u202egnirts\u202c \u2066isolate \u200f",
    "ten thousand": "W" * 10_000,
    "controls": "a\x00b\x07c\x1bd\u2028e\ufeff\ue000",
    "other writing": "体操 체조 体操 😀 ओलिम्पिक",
    "formula": '=HYPERLINK("http://nowhere.invalid")',
}


def spoilt(finding: dict[str, Any], words: str) -> dict[str, Any]:
    """The finding with the words wherever a person's own words or a rule book's stand."""
    case, book = finding["case"] | {"athlete_code": words}, finding["rule_book"] | {"title": words}
    marks = [mark | {"name": words} for mark in finding["marks"]]
    lines = [line | {"why": words} for line in finding["score"]["lines"]]
    score = finding["score"] | {"lines": lines}
    stills = [still | {"caption": words} for still in finding["stills"]]
    clauses = [one | {"title": words, "value": words} for one in finding["clauses"]]
    return finding | {
        "case": case,
        "rule_book": book | {"cautions": [words]},
        "marks": marks,
        "score": score,
        "stills": stills,
        "clauses": clauses,
    }


@pytest.fixture(scope="module")
def pictures(demo: Path) -> dict[str, bytes]:
    return reports.pictures_in((demo / "report" / "report.html").read_text(encoding="utf-8"))


def set_text(data: bytes) -> str:
    text = "".join(page.extract_text() for page in pypdf.PdfReader(BytesIO(data)).pages)
    return re.sub(r"\s|\u200b", "", text)


@pytest.mark.parametrize("kind", HOSTILE)
def test_paper_holds_them_as_words(kind: str, finding: dict[str, Any], pictures: dict[str, bytes]) -> None:
    data = reports.paper(spoilt(finding, HOSTILE[kind]), pictures, {})
    with pikepdf.open(BytesIO(data)) as pdf:
        assert len(pdf.pages) >= 5
        assert pdf.check_pdf_syntax() == []
    wanted = {
        "typst": '#panic("x")#import"@preview/a:1.0.0"',
        "html": "</bdi></td><script>document.title='run'</script>",
        "template": "{{7*7}}{%raw%}{0.__class__}{name}%s%(x)s",
        "right to left": "[U+202E]gnirts[U+202C][U+2066]isolate[U+200F]",
        "ten thousand": "W" * 10_000,
        "controls": "a[U+0000]b[U+0007]c[U+001B]d[U+2028]e[U+FEFF][U+E000]",
        "other writing": "[U+4F53][U+64CD]",
        "formula": '=HYPERLINK("http://nowhere.invalid")',
    }
    straight = set_text(data).replace("“", '"').replace("”", '"').replace("’", "'").replace("‘", "'")
    assert wanted[kind] in straight


def test_words_beyond_any_width_are_broken_within_the_page(
    finding: dict[str, Any], pictures: dict[str, bytes]
) -> None:
    data = reports.paper(spoilt(finding, "W" * 300), pictures, {})
    beyond: list[float] = []

    def note(text: str, _: Any, place: Any, __: Any, ___: Any) -> None:
        if text.strip():
            beyond.append(float(place[4]))

    for page in pypdf.PdfReader(BytesIO(data)).pages:
        page.extract_text(visitor_text=note)
    assert max(beyond) <= 595 - 40  # points; A4 is 595 wide


@pytest.mark.parametrize("kind", HOSTILE)
def test_the_page_runs_none_and_keeps_its_width(
    kind: str, finding: dict[str, Any], pictures: dict[str, bytes], tmp_path: Path
) -> None:
    html = reports.page(spoilt(finding, HOSTILE[kind]), pictures)
    script = (
        "return [document.title, document.documentElement.scrollWidth <= window.innerWidth,"
        " document.querySelectorAll('script').length, document.querySelectorAll('main section').length]"
    )
    title, fits, scripts, sections = found_by(script, html, tmp_path, "--window-size=390,900")
    assert title != "run"
    assert fits
    assert scripts == 1  # the one that asks
    assert sections == html.count("<section")


@settings(max_examples=25, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(words=st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
def test_no_words_at_all_keep_a_report_from_being_set(
    words: str, finding: dict[str, Any], pictures: dict[str, bytes]
) -> None:
    """Every character of every script: PDF/A asks that each one has a letter (ISO 19005-3, from memory)."""
    told = spoilt(finding | {"stills": [], "readings": []}, words)
    assert reports.paper(told, {}, {}).startswith(b"%PDF-")


def test_every_character_said_to_be_printable_is(finding: dict[str, Any]) -> None:
    """What is left as it is has a letter in the typesetter's own fonts; the rest are numbers."""
    every = (chr(number) for number in range(0x21, 0x30000) if not 0xD800 <= number < 0xE000)
    words = " ".join(one for one in every if printable(one) == one)
    assert len(words) > 7000
    told = spoilt(finding | {"stills": [], "readings": []}, words)
    assert reports.paper(told, {}, {}).startswith(b"%PDF-")
