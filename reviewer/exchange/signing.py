"""Signatures over a bag: Ed25519 (RFC 8032) over a statement of its manifests and its chain's head."""

import base64
import os
from collections.abc import Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path
from typing import TYPE_CHECKING, Any, NoReturn

from reviewer.exchange.bags import MANIFEST, TAG_MANIFEST, digest
from reviewer.terms.canonical import canonical, readable
from reviewer.terms.messages import Message, message
from reviewer.terms.parsing import parsed
from reviewer.terms.problems import DocumentError, Problem

if TYPE_CHECKING:
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey, Ed25519PublicKey

FORMAT, STATEMENT = "reviewer.signature/1", "reviewer.signed-bag/1"
_LONGEST = 64 * 1024


@dataclass(frozen=True, slots=True)
class Signature:
    """A signature as a bag carries it; nothing in it is believed.

    Attributes:
        signer: fingerprint of the public key: SHA-256 of its 32 bytes.
        signed: the statement it is said to be of.
        sound: whether it is that key's signature of that statement.
    """

    signer: str
    signed: Mapping[str, Any]
    sound: bool


def make_key(path: Path) -> tuple[Path, str]:
    """Make a key: the private one at ``path``, for its owner only, the public one beside it.

    Neither overwrites a file. Returns the public key's file and its fingerprint.
    """
    from cryptography.hazmat.primitives import serialization as form
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey

    key = Ed25519PrivateKey.generate()
    public = path.with_name(f"{path.stem}.public.pem")
    private_pem = key.private_bytes(form.Encoding.PEM, form.PrivateFormat.PKCS8, form.NoEncryption())
    public_pem = key.public_key().public_bytes(form.Encoding.PEM, form.PublicFormat.SubjectPublicKeyInfo)
    for place in (path, public):
        if place.exists():
            _refuse(
                "key-exists",
                str(place),
                message("There is a file of this name."),
                message("Choose another name."),
            )
    _write_new(path, private_pem, 0o600)
    _write_new(public, public_pem, 0o644)
    return public, fingerprint(key.public_key())


def read_private(path: Path) -> "Ed25519PrivateKey":
    """A private key made by `make_key`; a DocumentError for anything else."""
    from cryptography.exceptions import UnsupportedAlgorithm
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PrivateKey
    from cryptography.hazmat.primitives.serialization import load_pem_private_key

    try:
        key = load_pem_private_key(_bytes(path), password=None)
    except (ValueError, TypeError, UnsupportedAlgorithm):
        key = None
    if not isinstance(key, Ed25519PrivateKey):
        _refuse(
            "not-a-key",
            path.name,
            message("This is no private Ed25519 key."),
            message("Make one with `reviewer key`."),
        )
    return key


def read_public(path: Path) -> "Ed25519PublicKey":
    """A public key as a PEM file; a DocumentError for anything else."""
    from cryptography.exceptions import UnsupportedAlgorithm
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey
    from cryptography.hazmat.primitives.serialization import load_pem_public_key

    try:
        key = load_pem_public_key(_bytes(path))
    except (ValueError, UnsupportedAlgorithm):
        key = None
    if not isinstance(key, Ed25519PublicKey):
        remedy = message("Name the signer's public key, such as `judge.public.pem`.")
        _refuse("not-a-key", path.name, message("This is no public Ed25519 key."), remedy)
    return key


def fingerprint(key: "Ed25519PublicKey") -> str:
    """SHA-256 of a public key's 32 bytes."""
    return sha256(key.public_bytes_raw()).hexdigest()


def statement(bag: Path, head: str, events: int) -> dict[str, Any]:
    """What is signed of a bag: the bytes of both manifests, and the chain's last event and length.

    Of a manifest that is not there, or is a link, the digest is empty.
    """
    return {
        "format": STATEMENT,
        "manifest_sha256": _digest_of(bag / MANIFEST),
        "tagmanifest_sha256": _digest_of(bag / TAG_MANIFEST),
        "head": head,
        "events": events,
    }


def sign(bag: Path, key: "Ed25519PrivateKey", said: Mapping[str, Any]) -> Path:
    """Write the signature of a statement into a bag; the same key and statement give the same file."""
    raw = key.public_key().public_bytes_raw()
    document = {
        "format": FORMAT,
        "signed": dict(said),
        "public_key": base64.b64encode(raw).decode(),
        "signature": base64.b64encode(key.sign(canonical(dict(said)))).decode(),
    }
    place = bag / f"signature-{fingerprint(key.public_key())[:16]}.json"
    place.write_bytes(readable(document))
    return place


def read_signature(path: Path) -> Signature | None:
    """A signature of a bag and whether it is what it says; None where it cannot be read."""
    from cryptography.exceptions import InvalidSignature
    from cryptography.hazmat.primitives.asymmetric.ed25519 import Ed25519PublicKey

    try:
        document = parsed(_bytes(path))
        signed = dict(document["signed"])
        key = Ed25519PublicKey.from_public_bytes(_decoded(document["public_key"]))
        signature = _decoded(document["signature"])
        said = canonical(signed)
    except (ValueError, KeyError, TypeError, AttributeError):
        return None
    try:
        key.verify(signature, said)
    except InvalidSignature:
        return Signature(fingerprint(key), signed, sound=False)
    return Signature(fingerprint(key), signed, sound=True)


def _digest_of(path: Path) -> str:
    return digest(path) if path.is_file() and not path.is_symlink() else ""


def _decoded(text: str) -> bytes:
    return base64.b64decode(text, validate=True)


def _bytes(path: Path) -> bytes:
    with path.open("rb") as file:
        return file.read(_LONGEST)


def _write_new(path: Path, content: bytes, mode: int) -> None:
    place = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, mode)
    with os.fdopen(place, "wb") as file:
        file.write(content)


def _refuse(code: str, where: str, said: Message, remedy: Message) -> NoReturn:
    raise DocumentError(Problem(code, where, said, remedy)) from None
