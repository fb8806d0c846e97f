"""The report of a meet in headless Chromium and on paper: on a telephone, for screen readers, printed."""

import json
import re
from pathlib import Path

import pikepdf
import pypdf
import pytest

from reviewer import actions
from tests.actions.drawn_meet import draw_meet
from tests.reports.browsing import found_by, rules_broken

WIDTHS = {"phone": 390, "laptop": 1280}


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("report of a meet")
    draw_meet(folder / "meet", 80, 40, by="division")
    actions.write_meet_report(folder / "meet", folder / "report")
    return folder / "report"


@pytest.fixture(scope="module")
def html(report: Path) -> str:
    return (report / "report.html").read_text(encoding="utf-8")


@pytest.mark.parametrize("device", WIDTHS)
def test_no_rule_of_accessibility_is_broken(device: str, html: str, tmp_path: Path) -> None:
    """axe-core, the rules of WCAG 2.2 A and AA among them."""
    assert rules_broken(html, tmp_path, WIDTHS[device]) == []


@pytest.mark.parametrize("device", WIDTHS)
def test_nothing_reaches_beyond_the_side_of_the_screen(device: str, html: str, tmp_path: Path) -> None:
    script = "return [document.documentElement.scrollWidth, window.innerWidth]"
    needed, wide = found_by(script, html, tmp_path, f"--window-size={WIDTHS[device]},900")
    assert needed <= wide


def test_everything_it_shows_lies_in_it_and_every_link_leads_somewhere(html: str) -> None:
    anchors = re.findall(r'\bid="([^"]+)"', html)
    assert len(anchors) == len(set(anchors))
    led_to = re.findall(r'(?:src|href|action|data)="([^"]*)"', html)
    assert led_to
    assert {one[1:] for one in led_to} <= set(anchors)


def test_on_paper_it_says_the_same_and_carries_its_document(report: Path) -> None:
    document = json.loads((report / "report.json").read_bytes())
    with pikepdf.open(report / "report.pdf") as paper:
        assert (
            paper.attachments["report.json"].get_file().read_bytes() == (report / "report.json").read_bytes()
        )
        with paper.open_metadata() as told:
            assert (told["pdfaid:part"], told["pdfuaid:part"]) == ("3", "1")
    pages = pypdf.PdfReader(report / "report.pdf").pages
    told = " ".join(" ".join(page.extract_text() for page in pages).split())
    for one in document["routines"]:
        assert one["case"] in told
    for judge in document["by_lot"]["judges"]:
        assert judge["audited"]["mean"]["value"].replace("-", "−") in told


def test_no_judge_is_ranked(html: str) -> None:
    text = re.sub(r"<style.*?</style>|<svg.*?</svg>|<[^>]+>", " ", html, flags=re.DOTALL)
    assert "no ranking is meant" in text
    for word in ("best", "worst", "rank 1", "top judge"):
        assert word not in text.casefold()
