"""Bags: a folder whose files are listed with their SHA-256, by RFC 8493 (BagIt 1.0).

Nothing in a bag is believed: links are never followed, and a path that leads out of the bag is never opened.
"""

import os
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from hashlib import sha256
from pathlib import Path

DECLARATION, INFO, FETCH = "bagit.txt", "bag-info.txt", "fetch.txt"
MANIFEST, TAG_MANIFEST = "manifest-sha256.txt", "tagmanifest-sha256.txt"
PAYLOAD = "data"
SIGNATURES = re.compile(r"signature-[0-9a-f]{16}\.json")
"""Tag files that are no part of the tag manifest, since they are made over it."""

IDENTIFIER = "External-Identifier"
"""What a bag says it was packed after: the hash of its chain's last event."""

_DECLARED = b"BagIt-Version: 1.0\nTag-File-Character-Encoding: UTF-8\n"
_LINE = re.compile(r"([0-9a-f]{64}) {1,2}(\S.*)")
"""Stricter than RFC 8493, 2.1.3, has to be, so that no byte of a manifest changes unnoticed."""
_LONGEST = 16 * 1024 * 1024
"""Bytes of the longest tag file that is read."""
ABSENT, UNLISTED = "(absent)", "(not listed)"
"""What stands for a file that is not there, and for the digest of one that no manifest lists."""


@dataclass(frozen=True, slots=True)
class FileFault:
    """One file of a bag that is not as listed.

    Attributes:
        where: its path in the bag.
        listed, found: what the bag says of it, and what is there.
    """

    where: str
    listed: str
    found: str


def is_bag(folder: Path) -> bool:
    """Whether a folder is laid out as a bag, be it a damaged one."""
    return any((folder / name).is_file() for name in (DECLARATION, MANIFEST))


def list_files(folder: Path, info: Mapping[str, str]) -> None:
    """Make a bag of a folder whose ``data`` is filled: declaration, ``info`` in its order, manifests.

    Names of files must be plain: neither per cent sign nor line end, which would have to be encoded.
    """
    payload = {name: folder / name for name in plain_files(folder) if name.startswith(f"{PAYLOAD}/")}
    octets = sum(path.stat().st_size for path in payload.values())
    said = {**info, "Payload-Oxum": f"{octets}.{len(payload)}"}
    (folder / MANIFEST).write_bytes(_listing(payload))
    (folder / DECLARATION).write_bytes(_DECLARED)
    (folder / INFO).write_bytes("".join(f"{label}: {value}\n" for label, value in said.items()).encode())
    tags = {name: folder / name for name in (INFO, DECLARATION, MANIFEST)}
    (folder / TAG_MANIFEST).write_bytes(_listing(tags))


def check_bag(folder: Path) -> tuple[FileFault, ...]:
    """Every file that is missing, changed, not listed or no file at all, and every path that leads astray."""
    there = dict(_files(folder))
    faults = [FileFault(name, "a file", what) for name, what in there.items() if what != "file"]
    files = {name for name, what in there.items() if what == "file"}
    for manifest, of_payload in ((MANIFEST, True), (TAG_MANIFEST, False)):
        if manifest not in files:
            faults.append(FileFault(manifest, "a file", ABSENT))
            continue
        listed: dict[str, str] = {}
        faults += _read(folder, manifest, listed)
        own = {name for name in files if name.startswith(f"{PAYLOAD}/") is of_payload}
        faults += _unlike(folder, listed, own - {TAG_MANIFEST} - _signatures(own))
    faults += _declared_otherwise(folder, files)
    found = {_printable(one) for one in faults or _counted_otherwise(folder, files)}
    return tuple(sorted(found, key=lambda one: (one.where, one.found)))


def said_of(folder: Path, label: str) -> tuple[str, ...]:
    """What ``bag-info.txt`` says under a label (RFC 8493, 2.2.2), in its order."""
    if INFO not in plain_files(folder):
        return ()
    found = re.findall(rf"^{label}:(.*)$", _text(folder / INFO), re.MULTILINE | re.IGNORECASE)
    return tuple(one.strip() for one in found)


def signatures(folder: Path) -> tuple[Path, ...]:
    """The signatures a bag carries, in the order of their names."""
    found = _signatures({name for name, what in _files(folder) if what == "file"})
    return tuple(folder / name for name in sorted(found))


