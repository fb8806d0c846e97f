"""A clip of one case: made beside its place, put there if consent still covers it and heads are covered."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from reviewer import video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.clipplans import plan_clip
from reviewer.actions.clipscenes import ClipPlan, layout, rate_of, scenes
from reviewer.actions.clipsides import Side
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.consenting import may_leave
from reviewer.actions.covering import covers_on
from reviewer.actions.finding import GoingOn, always
from reviewer.actions.outgoing import refuse_no_new_file
from reviewer.terms.covers import Stretch
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


@dataclass(frozen=True, slots=True)
class ClipMade:
    """A clip that lies beside its place and is not yet shown to anybody.

    Attributes:
        out: its place.
        beside: where it lies until then.
        use: what it is for.
        shown: SHA-256, first and last frame of each recording in it, and the fingerprint of the covers.
        document: ``reviewer.clip/1``.
    """

    out: Path
    beside: Path
    use: str
    shown: tuple[tuple[str, int, int, str], ...]
    document: dict[str, Any]

    def discard(self) -> None:
        """Let nothing of it remain."""
        self.beside.unlink(missing_ok=True)


def export_clip(
    audit: Audit,
    wish: ClipWish,
    out: Path,
    *,
    use: str,
    today: Callable[[], str],
    replace: bool = False,
    going_on: GoingOn = always,
) -> dict[str, Any]:
    """Write a clip of the case, H.264 in MP4: ``reviewer.clip/1``. The writing audit keeps that it was made.

    ``today`` is asked at the beginning and again at the end. ``replace``: also over a file that is there.
    ``going_on`` is asked before each picture; where it says no, nothing is left.
    """
    made = make_clip(audit, wish, out, use=use, today=today(), replace=replace, going_on=going_on)
    return keep_clip(audit, made, today())


def make_clip(
    audit: Audit,
    wish: ClipWish,
    out: Path,
    *,
    use: str,
    today: str,
    replace: bool = False,
    going_on: GoingOn = always,
) -> ClipMade:
    """All of a clip but putting it in place, which a door may do on a thread of its own on a case to read."""
    may_leave(audit, use, today)
    refuse_no_new_file(out, audit.recording_paths.values(), replace=replace)
    _refuse_other_kind(out)
    plan = plan_clip(audit, wish)
    for side in plan.sides:
        side.covered.refuse_unreviewed(side.first, side.last)
    beside = out.with_name(f".{out.name}.unfinished")
    with nothing_left(beside):
        found = film(plan, beside, going_on)
    shown = tuple(shown_of(side) for side in plan.sides)
    return ClipMade(out, beside, use, shown, {"format": "reviewer.clip/1", "use": use} | found)


def _refuse_other_kind(out: Path) -> None:
    """A file is what its name says: MP4, whatever else a player would open."""
    if out.suffix.lower() != ".mp4":
        said = message("A clip is an MP4 file, and this name says otherwise.")
        raise AuditError(Problem("no-mp4", str(out), said, message("End the name in .mp4.")))


def keep_clip(audit: Audit, made: ClipMade, today: str) -> dict[str, Any]:
    """Put a clip in place, and keep in the case that it was made: ``reviewer.clip/1``.

    Asks again for consent on the day it is now, and for the covers as they are now; where either no longer
    holds, an AuditError, and nothing of the clip is left.
    """
    with nothing_left(made.beside):
        may_leave(audit, made.use, today)
        for recording, first, last, covers in made.shown:
            refuse_uncovered(audit, recording, (first, last), covers)
        log_clip(audit, made, made.out)
        made.beside.replace(made.out)
    return made.document


def refuse_uncovered(audit: Audit, recording: str, frames: Stretch, covers: str) -> None:
    """Let pass frames whose covers are still those of a fingerprint, and looked through; else AuditError."""
    covered = covers_on(audit, recording)
    covered.refuse_unreviewed(*frames)
    if covered.fingerprint(*frames) != covers:
        said = message("Covers were changed while this was made.")
        raise DocumentError(Problem("covers-changed", audit.path.name, said, message("Make it again.")))


def log_clip(audit: Audit, made: ClipMade, out: Path) -> None:
    """Keep in the case what left it, and on this machine where it lies."""
    known = {one.sha256 for one in audit.state.recordings}
    shown = [{"recording": one[0], "first": one[1], "last": one[2]} for one in made.shown if one[0] in known]
    digest = made.document["sha256"]
    audit.case.append("clip-written", {"sha256": digest, "use": made.use, "shown": shown})
    audit.case.remember_place(digest, out.resolve())


def shown_of(side: Side) -> tuple[str, int, int, str]:
    """What `ClipMade` says of a side."""
    return side.cited.sha256, side.first, side.last, side.covered.fingerprint(side.first, side.last)


def film(plan: ClipPlan, path: Path, going_on: GoingOn) -> dict[str, Any]:
    """Write a plan's clip to a file, and say what it holds."""
    laid_out, rate = layout(plan), rate_of([plan])
    damaged: list[tuple[int, int]] = []
    count = video.write_clip(path, scenes(plan, laid_out, rate, damaged), laid_out.size, rate, going_on)
    return {
        "sha256": video.fingerprint(path),
        "size": list(laid_out.size),
        "pictures": count,
        "time_base": f"1/{rate}",
        "ticks": int(plan.lasts * rate),
        "seconds": seconds_told(plan),
        "speed": str(plan.speed),
        "sides": [described(side, number, damaged) for number, side in enumerate(plan.sides)],
    }


def seconds_told(plan: ClipPlan) -> str:
    """How long it lasts, to the millisecond."""
    thousandths = round(plan.lasts * 1000)
    return f"{thousandths // 1000}.{thousandths % 1000:03d}"


def described(side: Side, number: int, damaged: list[tuple[int, int]]) -> dict[str, Any]:
    """A side as a document says it, with what is damaged and where a head cannot be told."""
    pts = side.cited.pts
    lost = [list(one) for one in side.covered.lost if one[0] <= side.last and side.first <= one[1]]
    return {
        "recording": side.number,
        "recording_sha256": side.cited.sha256,
        "first": {"frame": side.first, "pts": pts[side.first]},
        "last": {"frame": side.last, "pts": pts[side.last]},
        "still": None if side.decisive is None else {"frame": side.decisive, "pts": pts[side.decisive]},
        "covered_heads": list(side.covered.heads.letters),
        "lost": lost,
        "suspect": sorted({frame for at, frame in damaged if at == number}),
    }


@contextmanager
def nothing_left(path: Path) -> Iterator[None]:
    """Remove a file if what is done with it does not come to its end."""
    try:
        yield
    except BaseException:
        path.unlink(missing_ok=True)
        raise
