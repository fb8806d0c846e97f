"""Which heads are covered on which frames of a recording, and whether somebody has looked through it."""

import re
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cached_property
from hashlib import sha256
from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.casefile import Heads
from reviewer.terms.canonical import canonical
from reviewer.terms.covers import Cover, Followed, Placed, Stretch, fingerprint_of
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

EVERYTHING = Cover.of_whole(0, 0, 20_000, 20_000)
"""What hides a picture whose heads nobody has followed."""


@dataclass(frozen=True)
class Covered:
    """The covers of one recording as the case has them now.

    Attributes:
        case: the case's name, for problems.
        recording: its SHA-256.
        frames: how many it holds.
        heads: what the case keeps of its heads; `letters` is empty where nobody is covered.
    """

    case: str
    recording: str
    frames: int
    heads: Heads

    @cached_property
    def trails(self) -> dict[str, Followed | None]:
        """How each head was followed from the covers it has now; None where it was not."""
        return {head: self._trail(head) for head in self.heads.letters}

    @property
    def unfollowed(self) -> tuple[str, ...]:
        """Heads to be followed, or followed anew since a cover was placed or removed."""
        return tuple(head for head, trail in self.trails.items() if trail is None)

    @property
    def lost(self) -> tuple[Stretch, ...]:
        """Stretches where nobody can tell where some head is: its cover has grown there."""
        return joined(stretch for trail in self.trails.values() if trail for stretch in trail.lost)

    def on(self, frame: int) -> tuple[Cover, ...]:
        """What hides heads on a frame; all of it, where a head was not followed."""
        if not 0 <= frame < self.frames:
            raise AuditError(_outside(self.case, frame, self.frames))
        if self.unfollowed:
            return (EVERYTHING,)
        covers = (trail.covers[frame] for trail in self.trails.values() if trail)
        return tuple(cover for cover in covers if cover is not None)

    def shown(self, frame: int) -> tuple[Cover, ...]:
        """What is hidden on a frame so far, for whoever is still placing covers."""
        if not self.unfollowed:
            return self.on(frame)
        trails = {head: trail.covers[frame] if trail else None for head, trail in self.trails.items()}
        placed = {head: one.cover for (head, at), one in self.heads.placed.items() if at == frame}
        return tuple(cover for cover in (trails | placed).values() if cover is not None)

    def fingerprint(self, first: int, last: int) -> str:
        """SHA-256 of the covers on a stretch, frame by frame."""
        stretch = [[one.to_json() for one in self.on(frame)] for frame in range(first, last + 1)]
        return sha256(canonical(stretch)).hexdigest()

    @cached_property
    def looked_through(self) -> tuple[Stretch, ...]:
        """The stretches somebody looked through whose covers are still those."""
        held = (one for one in self.heads.reviews if one.last < self.frames)
        return joined((one.first, one.last) for one in held if self._holds(one.first, one.last, one.sha256))

    def refuse_unreviewed(self, first: int, last: int) -> None:
        """Let a stretch pass whose heads are followed and looked through, or that has none; else AuditError.

        Whatever shows a recording outside its case asks here, before it begins and before it is put in place.
        """
        if not self.heads.letters:
            return
        for frame in (first, last):
            self.on(frame)
        if self.unfollowed:
            raise AuditError(_not_followed(self.case, self.unfollowed))
        if not any(begin <= first and last <= end for begin, end in self.looked_through):
            raise AuditError(_not_reviewed(self.case, first, last))

    def _holds(self, first: int, last: int, digest: str) -> bool:
        return self.fingerprint(first, last) == digest

    def _trail(self, head: str) -> Followed | None:
        found = self.heads.trail(head)
        fits = found and found.placed == fingerprint_of(self.heads.of(head))
        return found if fits and found and len(found.covers) == self.frames else None


def covers_on(audit: Audit, recording: str | None = None) -> Covered:
    """The covers of one of the case's recordings, None for the first.

    Give `Covered.on` to whoever draws its pictures, `Covered.lost` to whoever lists what cannot be told, and
    ask `Covered.refuse_unreviewed` before anything of it leaves.
    """
    cited = audit.cited(recording)
    heads = audit.state.heads.get(cited.sha256, Heads())
    return Covered(audit.path.name, cited.sha256, cited.frames, heads)


