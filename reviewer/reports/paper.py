"""The report on paper: the same sections set by typst as PDF/UA-1 and PDF/A-3a, the documents attached.

All words reach typst as data, never as its markup. Its own letters are used and no time but the case's own,
so the same finding gives the same bytes on any machine with the same typst.
"""

import json
from collections.abc import Mapping
from dataclasses import is_dataclass
from datetime import UTC, datetime
from importlib import resources
from importlib.metadata import version
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import typst

from reviewer.reports.blocks import Page, Run
from reviewer.reports.composing import compose
from reviewer.reports.plain import bound, breakable, printable
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem, ReviewerError

TYPESETTER = f"typst {version('typst')}"
"""What sets the paper; another version sets other bytes."""
_STANDARDS: list[Any] = ["a-3a", "ua-1"]
_NOUGHT = datetime(1970, 1, 1, tzinfo=UTC)


class PaperError(ReviewerError):
    """Typst cannot set the paper, such as where a picture in it is none."""


def paper(finding: Mapping[str, Any], pictures: Mapping[str, bytes], attached: Mapping[str, bytes]) -> bytes:
    """The report's PDF. ``pictures``: JPEG bytes by still's id; ``attached``: documents by file name.

    `PaperError` where it cannot be set.
    """
    return as_paper(compose(finding), finding, pictures, attached)


def as_paper(
    page: Page, document: Mapping[str, Any], pictures: Mapping[str, bytes], attached: Mapping[str, bytes]
) -> bytes:
    """The PDF of a page made of a document, which names stills, version and the case's last event."""
    with TemporaryDirectory(prefix="report-") as made:
        folder = Path(made)
        _lay_out(folder, page, document, pictures, attached)
        try:
            return _set(folder, _dated(document))
        except typst.TypstError as fault:
            said = message("The paper cannot be set: {reason}.", reason=fault.message)
            remedy = message("Write the report again; a picture in it may be damaged.")
            raise PaperError(Problem("paper-not-set", "report.pdf", said, remedy)) from None


def _set(folder: Path, dated: datetime) -> bytes:
    found = typst.compile(
        folder / "report.typ",
        root=folder,
        format="pdf",
        ignore_system_fonts=True,
        pdf_standards=_STANDARDS,
        timestamp=dated,
    )
    assert isinstance(found, bytes)
    return found


def _lay_out(
    folder: Path,
    page: Page,
    finding: Mapping[str, Any],
    pictures: Mapping[str, bytes],
    attached: Mapping[str, bytes],
) -> None:
    """What typst reads: the template, the page as data, pictures and attachments under plain names."""
    template = resources.files("reviewer.reports").joinpath("templates", "report.typ")
    (folder / "report.typ").write_bytes(template.read_bytes())
    names = {}
    for number, still in enumerate(finding["stills"]):
        names[still["id"]] = {"file": f"still-{number}.jpg", "size": still["size"]}
        (folder / f"still-{number}.jpg").write_bytes(pictures.get(still["id"], b""))
    documents = []
    for number, (name, content) in enumerate(attached.items()):
        documents.append({"file": f"attached-{number}", "name": name, "kind": _KINDS[Path(name).suffix]})
        (folder / f"attached-{number}").write_bytes(content)
    data = {"page": _data(page), "stills": names, "attached": documents, "version": finding["version"]}
    (folder / "report.json").write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")


_KINDS = {".json": "application/json", ".yaml": "application/yaml"}


def _data(one: Any) -> Any:
    """Blocks as JSON, each with its kind; every word such that it can be set and broken."""
    if isinstance(one, Run):
        text = bound(printable(one.text))
        return {"text": text if one.style == "code" else breakable(text), "style": one.style, "to": one.to}
    if is_dataclass(one):
        fields = {name: _data(getattr(one, name)) for name in one.__dataclass_fields__}
        return {"kind": type(one).__name__} | fields
    if isinstance(one, tuple):
        return [_data(each) for each in one]
    return printable(one) if isinstance(one, str) else one


def _dated(finding: Mapping[str, Any]) -> datetime:
    """When the case's last event happened: the paper's date, as no clock may be read."""
    at = finding["case"].get("last_event_at")
    return datetime.fromisoformat(at).replace(microsecond=0) if at else _NOUGHT
