"""Taking a bag out of a ZIP file, which may have been made to do harm."""

import stat
import zlib
from pathlib import Path, PurePosixPath
from typing import NoReturn
from zipfile import BadZipFile, ZipFile, ZipInfo

from reviewer.exchange.bags import is_bag
from reviewer.terms.messages import Message, message, reason
from reviewer.terms.problems import DocumentError, Problem

MOST_FILES = 1000
LARGEST = 16 * 1024**3
"""Bytes of all files together: a recording of hours fits."""
TIGHTEST, ALWAYS = 100, 64 * 1024 * 1024
"""How many times its size a file may unfold to, beyond what is always let through."""
_BLOCK = 1 << 20


def is_zip(path: Path) -> bool:
    """Whether a file begins as ZIP files do."""
    with path.open("rb") as file:
        return file.read(4) == b"PK\x03\x04"


def unpack(archive: Path, folder: Path) -> Path:
    """Unpack into an empty folder; where the bag is in it. A DocumentError for what is not safe or whole."""
    try:
        with ZipFile(archive) as packed:
            entries = packed.infolist()
            _refuse_unsafe(archive, entries)
            for entry in entries:
                _unpack_one(packed, entry, folder, archive)
    except (BadZipFile, zlib.error, EOFError, NotImplementedError, RuntimeError) as fault:
        _refuse(
            archive.name,
            message("It cannot be unpacked: {reason}.", reason=reason(fault)),
            message("Ask for a copy that is whole."),
        )
    bags = [place for place in (folder, *folder.iterdir()) if place.is_dir() and is_bag(place)]
    return bags[0] if len(bags) == 1 else folder


def _refuse_unsafe(archive: Path, entries: list[ZipInfo]) -> None:
    if len(entries) > MOST_FILES:
        _refuse(
            archive.name,
            message("It holds {count} files; a bag has a few.", count=len(entries)),
            message("Ask what it is."),
        )
    unfolded = sum(entry.file_size for entry in entries)
    if unfolded > min(LARGEST, ALWAYS + TIGHTEST * archive.stat().st_size):
        _refuse(
            archive.name,
            message("It would unfold to {size} bytes.", size=unfolded),
            message("Ask for the folder itself."),
        )
    seen: set[str] = set()
    for entry in entries:
        where, name = f"{archive.name}: {entry.filename[:200]}", entry.filename.rstrip("/").casefold()
        if _leads_astray(entry.orig_filename) or name in seen:
            _refuse(
                where,
                message("This path leads out of it or stands twice."),
                message("Ask for the folder itself."),
            )
        if stat.S_IFMT(entry.external_attr >> 16) not in (0, stat.S_IFREG, stat.S_IFDIR):
            _refuse(where, message("This is a link or no plain file."), message("Ask for the folder itself."))
        if entry.flag_bits & 1:
            _refuse(where, message("It is encrypted."), message("Ask for an archive without a password."))
        seen.add(name)


def _leads_astray(name: str) -> bool:
    steps = PurePosixPath(name).parts
    odd = any(ord(sign) < 32 or sign in '\\:"<>|?*' for sign in name)
    return odd or not steps or name.startswith(("/", "~")) or ".." in steps


def _unpack_one(packed: ZipFile, entry: ZipInfo, folder: Path, archive: Path) -> None:
    place = folder / entry.filename
    if entry.is_dir():
        place.mkdir(parents=True, exist_ok=True)
        return
    place.parent.mkdir(parents=True, exist_ok=True)
    left = entry.file_size
    with packed.open(entry) as source, place.open("xb") as target:
        while block := source.read(_BLOCK):
            left -= len(block)
            if left < 0:
                _refuse(
                    f"{archive.name}: {entry.filename}",
                    message("It is longer than it says."),
                    message("Do not open it."),
                )
            target.write(block)


def _refuse(where: str, said: Message, remedy: Message) -> NoReturn:
    raise DocumentError(Problem("unsafe-archive", where, said, remedy)) from None
