"""The report on paper: what it claims to be, what it carries, and that it says what the page says."""

import json
import re
from collections.abc import Iterator
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from typing import Any

import pikepdf
import pypdf
import pytest

from reviewer import reports


@pytest.fixture(scope="module")
def pdf(demo: Path) -> Iterator[pikepdf.Pdf]:
    with pikepdf.open(demo / "report" / "report.pdf") as opened:
        yield opened


def elements(node: Any, within: str = "") -> Iterator[tuple[str, Any]]:
    """Every element of the tag tree in reading order: its path of kinds, and itself."""
    if isinstance(node, pikepdf.Array):
        for one in node:
            yield from elements(one, within)
    elif isinstance(node, pikepdf.Dictionary):
        kind = str(node.get("/S", "")).lstrip("/")
        path = f"{within}/{kind}" if kind else within
        if kind:
            yield path, node
        yield from elements(node.get("/K"), path)


def tags(pdf: pikepdf.Pdf) -> list[tuple[str, Any]]:
    return list(elements(pdf.Root.StructTreeRoot.K))


def text_of(data: bytes) -> str:
    """The words of all pages, white space as one space; read by another library than the one that checks."""
    pages = pypdf.PdfReader(BytesIO(data)).pages
    return " ".join(" ".join(page.extract_text() for page in pages).split())


def test_it_claims_pdf_a_3a_and_pdf_ua_1(pdf: pikepdf.Pdf) -> None:
    """ISO 19005-3 and ISO 14289-1: the identification schemas in the metadata (from memory)."""
    with pdf.open_metadata() as told:
        assert (told["pdfaid:part"], told["pdfaid:conformance"]) == ("3", "A")
        assert told["pdfuaid:part"] == "1"
        assert told["dc:title"] == "Score audit of one routine, uneven bars"
    assert pdf.Root.MarkInfo.Marked
    assert str(pdf.Root.Lang) == "en"
    assert pdf.Root.ViewerPreferences.DisplayDocTitle


def test_qpdf_finds_nothing_wrong(pdf: pikepdf.Pdf) -> None:
    assert pdf.check_pdf_syntax() == []


def test_finding_case_and_rule_book_are_attached_as_they_lie_in_the_folder(
    pdf: pikepdf.Pdf, demo: Path
) -> None:
    carried = {name: one.get_file().read_bytes() for name, one in pdf.attachments.items()}
    assert set(carried) == {"report.json", "case.json", "rule-book.yaml"}
    for name in ("report.json", "case.json"):
        assert carried[name] == (demo / "report" / name).read_bytes()
    books = json.loads(carried["case.json"])["books"]
    assert carried["rule-book.yaml"].decode() in books.values()
    related = {str(one.obj.AFRelationship) for one in pdf.attachments.values()}
    assert related == {"/Data"}  # ISO 19005-3: how each file is related to the document (from memory)


def test_headings_step_down_one_at_a_time(pdf: pikepdf.Pdf) -> None:
    """ISO 14289-1, 7.4: no level is skipped (from memory)."""
    levels = [int(path[-1]) for path, _ in tags(pdf) if re.search(r"/H[1-6]$", path)]
    assert levels[0] == 1
    assert levels.count(1) == 1
    assert all(after - before <= 1 for before, after in pairwise(levels))


def test_every_figure_is_told_to_those_who_do_not_see_it(pdf: pikepdf.Pdf, finding: dict[str, Any]) -> None:
    told = [str(one.get("/Alt", "")) for path, one in tags(pdf) if path.endswith("/Figure")]
    assert all(told)
    for still in finding["stills"]:
        assert f"Frame {still['frame']}: {still['caption']}" in told


def test_tables_have_headed_columns_and_rows_of_cells(pdf: pikepdf.Pdf, finding: dict[str, Any]) -> None:
    paths = [path.rsplit("/Table", 1)[1] for path, _ in tags(pdf) if "/Table" in path]
    assert "/THead/TR/TH" in paths
    assert "/TBody/TR/TD" in paths
    tables = sum(path.endswith("/Table") for path, _ in tags(pdf))
    assert tables == 5 + len(finding["readings"])  # ledger, credit, marks, clauses, fingerprints; budgets


def test_the_lines_of_the_ledger_are_read_back_as_they_were_derived(
    demo: Path, finding: dict[str, Any]
) -> None:
    text = text_of((demo / "report" / "report.pdf").read_bytes())
    start = text.index("The ledger")
    ledger = text[start : text.index("Requirements, and what", start)]
    place = 0
    for line in finding["score"]["lines"]:
        points = line["points"].replace("-", "−")
        for part in (points, line["why"], line["clause"], line["source"].split()[0]):
            place = ledger.index(part, place)
    assert ledger.index(f"Final score {finding['score']['final_score']}", place)


def test_paper_and_page_say_the_same_in_the_same_order(demo: Path, finding: dict[str, Any]) -> None:
    page = (demo / "report" / "report.html").read_text(encoding="utf-8")
    titles = re.findall(r"<h2 id=[^>]*>(.*?)</h2>", page)
    assert len(titles) >= 12
    text, place = text_of((demo / "report" / "report.pdf").read_bytes()), 0
    for title in titles:
        place = text.index(title, place)
    assert titles[0] == "The question and the finding"


def test_the_date_of_the_paper_is_that_of_the_last_event(pdf: pikepdf.Pdf, finding: dict[str, Any]) -> None:
    """No clock is read: ISO 32000, 7.9.4 writes dates as D:YYYYMMDDHHmmSS (from memory)."""
    digits = re.sub(r"\D", "", finding["case"]["last_event_at"])[:14]
    assert str(pdf.docinfo["/CreationDate"]).startswith(f"D:{digits}")


def test_a_german_report_says_in_which_language_it_is_and_who_put_it_so(
    demo: Path, finding: dict[str, Any]
) -> None:
    pictures = reports.pictures_in((demo / "report" / "report.html").read_text(encoding="utf-8"))
    data = reports.paper(finding | {"language": "de"}, pictures, {})
    with pikepdf.open(BytesIO(data)) as pdf:
        assert str(pdf.Root.Lang) == "de"
    assert "hat eine Maschine ins Deutsche übertragen" in text_of(data)


@pytest.mark.parametrize("more", [0, 27, 28, 30, 32, 34])
def test_what_is_signed_stands_on_one_page_with_the_lines_to_sign_on(
    finding: dict[str, Any], more: int
) -> None:
    reach = finding["score"]["reachable"]
    longer = reach | {"decisions": [*reach["decisions"], *more * reach["decisions"][:1]]}
    said = finding | {"stills": [], "readings": [], "score": finding["score"] | {"reachable": longer}}
    read = pypdf.PdfReader(BytesIO(reports.paper(said, {}, {})))
    pages = [" ".join(page.extract_text().split()) for page in read.pages]
    signed = [number for number, text in enumerate(pages) if "Fingerprint of the case" in text]
    assert signed == [number for number, text in enumerate(pages) if "Place and date" in text]
    assert len(signed) == 1
    assert signed == [0] or more
