"""JSON documents in and out, checked against their schemas."""

from reviewer.exchange.documents import check_document, parse_document, read_document, read_lines
from reviewer.exchange.marks import marks_document, marks_from_document

__all__ = [
    "check_document",
    "marks_document",
    "marks_from_document",
    "parse_document",
    "read_document",
    "read_lines",
]
