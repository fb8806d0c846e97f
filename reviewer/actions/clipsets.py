"""A clip set from its recipe: a folder of clips with a page, or one film of all; made again, the same.

It is made part by part, so that a door may make each on a thread of its own and put it in place on another.
"""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import AbstractContextManager, ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import casefile, exchange, reports, video
from reviewer.actions.audit import Audit
from reviewer.actions.clipparts import SetPart, one_clip, one_film
from reviewer.actions.cliprecipes import Planned, Recipe, read_recipe
from reviewer.actions.clips import ClipMade, log_clip, nothing_left, refuse_uncovered, shown_of
from reviewer.actions.clipsides import Side
from reviewer.actions.consenting import may_leave
from reviewer.actions.documents import schema
from reviewer.actions.finding import GoingOn, always, cautions
from reviewer.actions.outgoing import put_whole, refuse_no_folder, refuse_no_new_file
from reviewer.exchange.chapters import spoken_captions
from reviewer.terms.canonical import readable
from reviewer.terms.problems import DocumentError

LIST, PAGE = "clips.json", "index.html"
_Document = dict[str, Any]
Opening = Callable[[Path], AbstractContextManager[Audit]]
"""Opens a case that a part shows, to be written: it keeps that it left."""


@dataclass(frozen=True, slots=True)
class SetBegun:
    """A set that may be made.

    Attributes:
        recipe: what is in it.
        out: a folder, or one film where the name ends in ``.mp4``.
        before: the clips of a folder as an earlier run wrote them.
    """

    recipe: Recipe
    out: Path
    before: tuple[_Document, ...]

    @property
    def single(self) -> bool:
        """Whether it is one film."""
        return _is_film(self.out)

    @property
    def parts(self) -> int:
        """How many there are to be made, one after the other."""
        return 1 if self.single else len(self.recipe.clips)


def make_set(
    path: Path,
    out: Path,
    *,
    author: str,
    today: Callable[[], str],
    replace: bool = False,
    going_on: GoingOn = always,
) -> _Document:
    """Make the set of a recipe: ``reviewer.clip-set/1``.

    ``out`` ends in ``.mp4`` for one film of all; else it is a folder, in which clips that are there already
    and made from the same are left as they are, so that a set that was stopped goes on.
    """

    def opening(case: Path) -> Audit:
        return Audit(casefile.open_case(case, author))

    begun, parts = begin_set(path, out, today=today(), replace=replace), list[SetPart]()
    for number in range(begun.parts):
        part = make_part(begun, number, going_on)
        keep_part(begun, part, parts, opening, today())
        parts.append(part)
    return end_set(begun, parts)


def begin_set(path: Path, out: Path, *, today: str, replace: bool = False) -> SetBegun:
    """Read a recipe; an AuditError before any work where consent or covers are not as they must be."""
    refuse_no_new_file(out, (path,), replace=replace) if _is_film(out) else refuse_no_folder(out)
    recipe = read_recipe(path)
    for planned in recipe.clips:
        for case, side in zip(planned.cases, planned.plan.sides, strict=True):
            with Audit(casefile.open_case(case, None)) as audit:
                may_leave(audit, recipe.use, today)
            side.covered.refuse_unreviewed(side.first, side.last)
    return SetBegun(recipe, out, () if _is_film(out) else tuple(_made_before(out)))


def make_part(begun: SetBegun, number: int, going_on: GoingOn = always) -> SetPart:
    """A part, counted from 0, but for putting it in place: on any thread."""
    if begun.single:
        return one_film(begun.recipe, begun.out, going_on)
    begun.out.mkdir(parents=True, exist_ok=True)
    place = begun.out / f"{number + 1:02d}.mp4"
    return one_clip(begun.recipe.clips[number], place, begun.before, going_on)


def keep_part(
    begun: SetBegun, part: SetPart, earlier: Sequence[SetPart], opening: Opening, today: str
) -> None:
    """Put a part in place once every case it shows says again that it may leave; each keeps that it did."""
    if part.beside is not None:
        with nothing_left(part.beside):
            _put(begun.recipe.use, part, part.beside, opening, today)
    if not begun.single:
        entries = [one for some in (*earlier, part) for one in some.entries]
        _write_list(begun.recipe, begun.out, [*entries, *begun.before[len(entries) :]])
        part.place.with_suffix(".vtt").write_bytes(_captions(part.shown[0]))


def end_set(begun: SetBegun, parts: Sequence[SetPart]) -> _Document:
    """The document of a set whose parts are all in place; a folder gets its page and loses what is left."""
    entries = [one for part in parts for one in part.entries]
    if begun.single:
        return _listed(begun.recipe, entries) | dict(parts[0].whole)
    _remove_rest(begun.out, begun.before[len(entries) :])
    found = _write_list(begun.recipe, begun.out, entries)
    put_whole(begun.out / PAGE, reports.clip_page(found, cautions()).encode())
    return found | {"kept": sum(part.beside is None for part in parts)}


def _is_film(out: Path) -> bool:
    return out.suffix.lower() == ".mp4"


def _made_before(folder: Path) -> list[_Document]:
    """What an earlier run wrote into a folder; nothing where its list cannot be read."""
    place = folder / LIST
    if not place.is_file():
        return []
    try:
        found: list[_Document] = exchange.read_document(place, schema("clip-set"), "clip-set")["clips"]
    except DocumentError:
        return []
    return found


def _put(use: str, part: SetPart, beside: Path, opening: Opening, today: str) -> None:
    with ExitStack() as stack:
        writing: list[tuple[Audit, ClipMade]] = []
        for case in dict.fromkeys(case for one in part.shown for case in one.cases):
            audit = stack.enter_context(opening(case))
            may_leave(audit, use, today)
            sides = tuple(shown_of(side) for side in _sides_of(case, part.shown))
            for recording, first, last, covers in sides:
                refuse_uncovered(audit, recording, (first, last), covers)
            writing.append((audit, ClipMade(part.place, beside, use, sides, {"sha256": part.digest})))
        for audit, made in writing:
            log_clip(audit, made, part.place)
        beside.replace(part.place)


def _sides_of(case: Path, shown: Sequence[Planned]) -> Iterator[Side]:
    for planned in shown:
        for at, side in zip(planned.cases, planned.plan.sides, strict=True):
            if at == case:
                yield side


def _remove_rest(folder: Path, rest: Sequence[Mapping[str, Any]]) -> None:
    """Remove clips of an earlier and longer recipe, as far as they are still what was written then."""
    for one in rest:
        place = folder / str(one["file"])
        if place.is_file() and video.fingerprint(place) == one["sha256"]:
            place.unlink()
            place.with_suffix(".vtt").unlink(missing_ok=True)


def _write_list(recipe: Recipe, folder: Path, entries: Sequence[Mapping[str, Any]]) -> _Document:
    found = _listed(recipe, entries)
    put_whole(folder / LIST, readable(found))
    return found


def _listed(recipe: Recipe, entries: Sequence[Mapping[str, Any]]) -> _Document:
    named = {"title": recipe.title, "language": recipe.language, "use": recipe.use}
    return {"format": "reviewer.clip-set/1", **named, "clips": [dict(one) for one in entries]}


def _captions(planned: Planned) -> bytes:
    """The words of a clip as WebVTT, for as long as it lasts."""
    thousandths = max(1, round(planned.plan.lasts * 1000))
    return spoken_captions([(0, thousandths, planned.plan.caption)] if planned.plan.caption else [])
