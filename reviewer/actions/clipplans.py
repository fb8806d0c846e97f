"""From a wish to the plan of a clip: its sides, and the words beneath them."""

from collections.abc import Iterator
from hashlib import sha256

from reviewer import casefile, drawing
from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.clipscenes import ClipPlan
from reviewer.actions.clipsides import Side, passage_named, side_of, whole_side
from reviewer.actions.clipwishes import ClipWish
from reviewer.actions.shelving import verdict_of
from reviewer.terms.canonical import canonical
from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import expanded, half_of, tenths, told
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.words import Saying, saying


def plan_clip(audit: Audit, wish: ClipWish) -> ClipPlan:
    """The plan of a clip of one case; an AuditError where something it needs is not there."""
    leading = side_of(audit, wish)
    sides = (leading,) if wish.beside is None else (leading, _seen_beside(audit, leading, wish.beside, wish))
    return ClipPlan(sides, wish.speed, wish.freeze_for, (caption_of(audit, wish),), wish.language)


def plan_two(first: tuple[Audit, ClipWish], second: tuple[Audit, ClipWish]) -> ClipPlan:
    """The plan of two passages beside each other, such that their decisive frames come at the same moment.

    The first says from when to when it goes, how fast, and whether it stands still. An AuditError where
    either has no decisive frame.
    """
    (audit, wish), (other_audit, other_wish) = first, second
    leading, other = _decided(audit, wish), _decided(other_audit, other_wish)
    meeting = leading.begins(leading.decisive or 0) - other.begins(other.decisive or 0)
    whole = whole_side(other_audit, other.cited.sha256, other_wish).moved(other.shift + meeting)
    beside = whole.covering(leading.ends)
    assert beside is not None  # at the decisive frame both are on screen
    words = caption_of(audit, wish), caption_of(other_audit, other_wish)
    return ClipPlan((leading, beside), wish.speed, wish.freeze_for, words, wish.language)


def caption_of(audit: Audit, wish: ClipWish) -> tuple[str, ...]:
    """The lines beneath: what it is, its amount or its angle and verdict, and by which clause; no judge."""
    if not wish.captioned:
        return ()
    if wish.caption is not None:
        return (wish.caption,) if wish.caption.strip() else ()
    if wish.mark is None:
        return ()
    return tuple(_told(audit, wish.mark, saying(wish.language)))


def fingerprint(plan: ClipPlan) -> str:
    """SHA-256 of all that a clip is made from, so that the same plan gives the same pictures."""
    sides = [_as_document(side) for side in plan.sides]
    shown = {"speed": str(plan.speed), "freeze_for": str(plan.freeze_for), "captions": plan.captions}
    return sha256(canonical(shown | {"sides": sides, "language": plan.language})).hexdigest()


def _as_document(side: Side) -> dict[str, object]:
    drawn = {frame: shapes for frame, shapes in side.shapes.items() if side.first <= frame <= side.last}
    return {
        "recording": side.cited.sha256,
        "frames": [side.first, side.last],
        "decisive": side.decisive,
        "shift": str(side.shift),
        "covers": side.covered.fingerprint(side.first, side.last),
        "drawn": [[frame, drawing.svg(shapes, side.size, "")] for frame, shapes in sorted(drawn.items())],
    }


def _decided(audit: Audit, wish: ClipWish) -> Side:
    found = side_of(audit, wish)
    if found.decisive is None:
        said = message("There is no decisive frame in it at which another could be laid beside it.")
        raise AuditError(
            Problem("no-decisive-frame", audit.path.name, said, message("Name one: a mark, or `freeze`."))
        )
    return found


def _seen_beside(audit: Audit, leading: Side, recording: str, wish: ClipWish) -> Side:
    """Another recording of the case at the same time; AuditError where it shows nothing or is not joined."""
    state, cited = audit.state, audit.cited(recording)
    found = casefile.offsets_from(leading.cited, state.recordings, state.joins).get(recording)
    where = f"recordings {leading.number} and {audit.number_of(recording)}"
    if found is None:
        said = message("They are not joined, so nobody knows what one shows while the other is shown.")
        remedy = message("Set a common instant: `reviewer recordings join`.")
        raise AuditError(Problem("recordings-not-joined", where, said, remedy))
    if cited == leading.cited:
        said = message("A recording is not shown beside itself.")
        raise AuditError(Problem("same-recording", where, said, message("Name another one.")))
    whole = whole_side(audit, recording, wish).moved(leading.shift + found.seconds)
    beside = whole.covering(leading.ends)
    if beside is None:
        said = message("The second one shows nothing of this time.")
        raise AuditError(
            Problem("nothing-beside", where, said, message("Leave it out, or name other frames."))
        )
    return beside


def _told(audit: Audit, mark_id: str, say: Saying) -> Iterator[str]:
    passage = passage_named(audit, mark_id)
    mark = next(one for one in audit.marks if one.id == mark_id)
    words = [passage.name]
    if passage.amount is not None:
        words.append(say.word(str(passage.amount)))
    words += (say.word(one) for one in _of_cast(audit, mark))
    yield ", ".join(words)
    titles = {clause.id: clause.title for clause in audit.book.clauses}
    for clause in passage.clauses[:2]:
        yield say("Clause {clause}: {title}", clause=clause, title=titles.get(clause, clause))


def _of_cast(audit: Audit, mark: Mark) -> Iterator[str]:
    """Its angle, and how it was counted."""
    if mark.angle is not None and mark.angle.value is not None:
        yield _angle(audit, mark.angle, mark.angle.value)
    counted = next((one for one in audit.sheet.casts if one.mark == mark.id), None)
    if counted is not None:
        yield verdict_of(counted)
    elif mark.angle is not None and mark.angle.value is None:
        yield mark.angle.verdict or mark.angle.by


def _angle(audit: Audit, angle: CastAngle, value: Degrees) -> str:
    """As the protractor writes it where it was measured, else as it was entered."""
    reading = next((one for one in audit.readings if one.id == angle.reading), None)
    if reading is not None:
        return told(reading.value, half_of(reading.value, reading.interval), "°")
    if angle.uncertainty is None:
        return f"{tenths(value)}°"
    return told(value, expanded(angle.uncertainty), "°")
