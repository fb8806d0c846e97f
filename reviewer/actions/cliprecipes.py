"""The recipe of a clip set: read, or begun from what was found."""

import os
from collections.abc import Iterable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from reviewer import exchange
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.clipplans import plan_clip, plan_two
from reviewer.actions.clipscenes import ClipPlan
from reviewer.actions.clipwishes import ClipWish, seconds_of, speed_of
from reviewer.actions.documents import schema
from reviewer.actions.opening import open_case
from reviewer.actions.outgoing import put_whole, refuse_no_new_file
from reviewer.actions.passages import passages_of
from reviewer.terms.canonical import readable
from reviewer.terms.consents import TEACHING
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem, ReviewerError
from reviewer.words import ENGLISH

_AS_SHIPPED: Mapping[str, Any] = {
    "lead_in_s": "1",
    "run_out_s": "1",
    "freeze_s": "2",
    "speed": "1/2",
    "drawn": True,
    "captioned": True,
}
"""How a clip is shown where its recipe says nothing."""
MOST = 999
"""Clips of a set."""
RecipeClip = tuple[Path, str, Mapping[str, Any]]
"""A case, a mark of it, and what is said otherwise for it."""


@dataclass(frozen=True, slots=True)
class Planned:
    """One clip of a set, with the case that each of its sides is of."""

    plan: ClipPlan
    cases: tuple[Path, ...]


@dataclass(frozen=True, slots=True)
class Recipe:
    """A set of clips as it was asked for.

    Attributes:
        title: of all.
        language: of its words.
        use: what it is for.
        card: seconds that the title stands before one film of all.
        clips: in order.
    """

    title: str
    language: str
    use: str
    card: Fraction
    clips: tuple[Planned, ...]

    @property
    def cases(self) -> tuple[Path, ...]:
        """Every case that something is shown of, once."""
        return tuple(dict.fromkeys(case for one in self.clips for case in one.cases))


def read_recipe(path: Path) -> Recipe:
    """A ``reviewer.clips/1`` document with all of its clips planned; every problem at once otherwise."""
    document = exchange.read_document(path, schema("clips"), "clips")
    card = seconds_of(document.get("card_s", "4"), f"{path.name}: card_s")
    found, problems = [], list[Problem]()
    with ExitStack() as stack:
        shelf = _Cases(path.parent, stack)
        for number, entry in enumerate(document["clips"]):
            where = f"{path.name}: clips[{number}]"
            try:
                found.append(_planned(shelf, document, entry, where))
            except ReviewerError as fault:
                problems += (_placed(one, where) for one in fault.problems)
    if problems:
        raise DocumentError(problems)
    language, use = document.get("language", ENGLISH), document.get("use", TEACHING)
    return Recipe(document["title"], language, use, card, tuple(found))


def begin_recipe(
    out: Path,
    title: str,
    *,
    cases: Sequence[Path] = (),
    codes: Sequence[str] = (),
    found: Path | None = None,
    replace: bool = False,
) -> dict[str, Any]:
    """Write a recipe to go on from, and give it: what ``reviewer find --json`` found, or faults of cases.

    ``codes``: only elements and faults of these; without them, every fault that has a time.
    """
    refuse_no_new_file(out, (), replace=replace)
    entries = [*_from_found(out, found), *_from_cases(out, cases, codes)]
    _refuse_count(out, len(entries))
    document = {
        "format": "reviewer.clips/1",
        "title": title,
        "use": TEACHING,
        **_AS_SHIPPED,
        "clips": entries,
    }
    put_whole(out, readable(document))
    return document


def keep_recipe(out: Path, clips: Sequence[RecipeClip], said: Mapping[str, Any]) -> Path:
    """Write a recipe of passages of cases, in their order; where it lies.

    ``said`` is what holds for all of them. Where another file has that name a number is added to it; one that
    says the same is left as it is.
    """
    entries = [{"case": _from(out, case), "mark": mark} | dict(own) for case, mark, own in clips]
    _refuse_count(out, len(entries))
    content = readable({"format": "reviewer.clips/1", **_AS_SHIPPED, **said, "clips": entries})
    stem = out.name.removesuffix(".recipe.json")
    place, number = out, 1
    while place.exists() and place.read_bytes() != content:
        number += 1
        place = out.with_name(f"{stem}-{number}.recipe.json")
    put_whole(place, content)
    return place


