"""Collects the sentences of the program into the catalogue and compiles its languages.

From the root of the repository: ``python -m tests.words.extracting``. Sentences that are new stand in each
``.po`` without a translation, until somebody gives one; what is no longer said is left out.
"""

import ast
import os
import tomllib
from datetime import UTC, datetime
from io import BytesIO
from pathlib import Path
from typing import Any

from babel.messages.catalog import Catalog
from babel.messages.extract import extract_from_file
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

ROOT = Path(__file__).resolve().parents[2]
LANGUAGES = ROOT / "reviewer" / "words" / "languages"
POT = LANGUAGES / "reviewer.pot"
ROOMS = tuple(sorted(path.name for path in (ROOT / "reviewer").iterdir() if path.is_dir()))
TABLES = {"keys.toml": ("says", "under"), "preferences.toml": ("description",)}
"""Tables of the settings, and which of their columns are sentences."""
_FIXED = datetime(2026, 1, 1, tzinfo=UTC)
_HEADER: dict[str, Any] = {
    "creation_date": _FIXED,
    "revision_date": _FIXED,
    "fuzzy": False,
    "project": "reviewer",
    "version": "1",
    "msgid_bugs_address": "none",
    "last_translator": "none",
    "language_team": "none",
}
"""No clock goes into the files, so that the same sentences give the same files."""
KEYWORDS = ("say", "_say", "message", "Message", "noted")
"""The functions whose first argument is a sentence."""
TEMPLATES_SAY = {"say": None}


def collected() -> Catalog:
    """Every sentence that the rooms say."""
    found = Catalog(**_HEADER, header_comment="# Sentences of the reviewer; English is the id.\n")
    for room in ROOMS:
        for path in sorted((ROOT / "reviewer" / room).rglob("*.py")):
            _collect(found, path)
    for path in sorted((ROOT / "reviewer" / "reports" / "templates").glob("*.txt")):
        for _, sentence, _, _ in extract_from_file("jinja2.ext:babel_extract", path, keywords=TEMPLATES_SAY):
            found.add(sentence)
    for table, columns in TABLES.items():
        rows = tomllib.loads((ROOT / "reviewer" / "settings" / table).read_text(encoding="utf-8"))
        for sentence in (row[column] for row in rows.values() for column in columns):
            found.add(sentence)
    return found


def _collect(found: Catalog, path: Path) -> None:
    """Sentences of a module, those within formatted text among them."""
    for call in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(call, ast.Call) and call.args and _name(call.func) in KEYWORDS:
            sentence = call.args[0]
            if isinstance(sentence, ast.Constant) and isinstance(sentence.value, str) and sentence.value:
                found.add(sentence.value)


def _name(function: ast.expr) -> str:
    return getattr(function, "attr", None) or getattr(function, "id", "")


def translated(language: str, sentences: Catalog) -> Catalog:
    """A language's catalogue, brought up to the sentences."""
    path = LANGUAGES / f"{language}.po"
    kept = read_po(BytesIO(path.read_bytes()), locale=language) if path.is_file() else Catalog()
    found = Catalog(locale=language, **_HEADER, header_comment=kept.header_comment)
    for one in sentences:
        if one.id:
            known = kept.get(one.id)
            found.add(one.id, known.string if known else "")
    return found


def written(catalogue: Catalog) -> bytes:
    """As a ``.po`` or ``.pot`` file."""
    text = BytesIO()
    write_po(text, catalogue, width=110, sort_output=True)
    return text.getvalue()


def compiled(catalogue: Catalog) -> bytes:
    """As a ``.mo`` file."""
    data = BytesIO()
    write_mo(data, catalogue)
    return data.getvalue()


def languages() -> tuple[str, ...]:
    """The languages beside English."""
    return tuple(sorted(path.stem for path in LANGUAGES.glob("*.po")))


def main() -> None:
    """Write the ``.pot``, each ``.po`` and each ``.mo``."""
    sentences = collected()
    _put(POT, written(sentences))
    for language in languages():
        catalogue = translated(language, sentences)
        _put(LANGUAGES / f"{language}.po", written(catalogue))
        _put(LANGUAGES / f"{language}.mo", compiled(catalogue))
        missing = [one.id for one in catalogue if one.id and not one.string]
        print(f"{language}: {len(missing)} of {len(sentences)} sentences without a translation")


def _put(path: Path, content: bytes) -> None:
    """Write a file in one step: who reads it meanwhile has all of it, never an empty one."""
    beside = path.with_name(f".{path.name}.{os.getpid()}")
    beside.write_bytes(content)
    os.replace(beside, path)


if __name__ == "__main__":
    main()
