"""Reading documents that people hand in: every fault at once, with its place and a remedy."""

import json
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from reviewer.terms.marks import Mark
from reviewer.terms.problems import DocumentError, Problem

LARGEST = 64 * 1024 * 1024
"""Bytes of the largest document that is read."""


def read_document(path: Path, schema: Mapping[str, Any], what: str) -> dict[str, Any]:
    """A JSON document of a kind, as its schema passes it; a DocumentError with every fault."""
    try:
        document = json.loads(_bytes(path), object_pairs_hook=_without_doubles)
    except (ValueError, RecursionError) as fault:
        remedy = f"Hand in {what} as a JSON document."
        raise DocumentError(Problem("not-json", path.name, f"This is not JSON: {fault}.", remedy)) from None
    return check_document(document, schema, path.name)


def read_lines(path: Path) -> Sequence[str]:
    """The lines of a text file that are not blank."""
    try:
        lines = _bytes(path).decode().splitlines()
    except UnicodeDecodeError:
        problem = Problem("not-text", path.name, "This is not UTF-8 text.", "Write one JSON document a line.")
        raise DocumentError(problem) from None
    return [line for line in lines if line.strip()]


def check_document(document: Any, schema: Mapping[str, Any], where: str) -> dict[str, Any]:
    """The document if its schema passes it; a DocumentError with every fault otherwise."""
    from jsonschema import Draft202012Validator  # slow to import, and not needed to show a picture

    faults = sorted(Draft202012Validator(schema).iter_errors(document), key=lambda fault: fault.json_path)
    if faults:
        raise DocumentError(
            Problem(
                "not-as-described",
                _place(where, fault.absolute_path),
                f"{fault.message[:300]}.",
                "See the schema in annotations/schemas.",
            )
            for fault in faults
        )
    found: dict[str, Any] = document
    return found


def marks_document(
    marks: Sequence[Mark], rule_book: str, recording_sha256: str | None, time_base: str
) -> dict[str, Any]:
    """``reviewer.marks/1``."""
    return {
        "format": "reviewer.marks/1",
        "rule_book": rule_book,
        "recording_sha256": recording_sha256,
        "time_base": time_base,
        "marks": [mark.to_json() for mark in marks],
    }


def marks_from_document(document: Mapping[str, Any], where: str = "marks") -> tuple[Mark, ...]:
    """The marks of a document that its schema has passed; twice the same id or an end before its start is refused."""
    marks = tuple(Mark.from_json(entry) for entry in document["marks"])
    problems = tuple(_contradictions(marks, where))
    if problems:
        raise DocumentError(problems)
    return marks


def _contradictions(marks: Sequence[Mark], where: str) -> Iterator[Problem]:
    for name, count in Counter(mark.id for mark in marks).items():
        if count > 1:
            yield Problem("twice", f"{where}: {name}", f"{count} marks have this id.", "Give each its own.")
    for mark in marks:
        if mark.start is not None and mark.end is not None and mark.end < mark.start:
            place = f"{where}: {mark.id}"
            yield Problem("ends-before-start", place, "It ends before it starts.", "Exchange start and end.")


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > LARGEST:
            raise DocumentError(
                Problem(
                    "too-large",
                    path.name,
                    "This file is too large for a document.",
                    "Check which file it is.",
                )
            )
        return path.read_bytes()
    except FileNotFoundError:
        raise DocumentError(
            Problem("no-file", str(path), "There is no such file.", "Check the path.")
        ) from None
    except IsADirectoryError:
        raise DocumentError(
            Problem("a-folder", str(path), "This is a folder.", "Name a file in it.")
        ) from None


def _without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    doubled = [name for name, count in Counter(name for name, _ in pairs).items() if count > 1]
    if doubled:
        raise ValueError(f"the key {doubled[0]!r} stands twice in one object")
    return dict(pairs)


def _place(where: str, steps: Any) -> str:
    path = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).lstrip(".")
    return f"{where}: {path}" if path else where