def place_cover(
    audit: Audit, head: str, frame: int, cover: Cover | None, recording: str | None = None
) -> Change:
    """Put a cover over a head on one frame; None says that it is out of sight from there on.

    A head is called by one or two small letters, never by a name; an AuditError else, and for a cover
    that lies outside the picture or on no frame.
    """
    where = _where(audit, frame, recording)
    problem = _no_letter(audit, head, where["recording"]) or _beside(audit, cover, where)
    if problem is not None:
        raise AuditError(problem)
    placed = Placed(head, frame, cover)
    audit.case.append("cover-placed", where | placed.to_json())
    return Change(frozenset({"covers"}))


def remove_cover(audit: Audit, head: str, frame: int, recording: str | None = None) -> Change:
    """Take away what was placed over a head on one frame."""
    if not any(one.frame == frame for one in covers_on(audit, recording).heads.of(head)):
        said = message("No cover was placed over head {head} on frame {frame}.", head=head, frame=frame)
        raise AuditError(
            Problem(
                "no-cover", f"{audit.path.name}: frame {frame}", said, message("See `reviewer cover list`.")
            )
        )
    audit.case.append("cover-removed", _where(audit, frame, recording) | {"head": head})
    return Change(frozenset({"covers"}))


def confirm_covers(audit: Audit, first: int, last: int, recording: str | None = None) -> Change:
    """Keep that the author looked through a stretch and found every head on it hidden."""
    covered = covers_on(audit, recording)
    if covered.unfollowed:
        raise AuditError(_not_followed(covered.case, covered.unfollowed))
    digest = covered.fingerprint(first, last)
    said = {"recording": covered.recording, "first": first, "last": last, "sha256": digest}
    audit.case.append("covers-reviewed", said)
    return Change(frozenset({"covers"}))


def joined(stretches: Iterable[Stretch]) -> tuple[Stretch, ...]:
    """Stretches in order, those that touch or overlap made one."""
    found: list[Stretch] = []
    for first, last in sorted(stretches):
        if found and first <= found[-1][1] + 1:
            found[-1] = found[-1][0], max(last, found[-1][1])
        else:
            found.append((first, last))
    return tuple(found)


def _where(audit: Audit, frame: int, recording: str | None) -> dict[str, Any]:
    """How an event names a frame of a recording; an AuditError outside it."""
    pts = audit.time(frame, recording).pts
    return {"recording": audit.cited(recording).sha256, "frame": frame, "pts": pts}


def _no_letter(audit: Audit, head: str, recording: str) -> Problem | None:
    """The problem of a head called otherwise than by a letter; one that a merge called so is known."""
    if re.fullmatch("[a-z]{1,2}", head) or head in audit.state.heads.get(recording, Heads()).letters:
        return None
    said = message("A head is called by one or two small letters, and nobody by name.")
    return Problem("no-letter", f"head {head}", said, message("Call it a, the next one b."))


def _beside(audit: Audit, cover: Cover | None, where: dict[str, Any]) -> Problem | None:
    """The problem of a cover that hides nothing of the picture, as far as the picture is known."""
    facts = audit.facts_of(where["recording"])
    if facts is None or cover is None:
        return None
    sizes = zip((cover.centre.x, cover.centre.y), (cover.across, cover.down), facts.displayed, strict=True)
    if all(-half.thousandths < at.thousandths < 1000 * edge + half.thousandths for at, half, edge in sizes):
        return None
    wide, tall = facts.displayed
    said = message("The picture has {wide} by {tall} pixels, and this lies outside.", wide=wide, tall=tall)
    return Problem("outside-picture", f"frame {where['frame']}", said, message("Put its middle on the head."))


def _outside(case: str, frame: int, frames: int) -> Problem:
    remedy = message("Give a frame from 0 to {last}.", last=frames - 1)
    return Problem(
        "frame-out-of-range", f"{case}: frame {frame}", message("The recording has no such frame."), remedy
    )


def _not_followed(case: str, heads: Iterable[str]) -> Problem:
    said = message(
        "Covers were placed or removed since these heads were followed: {heads}.", heads=", ".join(heads)
    )
    return Problem(
        "not-followed", case, said, message("Follow them: `reviewer cover follow {case}`.", case=case)
    )


def _not_reviewed(case: str, first: int, last: int) -> Problem:
    said = message(
        "Nobody has looked through the covers of frames {first} to {last} as they are now.",
        first=first,
        last=last,
    )
    remedy = message("Look through them at the desk, and confirm that every head is hidden.")
    return Problem("covers-not-reviewed", f"{case}: frames {first} to {last}", said, remedy)
