"""Reading documents that people hand in: every fault at once, with its place and a remedy."""

import json
from collections.abc import Iterable, Mapping, Sequence
from functools import partial
from pathlib import Path
from typing import Any, NoReturn

from reviewer.terms.messages import Message, either, message, noted, reason, spoken
from reviewer.terms.parsing import parsed, unread, without_doubles
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
        remedy = message("Hand in {what} as a JSON document.", what=spoken(what))
        raise DocumentError(
            Problem("not-json", where, message("This is not JSON: {reason}.", reason=unread(fault)), remedy)
        ) from None
    return check_document(document, schema, where)


def read_lines(path: Path) -> Sequence[tuple[int, str]]:
    """The lines of a text file that are not blank, with their numbers from 1; refused where there is none."""
    try:
        lines = _bytes(path).decode().split("\n")
    except UnicodeDecodeError:
        problem = Problem(
            "not-text",
            path.name,
            message("This is not UTF-8 text."),
            message("Write one JSON document a line."),
        )
        raise DocumentError(problem) from None
    found = [(number, line) for number, line in enumerate(lines, start=1) if line.strip()]
    if not found:
        problem = Problem(
            "empty",
            path.name,
            message("This file holds no line."),
            message("Write one JSON document a line."),
        )
        raise DocumentError(problem)
    return found


def _in_words(fault: Any) -> tuple[Message, Message]:
    """What is wrong with a part of a document, and how it must be."""
    shown = json.dumps(fault.instance, ensure_ascii=False)[:80]
    described = fault.schema.get("description") if isinstance(fault.schema, Mapping) else None
    remedy = (
        message("It must be: {described}", described=spoken(described))
        if described
        else message("See the schema in annotations/schemas.")
    )
    if fault.validator == "pattern":
        return message("{shown} is not written as it must be.", shown=shown), remedy
    if fault.validator == "type":
        kinds = [fault.validator_value] if isinstance(fault.validator_value, str) else fault.validator_value
        wanted = either([_KINDS[one] for one in kinds])
        return message("{shown} may not stand here: this must be {kinds}.", shown=shown, kinds=wanted), remedy
    if fault.validator in ("anyOf", "oneOf", "enum", "const"):
        allowed = fault.schema.get("enum")
        if allowed is not None:
            remedy = message("Write one of: {words}.", words=", ".join(map(_written, allowed)))
        return message("{shown} may not stand here.", shown=shown), remedy
    return _of_size(fault, shown), remedy


def _of_size(fault: Any, shown: str) -> Message:
    """What is wrong with the number or length of something, or with its fields."""
    if fault.validator == "required":
        return message("{field} is missing.", field=fault.message.removesuffix(" is a required property"))
    if fault.validator == "additionalProperties":
        known = fault.schema.get("properties", {})
        fields = ", ".join(repr(one) for one in fault.instance if one not in known)
        return message("{fields} may not stand here.", fields=fields)
    said = _SIZES.get(fault.validator)
    if said is None:
        return message("{reason}.", reason=spoken(fault.message[:300]))
    return message(said, shown=shown, size=fault.validator_value)


_SIZES = {
    "minimum": noted("{shown} is less than {size}."),
    "maximum": noted("{shown} is more than {size}."),
    "exclusiveMinimum": noted("{shown} is not more than {size}."),
    "exclusiveMaximum": noted("{shown} is not less than {size}."),
    "minItems": noted("{shown} has fewer than {size} entries."),
    "maxItems": noted("{shown} has more than {size} entries."),
    "minLength": noted("{shown} has fewer than {size} letters."),
    "maxLength": noted("{shown} has more than {size} letters."),
    "minProperties": noted("{shown} has fewer than {size} fields."),
    "uniqueItems": noted("{shown} names one thing twice."),
}
"""What is wrong where a size is, by the keyword of JSON Schema."""

_KINDS = {
    "string": noted("text"),
    "array": noted("a list"),
    "object": noted("an object"),
    "integer": noted("a whole number"),
    "number": noted("a number"),
    "boolean": noted("true or false"),
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
            _stop(
                "too-large",
                path.name,
                message("This file is too large for a document."),
                message("See which file it is."),
            )
        return path.read_bytes()
    except FileNotFoundError:
        _stop("no-file", str(path), message("There is no such file."), message("Check the path."))
    except IsADirectoryError:
        _stop("a-folder", str(path), message("This is a folder."), message("Name a file in it."))
    except OSError as fault:
        _stop(
            "cannot-read",
            str(path),
            message("It cannot be read: {reason}.", reason=reason(fault)),
            message("See that you may read it."),
        )


def _stop(code: str, where: str, said: Message, remedy: Message) -> NoReturn:
    raise DocumentError(Problem(code, where, said, remedy)) from None


def _number(text: str) -> int | float:
    """JSON has one kind of number, so 2.0 is the whole number 2."""
    number = float(text)
    return int(number) if number.is_integer() else number


def _refuse(name: str) -> NoReturn:
    raise ValueError(f"{name} is no JSON number")


_decode = partial(json.loads, object_pairs_hook=without_doubles, parse_float=_number, parse_constant=_refuse)
