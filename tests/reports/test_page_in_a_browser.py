"""The page in headless Chromium: no request, no sideways scrolling, no rule of accessibility broken."""

import re
from pathlib import Path
from typing import Any

import pypdf
import pytest

from reviewer import reports
from tests.reports.browsing import browse, found_by, reached_by, rules_broken

WIDTHS = {"phone": 390, "laptop": 1280}


@pytest.fixture(scope="module")
def html(demo: Path) -> str:
    return (demo / "report" / "report.html").read_text(encoding="utf-8")


@pytest.fixture(scope="module")
def of_the_browser(tmp_path_factory: pytest.TempPathFactory) -> set[str]:
    """Whom the browser asks for by itself, with a page that has nothing in it."""
    page = tmp_path_factory.mktemp("empty") / "empty.html"
    page.write_text("<p>Nothing.</p>", encoding="utf-8")
    return reached_by(page)


def test_no_request_leaves_the_page(demo: Path, tmp_path: Path, of_the_browser: set[str]) -> None:
    page = tmp_path / "report.html"
    page.write_bytes((demo / "report" / "report.html").read_bytes())
    assert reached_by(page) <= of_the_browser


def test_a_request_would_have_been_seen(tmp_path: Path, of_the_browser: set[str]) -> None:
    page = tmp_path / "reaching-out.html"
    page.write_text('<img src="http://nowhere.invalid/a.png" alt="">', encoding="utf-8")
    assert reached_by(page) - of_the_browser == {"nowhere.invalid"}


def test_everything_it_shows_lies_in_it(html: str) -> None:
    led_to = re.findall(r'(?:src|href|action|data)="([^"]*)"', html)
    assert led_to
    assert all(one.startswith(("#", "data:image/jpeg;base64,")) for one in led_to)
    assert "url(" not in html
    assert "@import" not in html


def test_every_link_leads_somewhere(html: str) -> None:
    anchors = re.findall(r'\bid="([^"]+)"', html)
    assert len(anchors) == len(set(anchors))
    assert {one[1:] for one in re.findall(r'href="(#[^"]+)"', html)} <= set(anchors)


@pytest.mark.parametrize("device", WIDTHS)
def test_nothing_reaches_beyond_the_side_of_the_screen(device: str, html: str, tmp_path: Path) -> None:
    script = "return [document.documentElement.scrollWidth, window.innerWidth]"
    needed, wide = found_by(script, html, tmp_path, f"--window-size={WIDTHS[device]},900")
    assert needed <= wide


_LETTERS = """
return [...document.querySelectorAll("figure text")].map(one => {
  const height = parseFloat(getComputedStyle(one).fontSize) * one.getScreenCTM().d;
  const here = one.getBoundingClientRect(), picture = one.closest("figure").firstElementChild;
  const there = picture.getBoundingClientRect();
  return [one.textContent, height, here.left - there.left, there.right - here.right];
});
"""


@pytest.mark.parametrize("device", WIDTHS)
def test_words_drawn_over_a_still_can_be_read_and_lie_inside_it(
    device: str, html: str, tmp_path: Path
) -> None:
    """9 CSS px is the least that is read at arm's length (from memory)."""
    drawn = found_by(_LETTERS, html, tmp_path, f"--window-size={WIDTHS[device]},900")
    assert len(drawn) >= 9
    assert [one for one in drawn if one[1] < 9] == []
    assert [one for one in drawn if min(one[2:]) < -1] == []


@pytest.mark.parametrize("language", ["en", "de"])
@pytest.mark.parametrize("device", WIDTHS)
def test_no_rule_of_axe_core_is_broken(
    device: str, language: str, html: str, finding: dict[str, Any], tmp_path: Path
) -> None:
    """Source: the rules of axe-core, which check WCAG 2 A and AA and good practice."""
    told = reports.page(finding | {"language": language}, reports.pictures_in(html))
    assert rules_broken(told, tmp_path, WIDTHS[device]) == []


def test_axe_core_would_have_found_a_picture_without_words(tmp_path: Path) -> None:
    page = '<html><body><img src="data:,"></body></html>'
    assert {"image-alt", "html-has-lang"} <= {one[0] for one in rules_broken(page, tmp_path, 390)}


def test_it_prints_on_pages_of_a4(demo: Path, tmp_path: Path) -> None:
    page, printed = tmp_path / "report.html", tmp_path / "printed.pdf"
    page.write_bytes((demo / "report" / "report.html").read_bytes())
    browse(page, f"--print-to-pdf={printed}", "--no-pdf-header-footer")
    sheets = pypdf.PdfReader(printed).pages
    sizes = {(round(sheet.mediabox.width), round(sheet.mediabox.height)) for sheet in sheets}
    assert sizes == {(595, 842)}  # ISO 216: A4 is 210 mm × 297 mm
    text = " ".join(" ".join(sheet.extract_text() for sheet in sheets).split())
    assert text.index("The question and the finding") < text.index("Fingerprints and version")
