"""Who stands behind an athlete's code: one file on this machine that a pass phrase opens, apart from cases.

Nothing that leaves a case looks in here: names are told on this machine's terminal and nowhere else.
"""

import json
import os
import secrets
from collections.abc import Mapping
from pathlib import Path
from tempfile import mkstemp
from typing import Any

from reviewer.exchange import locking
from reviewer.settings import names_file
from reviewer.terms.canonical import canonical, readable
from reviewer.terms.codes import no_athlete_code
from reviewer.terms.messages import message
from reviewer.terms.parsing import parsed
from reviewer.terms.problems import DocumentError, Problem

FORMAT, NEXT = "reviewer.names/1", "reviewer.names/"
LONGEST = 200
"""Characters a name may have."""
_LARGEST = 10_000_000


def has_names(file: Path | None = None) -> bool:
    """Whether there is a file of names."""
    return (file or names_file()).exists()


def known_names(pass_phrase: str, file: Path | None = None) -> dict[str, str]:
    """The names by code; none where there is no file yet. DocumentError where it cannot be opened."""
    place = file or names_file()
    if not place.exists():
        return {}
    locked = _read(place)
    try:
        found = json.loads(locking.unlock(locked, pass_phrase))
    except DocumentError:
        said = message("This pass phrase does not open it, or the file was changed.")
        remedy = message("Type the pass phrase again; without it nobody can open the file.")
        raise DocumentError(Problem("wrong-pass-phrase", str(place), said, remedy)) from None
    return {str(code): str(name) for code, name in found.items()}


def set_name(code: str, name: str, pass_phrase: str, file: Path | None = None) -> None:
    """Keep the name behind a code, in place of another one; DocumentError where that cannot be done."""
    problem = no_athlete_code(code, "code") or _no_name(name)
    if problem is not None:
        raise DocumentError(problem)
    _write(known_names(pass_phrase, file) | {code: name.strip()}, pass_phrase, file or names_file())


def forget_name(code: str, pass_phrase: str, file: Path | None = None) -> None:
    """Keep the name behind a code no longer; DocumentError where there is none."""
    known = known_names(pass_phrase, file)
    if code not in known:
        said = message("No name is kept behind this code.")
        raise DocumentError(Problem("no-name", code, said, message("See `reviewer names list`.")))
    _write({one: name for one, name in known.items() if one != code}, pass_phrase, file or names_file())


def names_document(names: Mapping[str, str]) -> dict[str, Any]:
    """``reviewer.known-names/1``: for this terminal; no file of it is written."""
    return {"format": "reviewer.known-names/1", "names": dict(sorted(names.items()))}


def _no_name(name: str) -> Problem | None:
    if name.strip() and len(name) <= LONGEST and name.isprintable():
        return None
    said = message("A name has 1 to {most} letters on one line.", most=LONGEST)
    return Problem("no-name", "name", said, message("Write it as it is to be read."))


def _read(place: Path) -> locking.Locked:
    try:
        with place.open("rb") as file:
            said = parsed(file.read(_LARGEST))
        form = said["format"]
        if form != FORMAT and isinstance(form, str) and form.startswith(NEXT):
            newer = message("This file was written by a newer version: {form}.", form=form)
            raise DocumentError(
                Problem("newer-names", str(place), newer, message("Open it with that version of reviewer."))
            )
        if form == FORMAT:
            return locking.Locked.from_json(said)
    except (ValueError, KeyError, TypeError):
        pass
    wrong = message("This is no file of names, or it is damaged.")
    remedy = message("Take a copy that is whole; nothing in it was changed.")
    raise DocumentError(Problem("names-damaged", str(place), wrong, remedy))


def _write(names: Mapping[str, str], pass_phrase: str, place: Path) -> None:
    """All of it in one step, for its owner only, under fresh salt and nonce."""
    salt, nonce = secrets.token_bytes(locking.SALT_BYTES), secrets.token_bytes(locking.NONCE_BYTES)
    locked = locking.lock(canonical(dict(names)), pass_phrase, salt, nonce)
    place.parent.mkdir(parents=True, exist_ok=True)
    handle, beside = mkstemp(prefix=f".{place.name}.", dir=place.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(readable({"format": FORMAT} | locked.to_json()))
            file.flush()
            os.fsync(file.fileno())
        os.replace(beside, place)
    except BaseException:
        Path(beside).unlink(missing_ok=True)
        raise
