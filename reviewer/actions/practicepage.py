"""Writing a page to practise judging with: its clips without any drawing or words, its key locked."""

import secrets
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from hashlib import sha256
from math import isqrt
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

from reviewer import reports, video
from reviewer.actions.audit import Audit
from reviewer.actions.clipplans import plan_clip
from reviewer.actions.cliprecipes import Recipe
from reviewer.actions.clips import nothing_left, refuse_uncovered, shown_of
from reviewer.actions.clipscenes import ClipPlan, layout, rate_of, scenes
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.consenting import may_leave
from reviewer.actions.finding import GoingOn, always, cautions
from reviewer.actions.outgoing import refuse_no_new_file
from reviewer.actions.practising import Shown, asked, each_element, key, of_a_set, whole_routine
from reviewer.exchange import locking
from reviewer.terms.canonical import canonical
from reviewer.terms.consents import TEACHING
from reviewer.words import ENGLISH, saying

_Document = dict[str, Any]
_PIXELS = 960 * 540
"""Of a picture in the page, at most: what a telephone shows well and some routines in one file allow."""
_LEAD = Fraction(1, 2)
"""Seconds before and after an element."""


@dataclass(frozen=True, slots=True)
class _Filmed:
    """A stretch with its plan and the bytes of its clip."""

    shown: Shown
    plan: ClipPlan
    film: bytes


@dataclass(frozen=True, slots=True)
class PracticeMade:
    """A page that is not yet written.

    Attributes:
        page: its bytes.
        clips: how many there are in it.
        shown: of each case what it shows: a recording's SHA-256, first and last frame, covers' fingerprint.
    """

    page: bytes
    clips: int
    shown: tuple[tuple[tuple[str, int, int, str], ...], ...]


def stretches_of(audits: Sequence[Audit], *, by_element: bool) -> tuple[Shown, ...]:
    """The routines of cases, or each of their elements; an AuditError for a case that is no key."""
    return tuple(one for audit in audits for one in _stretches(audit, by_element))


def stretches_of_set(recipe: Recipe, audits: Mapping[Path, Audit]) -> tuple[Shown, ...]:
    """The passages of a clip set, each as its first side shows it; an AuditError for a case that is no key.

    ``audits``: the cases of the recipe by their paths.
    """
    sides = ((one.cases[0], one.plan.sides[0]) for one in recipe.clips)
    clips = ((audits[case], side.cited.sha256, side.first, side.last) for case, side in sides)
    return tuple(of_a_set(clips))


def write_practice_page(
    stretches: Sequence[Shown],
    out: Path,
    pass_phrase: str,
    *,
    today: Callable[[], str],
    language: str = ENGLISH,
    replace: bool = False,
    going_on: GoingOn = always,
) -> _Document:
    """Write a page of stretches of cases that are open to be written: ``reviewer.practice-page/1``.

    Consent to teaching is asked for first, and again before the page is put in place; each case keeps that
    it was made. A DocumentError for a pass phrase that is too short.
    """
    audits = _cases(stretches)
    read = [path for audit in audits for path in audit.recording_paths.values()]
    refuse_no_new_file(out, read, replace=replace)
    made = make_practice_page(stretches, pass_phrase, today=today(), language=language, going_on=going_on)
    return keep_practice_page(audits, out, made, today())


def make_practice_page(
    stretches: Sequence[Shown],
    pass_phrase: str,
    *,
    today: str,
    language: str = ENGLISH,
    going_on: GoingOn = always,
) -> PracticeMade:
    """Everything of a page but the writing, which a door may do on a thread of its own on cases to read."""
    locking.refuse_short(pass_phrase)
    audits = _cases(stretches)
    for audit in audits:
        may_leave(audit, TEACHING, today)
    filmed = [_filmed(one, going_on) for one in stretches]
    page = _page(filmed, pass_phrase, language).encode()
    shown = tuple(
        tuple(shown_of(side) for one in filmed if one.shown.audit is audit for side in one.plan.sides)
        for audit in audits
    )
    return PracticeMade(page, len(filmed), shown)


