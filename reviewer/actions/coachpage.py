"""Writing the coach's page, its paper and its clips: made first, then put in place if all still allows it."""

import json
from collections.abc import Callable, Mapping
from concurrent.futures import Executor
from dataclasses import dataclass
from functools import partial
from pathlib import Path
from typing import Any

from reviewer import reports
from reviewer.actions.audit import Audit
from reviewer.actions.clips import ClipMade, keep_clip
from reviewer.actions.coachclips import CLIPS, discard_clips, make_clips, remove_earlier
from reviewer.actions.coaching import coach_document, coach_frames, costs_of
from reviewer.actions.consenting import may_leave
from reviewer.actions.finding import GoingOn, always, take_stills
from reviewer.actions.hiding import hiding
from reviewer.actions.outgoing import put_whole, refuse_no_folder
from reviewer.terms.canonical import readable
from reviewer.terms.consents import COACH
from reviewer.words import ENGLISH, saying

PAGE, PAPER, DOCUMENT = "coach.html", "coach.pdf", "coach.json"
_Document = dict[str, Any]


@dataclass(frozen=True, slots=True)
class CoachMade:
    """A page for a coach that is not yet written; its clips lie beside their places.

    Attributes:
        folder: where it goes.
        document: ``reviewer.coach/1``.
        pictures: JPEG bytes by still's id.
        clips: what is to be put in place with it.
    """

    folder: Path
    document: _Document
    pictures: Mapping[str, bytes]
    clips: tuple[ClipMade, ...]

    def discard(self) -> None:
        """Let nothing of it remain."""
        discard_clips(self.clips)


def write_coach_page(
    audit: Audit,
    folder: Path,
    today: Callable[[], str],
    language: str = ENGLISH,
    workers: Executor | None = None,
    *,
    with_clips: bool = True,
    going_on: GoingOn = always,
) -> _Document:
    """Write ``coach.html``, ``coach.pdf`` and ``coach.json`` into a folder, clips beside them; the document.

    The same case gives the same bytes with one version and one language. With clips the case is open to be
    written: it keeps each of them. An AuditError where consent does not cover a coach, or where the case has
    no whole score.
    """
    made = make_coach_page(
        audit, folder, today(), language, workers, with_clips=with_clips, going_on=going_on
    )
    return keep_coach_page(audit, made, today())


def make_coach_page(
    audit: Audit,
    folder: Path,
    today: str,
    language: str = ENGLISH,
    workers: Executor | None = None,
    *,
    with_clips: bool = True,
    going_on: GoingOn = always,
) -> CoachMade:
    """All of the page but the writing, which a door may do on a thread of its own on a case to read."""
    refuse_no_folder(folder)
    may_leave(audit, COACH, today)
    costs, say = costs_of(audit), saying(language)
    clips = make_clips(audit, costs, folder, today, going_on) if with_clips else {}
    try:
        files = {mark: f"{CLIPS}/{made.out.name}" for mark, made in clips.items()}
        stills, pictures = take_stills(
            audit, say, workers, going_on, frames_of=partial(coach_frames, costs), hide=hiding(audit)
        )
        found: _Document = json.loads(readable(coach_document(audit, costs, stills, say, files)))
    except BaseException:
        discard_clips(clips.values())
        raise
    own = {made.out: made for made in clips.values()}
    return CoachMade(folder, found, pictures, tuple(own.values()))


def keep_coach_page(audit: Audit, made: CoachMade, today: str) -> _Document:
    """Write the page, and put its clips in place of earlier ones; consent and covers are asked for again."""
    try:
        may_leave(audit, COACH, today)
        write_pages(made.folder, made.document, reports.coach_page(made.document), made.pictures)
        for clip in made.clips:
            keep_clip(audit, clip, today)
        remove_earlier(audit, made.folder, made.clips)
    except BaseException:
        made.discard()
        raise
    return made.document


def write_pages(folder: Path, found: _Document, page: reports.Page, pictures: Mapping[str, bytes]) -> None:
    """Write a coach's page, its paper and its document."""
    document = readable(found)
    files = {
        PAGE: reports.as_html(page, found["stills"], pictures).encode(),
        PAPER: reports.as_paper(page, found, pictures, {DOCUMENT: document}),
        DOCUMENT: document,
    }
    folder.mkdir(parents=True, exist_ok=True)
    for name, content in files.items():
        put_whole(folder / name, content)
