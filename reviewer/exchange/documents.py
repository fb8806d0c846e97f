"""Reading documents that people hand in: every fault at once, with its place and a remedy."""

import json
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NoReturn

from reviewer.terms.parsing import parsed, without_doubles
from reviewer.terms.problems import DocumentError, Problem

LARGEST = 64 * 1024 * 1024
"""Bytes of the largest document that is read."""


def read_document(path: Path, schema: Mapping[str, Any], what: str) -> dict[str, Any]:
    """A JSON document of a kind, as its schema passes it; a DocumentError with every fault."""
    named = path.name if path.is_file() else str(path)  # such as /dev/stdin
    return parse_document(_bytes(path), schema, what, named)


def parse_document(text: str | bytes, schema: Mapping[str, Any], what: str, where: str) -> dict[str, Any]:
    """A JSON document of a kind that stands at ``where``; a DocumentError with every fault."""
    try:
        document = parsed(text, _decode)
    except ValueError as fault:
        remedy = f"Hand in {what} as a JSON document."
        raise DocumentError(Problem("not-json", where, f"This is not JSON: {fault}.", remedy)) from None
    return check_document(document, schema, where)


def read_lines(path: Path) -> Sequence[tuple[int, str]]:
    """The lines of a text file that are not blank, with their numbers from 1; refused where there is none."""
    try:
        lines = _bytes(path).decode().split("\n")
    except UnicodeDecodeError:
        problem = Problem("not-text", path.name, "This is not UTF-8 text.", "Write one JSON document a line.")
        raise DocumentError(problem) from None
    found = [(number, line) for number, line in enumerate(lines, start=1) if line.strip()]
    if not found:
        problem = Problem("empty", path.name, "This file holds no line.", "Write one JSON document a line.")
        raise DocumentError(problem)
    return found


def _in_words(fault: Any) -> tuple[str, str]:
    """What is wrong with a part of a document, and how it must be."""
    shown = json.dumps(fault.instance, ensure_ascii=False)[:80]
    described = fault.schema.get("description") if isinstance(fault.schema, Mapping) else None
    remedy = f"It must be: {described}" if described else "See the schema in annotations/schemas."
    if fault.validator == "pattern":
        return f"{shown} is not written as it must be.", remedy
    if fault.validator == "type":
        kinds = [fault.validator_value] if isinstance(fault.validator_value, str) else fault.validator_value
        return (
            f"{shown} may not stand here: this must be {' or '.join(_KINDS[one] for one in kinds)}.",
            remedy,
        )
    if fault.validator in ("anyOf", "oneOf", "enum", "const"):
        allowed = fault.schema.get("enum")
        if allowed is not None:
            return f"{shown} may not stand here.", f"Write one of: {', '.join(map(_written, allowed))}."
        return f"{shown} may not stand here.", remedy
    return f"{fault.message[:300]}.", remedy


_KINDS = {
    "string": "text",
    "array": "a list",
    "object": "an object",
    "integer": "a whole number",
    "number": "a number",
    "boolean": "true or false",
    "null": "null",
}
"""The kinds of JSON Schema in words."""


def _written(word: Any) -> str:
    """A value as it is written in a document; words without their marks."""
    return word if isinstance(word, str) else json.dumps(word)


def check_document(document: Any, schema: Mapping[str, Any], where: str) -> dict[str, Any]:
    """The document if its schema passes it; a DocumentError with every fault otherwise."""
    from jsonschema import Draft202012Validator  # slow to import, and not needed to show a picture

    faults = sorted(Draft202012Validator(schema).iter_errors(document), key=lambda fault: fault.json_path)
    if faults:
        raise DocumentError(
            Problem(
                "not-as-described",
                place(where, fault.absolute_path),
                *_in_words(fault),
            )
            for fault in faults
        )
    found: dict[str, Any] = document
    return found


def place(where: str, steps: Iterable[str | int]) -> str:
    """The place of a value in a document, such as ``marks.json: marks[3].amount``."""
    path = "".join(f"[{step}]" if isinstance(step, int) else f".{step}" for step in steps).lstrip(".")
    return f"{where}: {path}" if path else where


def _bytes(path: Path) -> bytes:
    try:
        if path.stat().st_size > LARGEST:
            _stop("too-large", path.name, "This file is too large for a document.", "See which file it is.")
        return path.read_bytes()
    except FileNotFoundError:
        _stop("no-file", str(path), "There is no such file.", "Check the path.")
    except IsADirectoryError:
        _stop("a-folder", str(path), "This is a folder.", "Name a file in it.")
    except OSError as fault:
        _stop("cannot-read", str(path), f"It cannot be read: {fault.strerror}.", "See that you may read it.")


def _stop(code: str, where: str, message: str, remedy: str) -> NoReturn:
    raise DocumentError(Problem(code, where, message, remedy)) from None


def _number(text: str) -> int | float:
    """JSON has one kind of number, so 2.0 is the whole number 2."""
    number = float(text)
    return int(number) if number.is_integer() else number


def _refuse(name: str) -> NoReturn:
    raise ValueError(f"{name} is no JSON number")


_decode = partial(json.loads, object_pairs_hook=without_doubles, parse_float=_number, parse_constant=_refuse)
