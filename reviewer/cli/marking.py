"""``reviewer marks``: place, list and withdraw marks; bring a document in or write one out."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import (
    FILE,
    PointsText,
    author_option,
    json_option,
    recording_option,
    today,
    use_option,
)
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import EYE_VERDICTS, CastAngle, Mark
from reviewer.terms.problems import DONE


@click.group(epilog="Example: reviewer marks list routine.case")
def marks() -> None:
    """The marks of a case."""


@marks.command("import", epilog="Example: reviewer marks import routine.case marks.json")
@click.argument("case", type=FILE)
@click.argument("document", type=FILE)
@author_option
def bring_in(case: Path, document: Path, author: str) -> int:
    """Bring a reviewer.marks/1 document into a case."""
    with actions.open_case(case, author=author) as audit:
        count = actions.import_marks(audit, document)
    click.echo(f"Marks brought in: {count}.")
    return DONE


@marks.command("export", epilog="Example: reviewer marks export routine.case -o marks.json")
@click.argument("case", type=FILE)
@click.option("-o", "out", type=FILE, help="File to write; standard output without it.")
@use_option
def write_out(case: Path, out: Path | None, use: str) -> int:
    """Write the marks as a reviewer.marks/1 document.

    Like report and letter, marks may answer an inquiry while nobody has recorded consent.
    """
    with actions.open_case(case, author=None) as audit:
        actions.may_leave(audit, use, today(), answers=True)
        text = actions.marks_text(audit)
        if out is not None:
            actions.write_file(out, text.encode(), audit.recording_paths.values())
        say.remark(actions.unrecorded(audit))
    if out is None:
        click.echo(text, nl=False)
    else:
        click.echo(f"Marks written to {out}", err=True)
    return DONE


@marks.command("list", epilog="Example: reviewer marks list routine.case")
@click.argument("case", type=FILE)
@json_option
def list_marks(case: Path, as_json: bool) -> int:
    """The marks in routine order."""
    with actions.open_case(case, author=None) as audit:
        if as_json:
            say.document(actions.export_marks(audit))
            return DONE
        for mark in audit.marks:
            click.echo(_line(mark, _frame(audit, mark)))
    return DONE


@marks.command(
    epilog="Example: reviewer marks add routine.case fault arms-bent --element m2 --amount 0.100 --frame 77"
)
@click.argument("case", type=FILE)
@click.argument("kind", type=click.Choice(["element", "fault", "fact"]))
@click.argument("code")
@click.option("--frame", type=int, help="Frame a fault or fact is seen at, or an element begins at.")
@click.option("--end-frame", type=int, help="Frame an element ends at.")
@click.option("--order", type=int, help="Place among the elements where no frame is given.")
@click.option("--role", "roles", multiple=True, help="Role of an element, such as mount or dismount.")
@click.option("--with", "conditions", multiple=True, help="Condition, such as spotted; may be repeated.")
@click.option("--element", help="Id of the element a fault belongs to.")
@click.option("--amount", type=PointsText(), help="What is deducted.")
@click.option("--by-eye", help=f"Angle in degrees, or one of: {', '.join(EYE_VERDICTS)}.")
@click.option("--seen", type=click.Choice(["full-speed", "slowed"]))
@click.option("--judge", help="The judge's letter.")
@recording_option
@author_option
def add(
    case: Path,
    kind: str,
    code: str,
    frame: int | None,
    end_frame: int | None,
    order: int | None,
    roles: tuple[str, ...],
    conditions: tuple[str, ...],
    element: str | None,
    amount: Points | None,
    by_eye: str | None,
    seen: str | None,
    judge: str | None,
    recording: str | None,
    author: str,
) -> int:
    """Place one mark."""
    with actions.open_case(case, author=author) as audit:
        on = None if recording is None else actions.recording_named(audit, recording)
        if on is None and (frame, end_frame) != (None, None):
            on = actions.counting_recording(audit)
        tick = None if frame is None else audit.time(frame, on).pts
        change = actions.place_mark(
            audit,
            kind=kind,
            code=code,
            order=order,
            start=tick if kind == "element" else None,
            end=None if end_frame is None else audit.time(end_frame, on).pts,
            at=None if kind == "element" else tick,
            roles=roles,
            conditions=conditions,
            angle=_seen_by_eye(by_eye),
            element=element,
            amount=amount,
            seen=seen,
            judge=judge,
            recording=on,
        )
        click.echo(f"{change.mark} placed; final score {audit.sheet.final_score}")
    return DONE


@marks.command(epilog="Example: reviewer marks withdraw routine.case m4")
@click.argument("case", type=FILE)
@click.argument("mark")
@author_option
def withdraw(case: Path, mark: str, author: str) -> int:
    """Take a mark back."""
    with actions.open_case(case, author=author) as audit:
        actions.withdraw_mark(audit, mark)
        click.echo(f"{mark} withdrawn; final score {audit.sheet.final_score}")
    return DONE


@marks.command(epilog="Example: reviewer marks undo routine.case")
@click.argument("case", type=FILE)
@author_option
def undo(case: Path, author: str) -> int:
    """Undo your latest change."""
    with actions.open_case(case, author=author) as audit:
        actions.undo(audit)
        click.echo(f"Undone; final score {audit.sheet.final_score}")
    return DONE


@marks.command(epilog="Example: reviewer marks redo routine.case")
@click.argument("case", type=FILE)
@author_option
def redo(case: Path, author: str) -> int:
    """Redo what you undid last."""
    with actions.open_case(case, author=author) as audit:
        actions.redo(audit)
        click.echo(f"Redone; final score {audit.sheet.final_score}")
    return DONE


def _seen_by_eye(said: str | None) -> CastAngle | None:
    if said is None:
        return None
    if said in EYE_VERDICTS:
        return CastAngle("eye", verdict=said)
    try:
        return CastAngle("eye", Degrees.parse(said))
    except ValueError as fault:
        raise click.BadParameter(
            f"{fault}, nor one of: {', '.join(EYE_VERDICTS)}", param_hint="--by-eye"
        ) from None


def _frame(audit: "actions.Audit", mark: Mark) -> str:
    """The frame a mark is shown at, with the place of its recording where there are several."""
    for one in actions.frames_shown(audit, (mark.id,)):
        return str(one.frame) if len(audit.state.recordings) < 2 else f"{one.number}:{one.frame}"
    return "-"


def _line(mark: Mark, shown: str) -> str:
    extra = [*mark.roles, *mark.conditions, str(mark.amount) if mark.amount is not None else ""]
    return f"{mark.id:<6} {shown:>6}  {mark.kind:<8} {mark.code:<24} {' '.join(filter(None, extra))}".rstrip()
