"""One way to write JSON as bytes, so that a hash means the same everywhere."""

import json
from typing import Any


def canonical(document: Any) -> bytes:
    """Sorted keys, no white space, UTF-8: RFC 8785 for documents without floats.

    Keys sort by UTF-16 code units (RFC 8785 section 3.2.3). ValueError for a float, for half of a
    surrogate pair and for a key that is not text: they have no canonical form here.
    """
    return _text(_ordered(document), indent=None).encode("utf-8")


def readable(document: Any) -> bytes:
    """The same order with line breaks, for files that people open."""
    return (_text(_ordered(document), indent=1) + "\n").encode("utf-8")


def _text(document: Any, indent: int | None) -> str:
    separators = (",", ":") if indent is None else (",", ": ")
    return json.dumps(document, ensure_ascii=False, separators=separators, indent=indent, allow_nan=False)


def _ordered(document: Any) -> Any:
    if isinstance(document, dict):
        return {key: _ordered(document[key]) for key in sorted(document, key=_code_units)}
    if isinstance(document, (list, tuple)):
        return [_ordered(one) for one in document]
    if document is None or isinstance(document, (str, bool, int)):
        return document
    raise ValueError(f"{type(document).__name__} has no canonical form here; write quantities as text")


def _code_units(key: Any) -> bytes:
    if not isinstance(key, str):
        raise ValueError(f"{key!r} cannot be a key; keys are text")
    return key.encode("utf-16-be", "surrogatepass")
