"""Documents in and out, checked against their schemas; bags, and the signatures over them."""

from reviewer.exchange.bags import (
    ABSENT,
    IDENTIFIER,
    INFO,
    MANIFEST,
    PAYLOAD,
    UNLISTED,
    FileFault,
    check_bag,
    digest,
    is_bag,
    list_files,
    plain_files,
    said_of,
    signatures,
)
from reviewer.exchange.documents import check_document, parse_document, read_document, read_lines
from reviewer.exchange.marks import marks_document, marks_from_document
from reviewer.exchange.signing import (
    Signature,
    fingerprint,
    make_key,
    read_private,
    read_public,
    read_signature,
    sign,
    statement,
)
from reviewer.exchange.unpacking import is_zip, unpack

__all__ = [
    "ABSENT",
    "IDENTIFIER",
    "INFO",
    "MANIFEST",
    "PAYLOAD",
    "UNLISTED",
    "FileFault",
    "Signature",
    "check_bag",
    "check_document",
    "digest",
    "fingerprint",
    "is_bag",
    "is_zip",
    "list_files",
    "make_key",
    "marks_document",
    "marks_from_document",
    "parse_document",
    "plain_files",
    "read_document",
    "read_lines",
    "read_private",
    "read_public",
    "read_signature",
    "said_of",
    "sign",
    "signatures",
    "statement",
    "unpack",
]