def _cases(stretches: Sequence[Shown]) -> tuple[Audit, ...]:
    """The cases that stretches are of, each once, in their order."""
    return tuple({id(one.audit): one.audit for one in stretches}.values())


def keep_practice_page(audits: Sequence[Audit], out: Path, made: PracticeMade, today: str) -> _Document:
    """Write a page in place of what stands there, and keep in each case that it was made.

    Asks again for consent on the day it is now, and for the covers as they are now.
    """
    beside, digest = out.with_name(f".{out.name}.unfinished"), sha256(made.page).hexdigest()
    for audit, own in zip(audits, made.shown, strict=True):
        may_leave(audit, TEACHING, today)
        for recording, first, last, covers in own:
            refuse_uncovered(audit, recording, (first, last), covers)
    with nothing_left(beside):
        beside.write_bytes(made.page)
        for audit, own in zip(audits, made.shown, strict=True):
            shown = [{"recording": one[0], "first": one[1], "last": one[2]} for one in own]
            audit.case.append("clip-written", {"sha256": digest, "use": TEACHING, "shown": shown})
            audit.case.remember_place(digest, out.resolve())
        beside.replace(out)
    told = {"format": "reviewer.practice-page/1", "file": out.name, "sha256": digest}
    return told | {"bytes": len(made.page), "clips": made.clips}


def _stretches(audit: Audit, by_element: bool) -> Sequence[Shown]:
    whole = whole_routine(audit)
    if not by_element:
        return [whole]
    cited = audit.cited(None)
    lasts = Fraction((cited.pts[-1] - cited.pts[0]) * cited.base.numerator, cited.base.denominator)
    return list(each_element(audit, round(_LEAD * (cited.frames - 1) / lasts) if lasts else 0))


def _filmed(shown: Shown, going_on: GoingOn) -> _Filmed:
    wish = ClipWish(recording=shown.recording, frames=(shown.first, shown.last), drawn=False, captioned=False)
    plan = plan_clip(shown.audit, wish)
    for side in plan.sides:
        side.covered.refuse_unreviewed(side.first, side.last)
    laid_out, rate = layout(plan, _room(plan.sides[0].size)), rate_of([plan])
    with TemporaryDirectory(prefix="practice-") as made:
        path = Path(made) / "clip.mp4"
        video.write_clip(path, scenes(plan, laid_out, rate, []), laid_out.size, rate, going_on)
        return _Filmed(shown, plan, path.read_bytes())


def _room(size: tuple[int, int]) -> tuple[int, int]:
    """The size of a picture in the page: its own, or one of as many pixels as there may be; even."""
    width, height = size
    if width * height > _PIXELS:
        width, height = isqrt(_PIXELS * width // height), isqrt(_PIXELS * height // width)
    return max(2, width // 2 * 2), max(2, height // 2 * 2)


def _page(filmed: Sequence[_Filmed], pass_phrase: str, language: str) -> str:
    say, stretches = saying(language), [one.shown for one in filmed]
    locked = locking.lock(
        canonical(key(stretches, say)),
        pass_phrase,
        secrets.token_bytes(locking.SALT_BYTES),
        secrets.token_bytes(locking.NONCE_BYTES),
    )
    clips = [
        ({"id": f"c{number}", "name": say("Clip {number}", number=number)} | _described(one), one.film)
        for number, one in enumerate(filmed, start=1)
    ]
    told = asked(stretches, say) | {"cautions": list(cautions())}
    return reports.practice_page(told, locked.to_json(), clips)


def _described(one: _Filmed) -> _Document:
    """What the page must know of a clip: how long a picture stays, and whether requirements are asked."""
    pictures = one.shown.last - one.shown.first + 1
    return {"frame": float(one.plan.lasts / pictures), "whole": one.shown.whole}
