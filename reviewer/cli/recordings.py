"""``reviewer recordings``: several recordings in one case, joined in time, and the attempt that counts."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option
from reviewer.terms.intervals import seconds_told
from reviewer.terms.problems import DONE, NO

_WHICH = "a recording by its place, such as 2, or by the beginning of its SHA-256"


@click.group(epilog="Example: reviewer recordings list routine.case")
def recordings() -> None:
    """The recordings of a case: cameras at several seats, and attempts at the exercise."""


@recordings.command("list", epilog="Example: reviewer recordings list routine.case --json")
@click.argument("case", type=FILE)
@json_option
def list_recordings(case: Path, as_json: bool) -> int:
    """Which recordings a case cites, where they lie, and how they are joined."""
    with actions.open_case(case, author=None) as audit:
        found = actions.recordings_document(audit)
    if as_json:
        say.document(found)
        return DONE
    for one in found["recordings"]:
        for line in _lines(one):
            click.echo(line)
    return DONE


@recordings.command(epilog="Example: reviewer recordings add routine.case stand.mp4")
@click.argument("case", type=FILE)
@click.argument("recording", type=FILE)
@click.option("--attempt", type=int, default=1, show_default=True, help="The attempt it shows.")
@author_option
def add(case: Path, recording: Path, attempt: int, author: str) -> int:
    """Cite one more recording of this start; it is cited, never copied."""
    with actions.open_case(case, author=author) as audit:
        actions.add_recording(audit, recording, attempt)
        number = len(audit.state.recordings)
    click.echo(f"{recording.name} is recording {number} and shows attempt {attempt}.")
    return DONE


@recordings.command(epilog="Example: reviewer recordings join routine.case 1 77 2 130")
@click.argument("case", type=FILE)
@click.argument("first")
@click.argument("frame", type=int)
@click.argument("second")
@click.argument("other_frame", type=int)
@author_option
def join(case: Path, first: str, frame: int, second: str, other_frame: int, author: str) -> int:
    """Set one common instant: FRAME of FIRST shows what OTHER_FRAME of SECOND shows.

    FIRST and SECOND are recordings by their place, such as 2, or by the beginning of their SHA-256.
    """
    with actions.open_case(case, author=author) as audit:
        a, b = actions.recording_named(audit, first), actions.recording_named(audit, second)
        actions.join_recordings(audit, a, frame, b, other_frame)
        entries = actions.recordings_document(audit)["recordings"]
    for entry in entries:
        if entry["sha256"] in (a, b) and entry["offset"]:
            click.echo(_offset(entry))
    return DONE


@recordings.command(epilog="Example: reviewer recordings beside routine.case 77 --of 1 --on 2")
@click.argument("case", type=FILE)
@click.argument("frame", type=int)
@click.option("--of", default="1", show_default=True, help=f"The frame's recording: {_WHICH}.")
@click.option("--on", default="2", show_default=True, help="The recording to look into.")
@json_option
def beside(case: Path, frame: int, of: str, on: str, as_json: bool) -> int:
    """The frame of another recording that shows the same instant; exit 1 where it shows none."""
    with actions.open_case(case, author=None) as audit:
        here, there = actions.recording_named(audit, of), actions.recording_named(audit, on)
        found = actions.counterpart(audit, frame, of=here, on=there)
        numbers = audit.number_of(here), audit.number_of(there)
        tick = None if found is None else audit.time(found, there).pts
    if as_json:
        say.document({"format": "reviewer.beside/1", "recording": numbers[1], "frame": found, "pts": tick})
    elif found is None:
        click.echo(f"Recording {numbers[1]} shows no picture of that instant.")
    else:
        click.echo(f"Frame {found} of recording {numbers[1]}.")
    return NO if found is None else DONE


@recordings.command(epilog="Example: reviewer recordings attempt routine.case 2 --is 2")
@click.argument("case", type=FILE)
@click.argument("recording")
@click.option("--is", "attempt", type=int, required=True, help="The attempt it shows.")
@author_option
def attempt(case: Path, recording: str, attempt: int, author: str) -> int:
    """Say that a recording shows another attempt at the exercise."""
    with actions.open_case(case, author=author) as audit:
        named = actions.recording_named(audit, recording)
        actions.assign_attempt(audit, named, attempt)
        click.echo(f"Recording {audit.number_of(named)} shows attempt {attempt}.{_score(audit)}")
    return DONE


@recordings.command(epilog="Example: reviewer recordings count routine.case 2")
@click.argument("case", type=FILE)
@click.argument("attempt", type=int)
@author_option
def count(case: Path, attempt: int, author: str) -> int:
    """Say which attempt counts; the marks of the others are kept and count nothing."""
    with actions.open_case(case, author=author) as audit:
        actions.count_attempt(audit, attempt)
        aside = len(audit.set_aside)
        click.echo(f"Attempt {attempt} counts; marks set aside: {aside}.{_score(audit)}")
    return DONE


def _score(audit: "actions.Audit") -> str:
    return f" Final score {audit.sheet.final_score}."


def _lines(one: dict[str, Any]) -> list[str]:
    counts = "counts" if one["counts"] else "does not count"
    lines = [
        f"{one['number']}  attempt {one['attempt']}, which {counts}; frames: {one['frames']}",
        f"   {one['where'] or 'not found on this machine'}",
        f"   SHA-256 {one['sha256']}",
    ]
    return [*lines, f"   {_offset(one)}"] if one["offset"] else lines


def _offset(one: dict[str, Any]) -> str:
    said = one["offset"]
    size = seconds_told(said["seconds"], said["u_s"])
    return f"Recording {one['number']}: {size} added to its times give those of recording {said['to']}."
