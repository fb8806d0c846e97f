"""A clip set from its recipe: a folder of clips with a page, or one film of all; made again, the same."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import ExitStack
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import casefile, drawing, exchange, reports, video
from reviewer.actions.audit import Audit
from reviewer.actions.clipplans import fingerprint
from reviewer.actions.cliprecipes import Planned, Recipe, read_recipe
from reviewer.actions.clips import (
    ClipMade,
    described,
    film,
    log_clip,
    nothing_left,
    refuse_uncovered,
    seconds_told,
    shown_of,
)
from reviewer.actions.clipscenes import ClipPlan, Damaged, layout, rate_of, scenes, shared_room
from reviewer.actions.clipsides import Side
from reviewer.actions.consenting import may_leave
from reviewer.actions.documents import schema
from reviewer.actions.finding import GoingOn, always, cautions
from reviewer.actions.outgoing import refuse_no_folder, refuse_no_new_file
from reviewer.exchange.chapters import spoken_captions
from reviewer.terms.canonical import readable
from reviewer.terms.clips import Scene, Sheet
from reviewer.terms.problems import DocumentError
from reviewer.words import saying

LIST, PAGE = "clips.json", "index.html"


@dataclass(frozen=True, slots=True)
class _Making:
    """What making a set goes by.

    Attributes:
        recipe: the set.
        author: who writes into the cases that clips were made of them.
        today: the day it is, asked each time.
        going_on: asked before each picture.
    """

    recipe: Recipe
    author: str
    today: Callable[[], str]
    going_on: GoingOn


def make_set(
    path: Path,
    out: Path,
    *,
    author: str,
    today: Callable[[], str],
    replace: bool = False,
    going_on: GoingOn = always,
) -> dict[str, Any]:
    """Make the set of a recipe: ``reviewer.clip-set/1``.

    ``out`` ends in ``.mp4`` for one film of all; else it is a folder, in which clips that are there already
    and made from the same are left as they are, so that a set that was stopped goes on.
    """
    single = out.suffix.lower() == ".mp4"
    refuse_no_new_file(out, (path,), replace=replace) if single else refuse_no_folder(out)
    recipe = read_recipe(path)
    making = _Making(recipe, author, today, going_on)
    for planned in recipe.clips:
        _refuse_unready(making, planned)
    return _one_film(making, out) if single else _folder(making, out)


def _refuse_unready(making: _Making, planned: Planned) -> None:
    """An AuditError before any work where consent or covers are not as they must be."""
    for case, side in zip(planned.cases, planned.plan.sides, strict=True):
        with Audit(casefile.open_case(case, None)) as audit:
            may_leave(audit, making.recipe.use, making.today())
        side.covered.refuse_unreviewed(side.first, side.last)


def _folder(making: _Making, folder: Path) -> dict[str, Any]:
    folder.mkdir(parents=True, exist_ok=True)
    before, kept = _made_before(folder), 0
    entries: list[dict[str, Any]] = []
    for number, planned in enumerate(making.recipe.clips, start=1):
        name = f"{number:02d}.mp4"
        entry = _as_before(folder, before, name, fingerprint(planned.plan))
        kept += entry is not None
        if entry is None:
            entry = _clip(making, planned, folder / name)
        entries.append(entry)
        _write_list(making.recipe, folder, [*entries, *before[number:]])
        (folder / f"{number:02d}.vtt").write_bytes(_captions(planned))
    _remove_rest(folder, before[len(entries) :])
    found = _write_list(making.recipe, folder, entries)
    page = reports.clip_page(found, cautions())
    (folder / PAGE).write_text(page, encoding="utf-8")
    return found | {"kept": kept}


def _made_before(folder: Path) -> list[dict[str, Any]]:
    """What an earlier run wrote into a folder; nothing where its list cannot be read."""
    place = folder / LIST
    if not place.is_file():
        return []
    try:
        found: list[dict[str, Any]] = exchange.read_document(place, schema("clip-set"), "clip-set")["clips"]
    except DocumentError:
        return []
    return found


def _as_before(
    folder: Path, before: Sequence[Mapping[str, Any]], name: str, made_from: str
) -> dict[str, Any] | None:
    """The entry of a clip that is there, whole and made from the same; else None."""
    place = folder / name
    for one in before:
        if (one["file"], one["made_from"]) == (name, made_from) and place.is_file():
            return dict(one) if video.fingerprint(place) == one["sha256"] else None
    return None


def _clip(making: _Making, planned: Planned, place: Path) -> dict[str, Any]:
    beside = place.with_name(f".{place.name}.unfinished")
    with nothing_left(beside):
        found = film(planned.plan, beside, making.going_on)
        _keep(making, (planned,), found["sha256"], beside, place)
    said = {"file": place.name, "made_from": fingerprint(planned.plan), "caption": list(planned.plan.caption)}
    return said | found


def _keep(making: _Making, shown: Sequence[Planned], digest: str, beside: Path, place: Path) -> None:
    """Put a file in place once every case it shows says again that it may leave; each keeps that it did."""
    with ExitStack() as stack:
        writing: list[tuple[Audit, ClipMade]] = []
        for case in dict.fromkeys(case for one in shown for case in one.cases):
            audit = stack.enter_context(Audit(casefile.open_case(case, making.author)))
            may_leave(audit, making.recipe.use, making.today())
            sides = tuple(shown_of(side) for side in _sides_of(case, shown))
            for recording, first, last, covers in sides:
                refuse_uncovered(audit, recording, (first, last), covers)
            document = {"sha256": digest}
            writing.append((audit, ClipMade(place, beside, making.recipe.use, sides, document)))
        for audit, made in writing:
            log_clip(audit, made, place)
        beside.replace(place)


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


def _write_list(recipe: Recipe, folder: Path, entries: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    found = _listed(recipe, entries)
    unfinished = folder / f".{LIST}.unfinished"
    unfinished.write_bytes(readable(found))
    unfinished.replace(folder / LIST)
    return found


def _listed(recipe: Recipe, entries: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    named = {"title": recipe.title, "language": recipe.language, "use": recipe.use}
    return {"format": "reviewer.clip-set/1", **named, "clips": [dict(one) for one in entries]}


def _captions(planned: Planned) -> bytes:
    """The words of a clip as WebVTT, for as long as it lasts."""
    thousandths = max(1, round(planned.plan.lasts * 1000))
    return spoken_captions([(0, thousandths, planned.plan.caption)] if planned.plan.caption else [])


def _one_film(making: _Making, out: Path) -> dict[str, Any]:
    recipe = making.recipe
    plans = [one.plan for one in recipe.clips]
    rate, room = rate_of(plans, [recipe.card]), shared_room(plans)
    damaged: list[Damaged] = [[] for _ in plans]
    strip = any(plan.caption for plan in plans)
    layouts = [layout(plan, room, strip=strip) for plan in plans]

    def whole() -> Iterator[Scene]:
        if recipe.card:
            yield _card(recipe, layouts[0].size, int(recipe.card * rate))
        for plan, laid_out, seen in zip(plans, layouts, damaged, strict=True):
            yield from scenes(plan, laid_out, rate, seen)

    beside = out.with_name(f".{out.name}.unfinished")
    with nothing_left(beside):
        video.write_clip(beside, whole(), layouts[0].size, rate, making.going_on)
        digest = video.fingerprint(beside)
        _keep(making, recipe.clips, digest, beside, out)
    entries = [_in_film(plan, seen) for plan, seen in zip(plans, damaged, strict=True)]
    return _listed(recipe, entries) | {"sha256": digest, "size": list(layouts[0].size)}


def _in_film(plan: ClipPlan, damaged: Damaged) -> dict[str, Any]:
    return {
        "file": None,
        "made_from": fingerprint(plan),
        "sha256": None,
        "caption": list(plan.caption),
        "seconds": seconds_told(plan),
        "sides": [described(side, number, damaged) for number, side in enumerate(plan.sides)],
    }


def _card(recipe: Recipe, size: tuple[int, int], ticks: int) -> Scene:
    say = saying(recipe.language)
    lines = (say("Clips: {count}", count=len(recipe.clips)), *(say.word(one) for one in cautions()[:3:2]))
    return Scene((), (Sheet(drawing.card(recipe.title, lines, size, say.language), (0, 0)),), ticks, True)