def plain_files(folder: Path) -> frozenset[str]:
    """Paths of the files in a bag that are neither links nor anything else that may not be opened."""
    return frozenset(name for name, what in _files(folder) if what == "file")


def _signatures(names: set[str]) -> set[str]:
    return {name for name in names if SIGNATURES.fullmatch(name)}


def _files(folder: Path) -> Iterator[tuple[str, str]]:
    """Path and nature of everything in a folder that is no folder; links are not followed."""
    waiting = [""]
    while waiting:
        under = waiting.pop()
        for entry in os.scandir(folder / under):
            name = f"{under}{entry.name}"
            if entry.is_symlink():
                yield name, "a link"
            elif entry.is_dir(follow_symlinks=False):
                waiting.append(f"{name}/")
            else:
                yield name, "file" if entry.is_file(follow_symlinks=False) else "no plain file"


def _printable(fault: FileFault) -> FileFault:
    """A fault whose names do no harm on a terminal or in a document, whatever signs they hold."""
    texts = (fault.where, fault.listed, fault.found)
    return FileFault(*("".join(map(_sign, text)) for text in texts))


def _sign(sign: str) -> str:
    return sign if sign.isprintable() else ascii(sign)[1:-1]


def _listing(files: Mapping[str, Path]) -> bytes:
    return "".join(f"{digest(files[name])}  {name}\n" for name in sorted(files)).encode()


def _read(folder: Path, manifest: str, listed: dict[str, str]) -> Iterator[FileFault]:
    """Fill ``listed`` with what a manifest says; its own faults come out, with their line."""
    *lines, rest = _text(folder / manifest).split("\n")
    for number, line in enumerate([*lines, rest] if rest else lines, start=1):
        found = _LINE.fullmatch(line)
        name = _decoded(found[2]) if found and number <= len(lines) else ""
        where = f"{manifest}: line {number}"
        if found is None:
            yield FileFault(where, line, "no digest and path")
        elif not _stays_inside(name) or name.startswith(f"{PAYLOAD}/") is not (manifest == MANIFEST):
            yield FileFault(where, name, "a path that may not stand here; it was not opened")
        elif name in listed:
            yield FileFault(where, name, "listed twice")
        else:
            listed[name] = found[1]


def _unlike(folder: Path, listed: Mapping[str, str], files: set[str]) -> Iterator[FileFault]:
    for name in listed.keys() | files:
        said, found = listed.get(name), digest(folder / name) if name in files else ABSENT
        if said != found:
            yield FileFault(name, said or UNLISTED, found)


def _declared_otherwise(folder: Path, files: set[str]) -> Iterator[FileFault]:
    if DECLARATION not in files:
        yield FileFault(DECLARATION, "a file", ABSENT)
    elif (folder / DECLARATION).read_bytes()[: _LONGEST + 1] != _DECLARED:
        yield FileFault(DECLARATION, "BagIt-Version: 1.0 in UTF-8", "another declaration")
    if FETCH in files:
        yield FileFault(FETCH, "all files in the bag", "files to be loaded from elsewhere")


def _counted_otherwise(folder: Path, files: set[str]) -> Iterator[FileFault]:
    payload = [folder / name for name in files if name.startswith(f"{PAYLOAD}/")]
    counted = f"{sum(path.stat().st_size for path in payload)}.{len(payload)}"
    for told in said_of(folder, "Payload-Oxum"):
        if told != counted:
            yield FileFault(f"{INFO}: Payload-Oxum", told, counted)


def _stays_inside(name: str) -> bool:
    """Whether a path can only mean a file in the bag, on any system."""
    steps = name.split("/")
    plain = not re.search(r"[\\:\x00-\x1f\x7f]", name) and not name.startswith("~")
    return plain and all(step not in ("", ".", "..") for step in steps)


def _decoded(name: str) -> str:
    """A path as meant. RFC 8493, 2.1.3: the per cent sign and line ends are encoded."""
    return re.sub("%(25|0[AaDd])", lambda code: chr(int(code[1], 16)), name)


def _text(path: Path) -> str:
    with path.open("rb") as file:
        return file.read(_LONGEST).decode("utf-8", "replace")


def digest(path: Path) -> str:
    """SHA-256 of a file's bytes."""
    made = sha256()
    with path.open("rb") as file:
        while block := file.read(1 << 20):
            made.update(block)
    return made.hexdigest()
