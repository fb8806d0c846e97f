"""Heads followed through a recording from the covers placed by hand, and kept in the case."""

from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path

from reviewer import masking, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.covering import Covered, covers_on
from reviewer.actions.marking import Change
from reviewer.terms.covers import Followed, Placed
from reviewer.terms.messages import message
from reviewer.terms.pictures import Picture
from reviewer.terms.problems import Problem

Progress = Callable[[str, int], bool]
"""Told a head's letter and the frame that is looked at next; whether to go on."""


def on_and_on(_: str, __: int) -> bool:
    """Always on."""
    return True


def follow_heads(audit: Audit, recording: str | None = None, progress: Progress = on_and_on) -> Change:
    """Follow every head whose covers were placed or removed since, and keep what is found; one event a head.

    An AuditError where no head is covered, the recording is not here, or ``progress`` says no: what was
    followed until then is kept.
    """
    covered = covers_on(audit, recording)
    path = recording_here(audit, covered)
    with video.open_recording(path) as shown:
        for head in covered.unfollowed:
            found = followed(covered.heads.of(head), shown, partial(progress, head))
            keep_followed_head(audit, covered.recording, found)
    return Change(frozenset({"covers"}))


def follow_apart(
    path: Path, heads: Sequence[tuple[Placed, ...]], going_on: Callable[[], bool]
) -> tuple[Followed, ...]:
    """Heads followed through a recording, which opens anew: from any thread; nothing is kept."""
    with video.open_recording(path) as shown:
        return tuple(followed(placed, shown, lambda _: going_on()) for placed in heads)


def keep_followed_heads(audit: Audit, recording: str, found: Iterable[Followed]) -> Change:
    """Keep heads that were followed apart in one of the case's recordings, one event each."""
    for one in found:
        keep_followed_head(audit, recording, one)
    return Change(frozenset({"covers"}))


def keep_followed_head(audit: Audit, recording: str, found: Followed) -> None:
    """Keep where a head was found."""
    audit.case.append("head-followed", {"recording": recording} | found.to_json())


def recording_here(audit: Audit, covered: Covered) -> Path:
    """Where the recording lies whose heads are to be followed; an AuditError where that cannot be done."""
    if not covered.heads.letters:
        said = message("No head is covered on any frame yet.")
        remedy = message("Put a cover over each head on one frame first: `reviewer cover place`.")
        raise AuditError(Problem("no-covers", covered.case, said, remedy))
    return looked_at(audit, covered)


def looked_at(audit: Audit, covered: Covered) -> Path:
    """Where a recording lies; an AuditError where it is not here."""
    path = audit.recording_paths.get(covered.recording)
    if path is None:
        said = message("The recording is not here, or was changed, so no head can be followed in it.")
        raise AuditError(
            Problem("no-recording", covered.case, said, message("Name it with --film, or put it beside."))
        )
    return path


def followed(placed: tuple[Placed, ...], shown: video.Recording, going_on: Callable[[int], bool]) -> Followed:
    """A head followed through an open recording; ``going_on`` is asked before each picture."""

    def picture(frame: int) -> Picture | None:
        if not going_on(frame):
            raise AuditError(
                Problem(
                    "stopped",
                    f"head {placed[0].head}",
                    message("Following was stopped."),
                    message("Follow again."),
                )
            )
        try:
            found = shown.evidence(frame)
        except video.VideoError:
            return None
        return None if found.suspect else found

    return masking.follow(placed, shown.facts, picture)