def _refuse_count(out: Path, count: int) -> None:
    if not count:
        said, remedy = message("Nothing with a time is among it."), message("Name other cases or codes.")
        raise AuditError(Problem("nothing-found", str(out), said, remedy))
    if count > MOST:
        said = message("A set has {most} clips at most, and this would have {count}.", most=MOST, count=count)
        raise AuditError(Problem("too-many-clips", str(out), said, message("Ask for less.")))


class _Cases:
    """The cases of a recipe, each opened once, to read."""

    def __init__(self, folder: Path, stack: ExitStack) -> None:
        self._folder, self._stack = folder, stack
        self._open: dict[Path, Audit] = {}

    def at(self, name: str) -> tuple[Path, Audit]:
        """A case by its name from the recipe's folder on."""
        path = self._folder / name
        if path not in self._open:
            self._open[path] = self._stack.enter_context(open_case(path, author=None))
        return path, self._open[path]


def _planned(shelf: _Cases, document: Mapping[str, Any], entry: Mapping[str, Any], where: str) -> Planned:
    path, audit = shelf.at(entry["case"])
    said = {**_AS_SHIPPED, **document, **entry}
    beside = entry.get("beside")
    if beside is None:
        return Planned(plan_clip(audit, _wish(audit, said, where)), (path,))
    if "case" not in beside:
        other = _recording(audit, beside["recording"], where)
        return Planned(plan_clip(audit, _wish(audit, said, where, other)), (path, path))
    second_path, second = shelf.at(beside["case"])
    second_said = {**_AS_SHIPPED, **document, **beside}
    pair = (audit, _wish(audit, said, where)), (second, _wish(second, second_said, where))
    return Planned(plan_two(*pair), (path, second_path))


def _wish(audit: Audit, said: Mapping[str, Any], where: str, beside: str | None = None) -> ClipWish:
    return ClipWish(
        mark=said.get("mark"),
        recording=_recording(audit, said["recording"], where) if "recording" in said else None,
        frames=tuple(said["frames"]) if "frames" in said else None,
        lead_in=seconds_of(said["lead_in_s"], f"{where}.lead_in_s"),
        run_out=seconds_of(said["run_out_s"], f"{where}.run_out_s"),
        speed=speed_of(said["speed"], f"{where}.speed"),
        freeze=said.get("freeze"),
        freeze_for=seconds_of(said["freeze_s"], f"{where}.freeze_s"),
        drawn=said["drawn"],
        captioned=said["captioned"],
        caption=said.get("caption"),
        beside=beside,
        language=said.get("language", ENGLISH),
    )


def _recording(audit: Audit, number: int, where: str) -> str:
    known = audit.state.recordings
    if number > len(known):
        said = message("The case cites {count} recordings.", count=len(known))
        raise AuditError(
            Problem("unknown-recording", where, said, message("Name one of these by its place."))
        )
    return known[number - 1].sha256


def _placed(one: Problem, where: str) -> Problem:
    return (
        one
        if one.where.startswith(where)
        else Problem(one.code, f"{where}: {one.where}", one.message, one.remedy)
    )


def _from_found(out: Path, found: Path | None) -> Iterator[dict[str, Any]]:
    if found is None:
        return
    document = exchange.read_document(found, schema("found"), "found")
    timed = [one for one in document["passages"] if one["recording"] is not None]
    folder = _folder_of(found, document["folder"], [one["case"] for one in timed])
    for one in timed:
        yield {"case": _from(out, folder / one["case"]), "mark": one["mark"]}


def _folder_of(found: Path, folder: str, cases: Sequence[str]) -> Path:
    """Where the cases lie that were found: from here on, or else from the answer's own file on."""
    places = Path(folder), found.parent / folder
    for place in places:
        if all((place / case).is_file() for case in cases):
            return place
    said = message("The cases that were found are not in {folder}.", folder=folder)
    remedy = message("Go to the folder in which they were looked for, or look for them again.")
    raise AuditError(Problem("cases-not-here", str(found), said, remedy))


def _from_cases(out: Path, cases: Iterable[Path], codes: Sequence[str]) -> Iterator[dict[str, Any]]:
    for path in cases:
        with open_case(path, author=None) as audit:
            places = [mark.id for mark in audit.counting_marks]
            passages = dict(zip(places, passages_of(audit), strict=True))
        for mark, one in passages.items():
            if one.start is not None and (one.code in codes if codes else one.kind == "fault"):
                yield {"case": _from(out, path), "mark": mark}


def _from(out: Path, path: Path) -> str:
    return os.path.relpath(path.resolve(), out.resolve().parent)
