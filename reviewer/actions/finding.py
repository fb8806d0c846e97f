"""The finding: everything a report says, as one document derived from the case."""

from collections import deque
from collections.abc import Callable, Iterable, Iterator
from concurrent.futures import Executor, Future
from dataclasses import replace
from hashlib import sha256
from typing import Any

from reviewer import __version__, casefile, reports, rules, video
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.differing import names_of
from reviewer.actions.evidencing import evidence, measured_frames, overlay, said_of
from reviewer.actions.hiding import Hide, as_it_is
from reviewer.actions.inquirydocument import inquiries_document
from reviewer.actions.limiting import limited, marks_of
from reviewer.actions.panelposted import posted_sheet_found
from reviewer.actions.scores import audit_score
from reviewer.actions.settling import settlement_document
from reviewer.actions.several import describe_recordings
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message, noted
from reviewer.terms.pictures import Picture
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import Clause
from reviewer.terms.timecodes import TimeCodes
from reviewer.words import Saying

_CAUTIONS = (
    noted(
        "This tool does not replace the federation's current rules, a certified judge or a qualified coach."
    ),
    noted("The rule book used here is data that somebody wrote down; it is not an official publication."),
    noted(
        "Recordings of minors need consent, stay on this machine, and are shown only to those the consent "
        "names."
    ),
    noted("The sport can injure: nothing here is advice on training or on spotting."),
    noted("The program touches no network, but for a compute cluster whose address you give."),
)
_ENGLISH = Saying()
_IN_HAND = 4
"""Stills that may wait to be compressed, lest memory fill with them."""
STILLS = 3_900_000
"""Bytes that all stills of a report may take, so that its page stays below 6 MB."""


def cautions() -> tuple[str, ...]:
    """What every report, the About box and the README say."""
    return _CAUTIONS


def finding(audit: Audit, stills: tuple[dict[str, Any], ...], say: Saying = _ENGLISH) -> dict[str, Any]:
    """The ``reviewer.finding/1`` document in a language: a pure function of case, version and stills."""
    score = audit_score(audit, say.word)
    return {
        "format": "reviewer.finding/1",
        "version": __version__,
        "language": say.language,
        "typeset_by": reports.TYPESETTER,
        "case": _case(audit),
        "recording": _recording(audit),
        **({"recordings": describe_recordings(audit)} if _several(audit) else {}),
        "rule_book": _book(audit),
        "score": score,
        "rests_on": score["rests_on"],
        "marks": [_mark(audit, mark) for mark in _as_audited(audit)],
        "inquiry": inquiries_document(audit, say.word),
        **_posted_sheet(audit, say),
        **_settlement(audit),
        **evidence(audit, say),
        "stills": list(stills),
        "clauses": _clauses(audit, score, say),
        "cautions": list(_CAUTIONS),
    }


def _settlement(audit: Audit) -> dict[str, Any]:
    """Both sheets line by line, in a case that settles two."""
    if audit.state.settlement is None:
        return {}
    found, names = settlement_document(audit), names_of(audit.book)
    marks = (one[side] for one in found["lines"] for side in ("first", "second"))
    codes = sorted({mark["code"] for mark in marks if mark is not None})
    return {"settlement": found | {"names": {code: names[code] for code in codes if code in names}}}


def _posted_sheet(audit: Audit, say: Saying) -> dict[str, Any]:
    """What the panel posted, where it was kept."""
    known = audit.state.posted_sheet is not None
    return {"posted_sheet": posted_sheet_found(audit, say.word)} if known else {}


def still_frames(audit: Audit, recording: str | None = None) -> tuple[int, ...]:
    """The frames a report shows of one recording: those of its readings, and of the marks that moved points.

    Of these, the faults and facts; an element is no single frame.
    """
    lines = limited(audit.sheet, audit.state.limited_to).lines
    moved = {mark for line in lines if line.stage != "start-value" for mark in line.marks}
    faults = tuple(mark.id for mark in audit.marks if mark.kind != "element" and mark.id in moved)
    marked = {frame for frame, _ in audit.frames(faults, recording)}
    return tuple(sorted(measured_frames(audit, recording) | marked))


GoingOn = Callable[[], bool]
"""Asked before each piece of long work; where it says no, the work ends."""


def always() -> bool:
    """Work to the end."""
    return True


def take_stills(
    audit: Audit,
    say: Saying = _ENGLISH,
    workers: Executor | None = None,
    going_on: GoingOn = always,
    frames_of: Callable[[Audit, str], tuple[int, ...]] = still_frames,
    hide: Hide = as_it_is,
) -> tuple[tuple[dict[str, Any], ...], dict[str, bytes]]:
    """The stills of a report as documents, and their JPEG bytes by id; none of a recording not at hand.

    With ``workers``, threads that a door lends, stills are compressed while the next ones are decoded.
    """
    here = [one.sha256 for one in audit.state.recordings if one.sha256 in audit.recording_paths]
    wanted = {recording: frames_of(audit, recording) for recording in here}
    most = bytes_a_still(sum(map(len, wanted.values())))
    documents, pictures = [], {}
    for recording, frames in wanted.items():
        with video.open_recording(audit.recording_paths[recording]) as opened:
            codes = TimeCodes.of(opened.facts)
            chosen = ((hide(recording, picture), coded) for picture, coded in opened.chosen(frames))
            for picture, coded, shown in _compressed(chosen, most, workers):
                if not going_on():
                    raise _stopped(audit)
                document = _still(audit, recording, picture, coded, shown)
                document |= {"time_code": str(codes.label(picture.frame))}
                document |= told(audit, document, say)
                documents.append(document)
                pictures[document["id"]] = shown
    return tuple(documents), pictures


