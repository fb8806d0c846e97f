"""What only a pass phrase opens: AES-256 in Galois/Counter Mode, its key drawn out of the pass phrase.

NIST SP 800-38D (GCM) and SP 800-132 (PBKDF2, here with HMAC-SHA-256), because the Web Cryptography API, which
every browser has, opens both without a library. The number of rounds is OWASP's of 2023 (from memory).
"""

import base64
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem

ROUNDS = 600_000
SALT_BYTES, NONCE_BYTES = 16, 12
SHORTEST = 8
"""Letters a pass phrase must have; what is shorter is guessed in hours."""


@dataclass(frozen=True, slots=True)
class Locked:
    """Bytes that a pass phrase opens. The salt and the nonce are no secrets and must never be used again."""

    salt: bytes
    nonce: bytes
    sealed: bytes

    def to_json(self) -> dict[str, Any]:
        """As a page carries it: base64, and what a browser must know to open it."""
        written = {"salt": self.salt, "nonce": self.nonce, "sealed": self.sealed}
        told = {"by": "AES-GCM-256", "key": "PBKDF2-HMAC-SHA-256", "rounds": ROUNDS}
        return told | {name: base64.b64encode(one).decode("ascii") for name, one in written.items()}

    @classmethod
    def from_json(cls, said: Mapping[str, Any]) -> "Locked":
        """From what a page carries; ValueError where it is none."""
        found = (
            base64.b64decode(str(said.get(name, "")), validate=True) for name in ("salt", "nonce", "sealed")
        )
        return cls(*found)


def refuse_short(pass_phrase: str) -> None:
    """DocumentError for a pass phrase that is too short."""
    if len(pass_phrase) < SHORTEST:
        said = message("A pass phrase of {count} letters is guessed too easily.", count=len(pass_phrase))
        remedy = message("Take {count} or more.", count=SHORTEST)
        raise DocumentError(Problem("short-pass-phrase", "pass phrase", said, remedy))


def lock(plain: bytes, pass_phrase: str, salt: bytes, nonce: bytes) -> Locked:
    """Lock bytes; DocumentError for a pass phrase that is too short."""
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    refuse_short(pass_phrase)
    return Locked(salt, nonce, AESGCM(_key(pass_phrase, salt)).encrypt(nonce, plain, None))


def unlock(locked: Locked, pass_phrase: str) -> bytes:
    """The bytes again; DocumentError for another pass phrase, or where anything was changed."""
    from cryptography.exceptions import InvalidTag
    from cryptography.hazmat.primitives.ciphers.aead import AESGCM

    try:
        return AESGCM(_key(pass_phrase, locked.salt)).decrypt(locked.nonce, locked.sealed, None)
    except (InvalidTag, ValueError):
        said, remedy = message("This pass phrase does not open it."), message("Type it again.")
        raise DocumentError(Problem("wrong-pass-phrase", "pass phrase", said, remedy)) from None


def _key(pass_phrase: str, salt: bytes) -> bytes:
    from cryptography.hazmat.primitives.hashes import SHA256
    from cryptography.hazmat.primitives.kdf.pbkdf2 import PBKDF2HMAC

    return PBKDF2HMAC(SHA256(), 32, salt, ROUNDS).derive(pass_phrase.encode("utf-8"))
