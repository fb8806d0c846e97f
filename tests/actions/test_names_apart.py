"""The names behind athletes' codes: one file apart from every case, which only a pass phrase opens."""

import base64
import json
import stat
from pathlib import Path

import pytest
from cryptography.exceptions import InvalidTag
from cryptography.hazmat.primitives.ciphers.aead import AESGCM
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.kdf.pbkdf2 import PBKDF2HMAC

from reviewer import actions
from reviewer.terms.problems import DocumentError

PHRASE = "beam, bars and a blue mat"


@pytest.fixture
def file(tmp_path: Path) -> Path:
    """A file with one name."""
    place = tmp_path / "names.json"
    actions.set_name("G-12", "Mirabelle", PHRASE, place)
    return place


def code_of(refused: pytest.ExceptionInfo[DocumentError]) -> str:
    return refused.value.problems[0].code


def test_what_is_kept_comes_back_and_what_is_forgotten_is_gone(file: Path) -> None:
    actions.set_name("G-07", "Ottilie", PHRASE, file)
    assert actions.known_names(PHRASE, file) == {"G-07": "Ottilie", "G-12": "Mirabelle"}
    actions.forget_name("G-12", PHRASE, file)
    assert actions.known_names(PHRASE, file) == {"G-07": "Ottilie"}


def test_the_file_shows_neither_name_nor_code_and_is_its_owners_alone(file: Path) -> None:
    content = file.read_bytes()
    assert b"Mirabelle" not in content
    assert b"G-12" not in content
    assert stat.S_IMODE(file.stat().st_mode) == 0o600
    assert [one.name for one in file.parent.iterdir()] == ["names.json"]


def test_the_cipher_is_the_published_one(file: Path) -> None:
    """AES-GCM (NIST SP 800-38D) and PBKDF2 (SP 800-132) by the library `cryptography`, without our code."""
    said = json.loads(file.read_bytes())
    salt, nonce, sealed = (base64.b64decode(said[one]) for one in ("salt", "nonce", "sealed"))

    def opened(phrase: str) -> bytes:
        key = PBKDF2HMAC(SHA256(), 32, salt, said["rounds"]).derive(phrase.encode())
        return AESGCM(key).decrypt(nonce, sealed, None)

    assert json.loads(opened(PHRASE)) == {"G-12": "Mirabelle"}
    with pytest.raises(InvalidTag):
        opened(PHRASE + ".")


def test_each_writing_takes_fresh_salt_and_nonce(file: Path) -> None:
    before = json.loads(file.read_bytes())
    actions.set_name("G-12", "Mirabelle", PHRASE, file)
    after = json.loads(file.read_bytes())
    assert all(before[one] != after[one] for one in ("salt", "nonce", "sealed"))


def test_a_wrong_pass_phrase_opens_nothing_and_changes_nothing(file: Path) -> None:
    before = file.read_bytes()
    for does in (
        lambda: actions.known_names("another phrase", file),
        lambda: actions.set_name("G-07", "Ottilie", "another phrase", file),
        lambda: actions.forget_name("G-12", "another phrase", file),
    ):
        with pytest.raises(DocumentError) as refused:
            does()
        assert code_of(refused) == "wrong-pass-phrase"
    assert file.read_bytes() == before


def test_a_changed_letter_is_noticed(file: Path) -> None:
    said = json.loads(file.read_bytes())
    sealed = bytearray(base64.b64decode(said["sealed"]))
    sealed[0] ^= 1
    file.write_text(json.dumps(said | {"sealed": base64.b64encode(bytes(sealed)).decode()}))
    with pytest.raises(DocumentError) as refused:
        actions.known_names(PHRASE, file)
    assert code_of(refused) == "wrong-pass-phrase"


@pytest.mark.parametrize(
    ("content", "code"),
    [
        (b"", "names-damaged"),
        (b"\xff\xfe", "names-damaged"),
        (b"[1]", "names-damaged"),
        (b'{"format": "reviewer.names/1", "salt": "?", "nonce": "", "sealed": ""}', "names-damaged"),
        (b'{"format": "reviewer.marks/1"}', "names-damaged"),
        (b'{"format": "reviewer.names/2"}', "newer-names"),
    ],
)
def test_a_file_that_is_damaged_or_newer_is_named(file: Path, content: bytes, code: str) -> None:
    file.write_bytes(content)
    with pytest.raises(DocumentError) as refused:
        actions.known_names(PHRASE, file)
    assert (code_of(refused), refused.value.problems[0].where) == (code, str(file))
    assert file.read_bytes() == content


@pytest.mark.parametrize(("code", "name"), [("Mirabelle", "Mirabelle"), ("G-12", " "), ("G-12", "a\nb")])
def test_codes_are_no_names_and_names_are_one_line(file: Path, code: str, name: str) -> None:
    with pytest.raises(DocumentError):
        actions.set_name(code, name, PHRASE, file)


def test_a_short_pass_phrase_is_refused(tmp_path: Path) -> None:
    with pytest.raises(DocumentError) as refused:
        actions.set_name("G-12", "Mirabelle", "bars", tmp_path / "names.json")
    assert code_of(refused) == "short-pass-phrase"
    assert list(tmp_path.iterdir()) == []
