"""Commands about time: when a frame is shown, and how long something took."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import DONE, NO, UNDECIDED


@click.command(
    epilog="Example: reviewer when routine.mp4 77 1.285s '00:00:01;07'",
    context_settings={"ignore_unknown_options": True},  # -0.5s is a moment
)
@click.argument("recording", type=FILE)
@click.argument("moments", nargs=-1, required=True, metavar="FRAME|SECONDS|TIMECODE...")
@json_option
def when(recording: Path, moments: tuple[str, ...], as_json: bool) -> int:
    """Each moment's frame, time and time code.

    A moment is a frame number such as 77, seconds such as 1.285s (the frame on screen then), or a time code
    such as '00:00:01;07' (in quotes, since a shell ends the line at a semicolon).
    """
    found = actions.moments_document(recording, moments)
    if as_json:
        say.document(found)
        return DONE
    for one in found["moments"]:
        click.echo(_moment(one, found["time_base"]))
    click.echo(_counting(found["counting"]))
    return DONE


@click.command(epilog="Example: reviewer duration routine.mp4 310 1822 --limit 30")
@click.argument("recording", type=FILE)
@click.argument("first", metavar="FIRST")
@click.argument("last", metavar="LAST")
@click.option("--limit", metavar="SECONDS", help="Hold it against a limit; exit 1 beyond it, 3 if unclear.")
@json_option
def duration(recording: Path, first: str, last: str, limit: str | None, as_json: bool) -> int:
    """How long it took from one event to another, and how far to trust it.

    FIRST and LAST are the frames on which each event first shows; seconds and time codes may be given as for
    `reviewer when`.
    """
    found = actions.duration_document(recording, first, last, limit)
    say.document(found) if as_json else _say_duration(found)
    if found["verdict"] is None:
        return DONE
    return {actions.WITHIN: DONE, actions.BEYOND: NO}.get(found["verdict"]["word"], UNDECIDED)


def _moment(one: dict[str, Any], time_base: str) -> str:
    again = f" (occurrence {one['occurrence']})" if one["occurrence"] else ""
    tick = f"tick {one['pts']}{again} of {time_base} s"
    return f"{one['time_code']:>13}  {one['seconds']:>10} s  frame {one['frame']:>6}  {tick}"


def _counting(how: dict[str, Any]) -> str:
    numbers = "dropping numbers" if how["drop_frame"] else "dropping none"
    said = f"Time code from {how['start']} at {how['rate']} a second, {numbers}"
    if how["nominal"]:
        said += "; nominal, since the recording's rate varies"
    if how["unread_start"]:
        said += f"; the file's own start code {how['unread_start']} is none at this rate"
    return f"{said}."


def _say_duration(found: dict[str, Any]) -> None:
    low, high = found["interval95_s"]
    for event in (found["first"], found["last"]):
        gap = "to the frame after, as none is before" if event["gap_assumed"] else "after the frame before"
        click.echo(f"Frame {event['frame']} at {event['seconds']} s, {event['gap_s']} s {gap}")
    click.echo(f"{found['seconds']} s (95 %: {low} s to {high} s)")
    if found["verdict"]:
        click.echo(f"Limit {found['limit_s']} s: {found['verdict']['word']}. {found['verdict']['rule']}")
