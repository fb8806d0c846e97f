"""The parts of a clip set: each of its clips, or one film of all, made and not yet in place."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import drawing, video
from reviewer.actions.clipplans import fingerprint
from reviewer.actions.cliprecipes import Planned, Recipe
from reviewer.actions.clips import described, film, nothing_left, seconds_told
from reviewer.actions.clipscenes import ClipPlan, Damaged, layout, rate_of, scenes, shared_room
from reviewer.actions.finding import GoingOn, cautions
from reviewer.terms.clips import Scene, Sheet
from reviewer.words import saying

_Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class SetPart:
    """A part of a set.

    Attributes:
        place: where it goes.
        beside: where it lies until then; None where it is there already and made from the same.
        shown: the clips in it.
        digest: SHA-256 of the file.
        entries: the clips as ``reviewer.clip-set/1`` tells them.
        whole: what the document says besides, of one film.
    """

    place: Path
    beside: Path | None
    shown: tuple[Planned, ...]
    digest: str
    entries: tuple[_Document, ...]
    whole: Mapping[str, Any]

    def discard(self) -> None:
        """Let nothing of it remain that is not in place."""
        if self.beside is not None:
            self.beside.unlink(missing_ok=True)


def one_clip(planned: Planned, place: Path, before: Sequence[_Document], going_on: GoingOn) -> SetPart:
    """A clip of a folder; as it is there, where it is whole and made from the same."""
    made_from = fingerprint(planned.plan)
    entry = _as_before(place, before, made_from)
    if entry is not None:
        return SetPart(place, None, (planned,), entry["sha256"], (entry,), {})
    beside = place.with_name(f".{place.name}.unfinished")
    with nothing_left(beside):
        found = film(planned.plan, beside, going_on)
    said = {"file": place.name, "made_from": made_from, "caption": list(planned.plan.caption)}
    return SetPart(place, beside, (planned,), found["sha256"], (said | found,), {})


def _as_before(place: Path, before: Sequence[_Document], made_from: str) -> _Document | None:
    for one in before:
        if (one["file"], one["made_from"]) == (place.name, made_from) and place.is_file():
            return dict(one) if video.fingerprint(place) == one["sha256"] else None
    return None


def one_film(recipe: Recipe, out: Path, going_on: GoingOn) -> SetPart:
    """All clips of a recipe after one another, its title before them."""
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
        video.write_clip(beside, whole(), layouts[0].size, rate, going_on)
        digest = video.fingerprint(beside)
    entries = tuple(_in_film(plan, seen) for plan, seen in zip(plans, damaged, strict=True))
    told = {"sha256": digest, "size": list(layouts[0].size)}
    return SetPart(out, beside, recipe.clips, digest, entries, told)


def _in_film(plan: ClipPlan, damaged: Damaged) -> _Document:
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