def _stopped(audit: Audit) -> AuditError:
    said = message("The report was stopped, and nothing of it is written.")
    return AuditError(
        Problem("stopped", audit.path.name, said, message("Write it again when there is time."))
    )


def _compressed(
    chosen: Iterable[tuple[Picture, str]], most: int, workers: Executor | None
) -> Iterator[tuple[Picture, str, bytes]]:
    """Each picture with its fingerprint and its JPEG, in order; only a few in hand at once."""
    if workers is None:
        yield from ((picture, coded, video.jpeg(picture, most)) for picture, coded in chosen)
        return
    in_hand: deque[tuple[Picture, str, Future[bytes]]] = deque()
    for picture, coded in chosen:
        in_hand.append((picture, coded, workers.submit(video.jpeg, picture, most)))
        if len(in_hand) > _IN_HAND:
            yield _done(*in_hand.popleft())
    yield from (_done(*one) for one in in_hand)


def _done(picture: Picture, coded: str, shown: "Future[bytes]") -> tuple[Picture, str, bytes]:
    return picture, coded, shown.result()


def bytes_a_still(stills: int) -> int:
    """How large each of so many stills may be."""
    return STILLS // max(1, stills)


def told(audit: Audit, still: dict[str, Any], say: Saying) -> dict[str, Any]:
    """What is said of a still and drawn over it: from the case, not from the picture."""
    recording = audit.state.recordings[still.get("recording", 1) - 1].sha256
    frame, (wide, high) = still["frame"], still["size"]
    measured = said_of(audit, frame, recording, say)
    return {
        "caption": say.numbers("; ".join([*_marked_on(audit, recording, frame), *measured])),
        "measured": measured,
        "overlay": overlay(audit, frame, (wide, high), recording, say),
    }


def _several(audit: Audit) -> bool:
    return len(audit.state.recordings) > 1


def _still(audit: Audit, recording: str, picture: Picture, coded: str, shown: bytes) -> dict[str, Any]:
    number = audit.number_of(recording)
    return {
        "id": f"frame-{picture.frame}" if number == 1 else f"recording-{number}-frame-{picture.frame}",
        **({"recording": number} if _several(audit) else {}),
        "frame": picture.frame,
        "pts": picture.time.pts,
        "seconds": picture.time.seconds(),
        "size": list(picture.size),
        "suspect": picture.suspect,
        **({"treatment": list(picture.treatment)} if picture.treatment else {}),
        "picture_sha256": coded,
        "jpeg_sha256": sha256(shown).hexdigest(),
    }


def _marked_on(audit: Audit, recording: str, frame: int) -> list[str]:
    on_frame = (mark for mark in _as_audited(audit) if frame in dict(audit.frames((mark.id,), recording)))
    return [_named(audit, mark) for mark in on_frame]


def _as_audited(audit: Audit) -> tuple[Mark, ...]:
    """Every mark; a fault without its amount where execution is not audited."""
    counted = marks_of(audit.marks, audit.state.limited_to)
    return tuple(mark if mark in counted else replace(mark, amount=None) for mark in audit.marks)


def _named(audit: Audit, mark: Mark) -> str:
    name = names_of(audit.book).get(mark.code, mark.code)
    return f"{name} {mark.amount}" if mark.amount is not None else name


def _case(audit: Audit) -> dict[str, Any]:
    events = [event for event in audit.case.events if event.kind not in casefile.LEFT]
    return {
        "athlete_code": audit.athlete_code,
        "consent": audit.consent,
        "events": len(events),
        "head": events[-1].hash,
        "last_event_at": events[-1].at,
    }


def _recording(audit: Audit) -> dict[str, Any] | None:
    cited = audit.state.recording
    if cited is None:
        return None
    return {"sha256": cited.sha256, "frames": cited.frames, "time_base": cited.time_base}


def _book(audit: Audit) -> dict[str, Any]:
    book = audit.book
    named = {"id": book.id, "sha256": book.sha256, "title": book.title}
    return named | {"division": book.division, "season": book.season, "cautions": list(book.cautions)}


def _mark(audit: Audit, mark: Mark) -> dict[str, Any]:
    document = mark.to_json() | {"name": _named(audit, mark)}
    for one in audit.shown((mark.id,)):
        document |= {"frame": one.frame, "seconds": audit.time(one.frame, one.recording).seconds()}
    if _several(audit):
        document |= {"recording_number": audit.number_of(mark.recording)}
        document |= {} if mark.id not in audit.set_aside else {"counts": False}
    return document


def _cited_clauses(audit: Audit, score: dict[str, Any]) -> tuple[Clause, ...]:
    kinds = ("lines", "not_earned", "not_taken", "notes", "interpretations")
    cited = {one["clause"] for kind in kinds for one in score[kind]}
    return tuple(clause for clause in audit.book.clauses if clause.id in cited)


def _clauses(audit: Audit, score: dict[str, Any], say: Saying) -> list[dict[str, Any]]:
    """The clauses that decided, as they were taken."""
    says = rules.sentences(audit.book, say.word)
    return [_clause(one, audit, says[one.id], say) for one in _cited_clauses(audit, score)]


def _clause(clause: Clause, audit: Audit, says: tuple[str, ...], say: Saying) -> dict[str, Any]:
    """A clause: its fields as ``value``, its sentences as ``says``; what the judge reads otherwise, so."""
    sentences = " ".join(one[:1].upper() + one[1:] for one in says)
    named = {"id": clause.id, "title": clause.title, "value": clause.value, "says": sentences}
    if clause.id in audit.book.chosen:
        reading = audit.book.interpretation(clause.id)
        named |= {
            "value": f"read as: {reading.other}; stated: {clause.value}",
            "read_as": say.message(reading.other),
        }
    return named | {"since": clause.since, "source": str(clause.source)}
