"""The body line followed through a recording, and the top of the cast."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option
from reviewer.terms.intervals import degrees_told
from reviewer.terms.problems import DONE


@click.command(
    epilog="Example: reviewer follow routine.mp4 --clicks clicks.json --case routine.case --cast m2"
)
@click.argument("recording", type=FILE)
@click.option("--clicks", type=FILE, required=True, help="A reviewer.clicks/1 document.")
@click.option(
    "--span-ms",
    type=int,
    default=250,
    show_default=True,
    help="How far to follow to each side of a clicked frame, in thousandths of a second.",
)
@click.option("--case", type=FILE, help="A case of this recording, to keep the track in as evidence.")
@click.option("--cast", "mark", help="Id of the cast in that case whose angle the top becomes, such as m2.")
@author_option
@json_option
def follow(
    recording: Path,
    clicks: Path,
    span_ms: int,
    case: Path | None,
    mark: str | None,
    author: str,
    as_json: bool,
) -> int:
    """Follow clicked joints from frame to frame and find the top of the cast.

    Frames on which the joints cannot be told for certain are called lost, and no angle is given for them.
    """
    if mark and not case:
        raise click.UsageError("Give --case too: the case that --cast stands in.")
    found, kept = _kept(recording, clicks, span_ms, case, mark, author) if case else (None, "")
    found = found or actions.follow_file(recording, clicks, span_ms)
    if as_json:
        say.document(found)
        return DONE
    _tell(found)
    click.echo(kept or "Nothing is kept. Confirm the top on the picture, or keep it with --case and --cast.")
    return DONE


def _kept(
    recording: Path, clicks: Path, span_ms: int, case: Path, mark: str | None, author: str
) -> tuple[dict[str, Any], str]:
    """What was found, and how it was kept, in words."""
    with actions.open_case(case, author=author, recording=recording) as audit:
        actions.keep_track(audit, clicks, span_ms, recording, mark)
        track = audit.tracks[-1]
        found = {**track.document, "id": track.id}
        if mark is None:
            return found, f"Kept as {track.id}."
        return found, f"Kept as {track.id}, the angle of {mark}; final score {audit.sheet.final_score}"


def _tell(found: dict[str, Any]) -> None:
    for frame in found["frames"]:
        if frame["state"] == "good":
            click.echo(f"{frame['frame']:>6}  {degrees_told({**frame, 'value_deg': frame['angle_deg']})}")
    for stretch in found["lost"]:
        first, last = stretch["frames"]
        click.echo(f"Lost, frames {first} to {last}: {stretch['why']}")
    click.echo(f"Camera: {found['calibration']['check']}; {found['camera']['said']}")
    top = found["top"]
    if top is None:
        click.echo(f"No top: {found['why_no_top']}. Click nearer to it, or on more frames.")
        return
    low, high = top["interval_s"]
    click.echo(f"Top at {top['time_s']} s (95 %: {low} to {high}), nearest frame {top['frame']}: ", nl=False)
    click.echo(degrees_told(top))
