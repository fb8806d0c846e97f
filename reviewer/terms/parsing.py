"""One way to read JSON that came from outside, so that no document is taken for what it is not."""

import json
import re
from collections import Counter
from collections.abc import Callable
from functools import partial
from typing import Any

from reviewer.terms.messages import Message, message, reason, spoken
from reviewer.terms.problems import DocumentError, Problem

DEEPEST = 100
"""Arrays and objects that may stand inside one another; what this program writes stays below twenty."""
_TOKEN = re.compile(r'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)


def without_doubles(pairs: list[tuple[str, Any]]) -> dict[str, Any]:
    """An object of these keys; ValueError where one stands twice, as readers would not agree which holds."""
    found = dict(pairs)
    if len(found) < len(pairs):
        doubled = next(name for name, count in Counter(name for name, _ in pairs).items() if count > 1)
        raise ValueError(message("the key {key} stands twice in one object", key=repr(doubled[:80])))
    return found


_strict = partial(json.loads, object_pairs_hook=without_doubles)


def parsed(content: str | bytes, decode: Callable[[str], Any] = _strict) -> Any:
    """What a JSON text says. ValueError for anything else, and for what is nested deeper than `DEEPEST`."""
    if isinstance(content, bytes):
        content = content.decode(json.detect_encoding(content))
    if content.count("[") + content.count("{") > DEEPEST:
        _refuse_deep(content)
    return decode(content)


def parsed_object(content: bytes, where: str) -> dict[str, Any]:
    """The JSON object that a file named ``where`` holds; a DocumentError for anything else."""
    remedy = message("Ask for a copy that is whole.")
    try:
        found = parsed(content)
    except ValueError as fault:
        raise DocumentError(
            Problem("not-json", where, message("This is not JSON: {reason}.", reason=unread(fault)), remedy)
        ) from None
    if not isinstance(found, dict):
        raise DocumentError(Problem("not-json", where, message("This is not a JSON object."), remedy))
    return found


def unread(fault: ValueError) -> Message:
    """What is wrong with a text that is no JSON, and at which line and column."""
    if isinstance(fault, UnicodeDecodeError):
        return message("it is no text in UTF-8")
    if not isinstance(fault, json.JSONDecodeError):
        return reason(fault)
    return message(
        "{what}: line {line} column {column}", what=spoken(fault.msg), line=fault.lineno, column=fault.colno
    )


def _refuse_deep(text: str) -> None:
    depth = 0
    for token in _TOKEN.finditer(text):
        depth += {"[": 1, "{": 1, "]": -1, "}": -1}.get(token[0], 0)
        if depth > DEEPEST:
            raise json.JSONDecodeError(f"nested deeper than {DEEPEST}", text, token.start())
