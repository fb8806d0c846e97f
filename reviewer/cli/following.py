"""The body line followed through a recording, and the top of the cast."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer follow routine.mp4 --clicks clicks.json --span-ms 250 --json")
@click.argument("recording", type=FILE)
@click.option("--clicks", type=FILE, required=True, help="A reviewer.clicks/1 document.")
@click.option(
    "--span-ms",
    type=int,
    default=250,
    show_default=True,
    help="How far to follow to each side of a clicked frame, in thousandths of a second.",
)
@json_option
def follow(recording: Path, clicks: Path, span_ms: int, as_json: bool) -> int:
    """Follow clicked joints from frame to frame and find the top of the cast.

    Frames on which the joints cannot be told for certain are called lost, and no angle is given for them.
    """
    found = actions.follow_file(recording, clicks, span_ms)
    if as_json:
        say.document(found)
    else:
        _tell(found)
    return DONE


def _tell(found: dict[str, Any]) -> None:
    for frame in found["frames"]:
        if frame["state"] == "good":
            click.echo(f"{frame['frame']:>6}  {frame['angle_deg']:>9}° ± {frame['u_deg']}°")
    for stretch in found["lost"]:
        first, last = stretch["frames"]
        click.echo(f"Lost, frames {first} to {last}: {stretch['why']}")
    click.echo(f"Camera: {found['calibration']['check']}")
    top = found["top"]
    if top is None:
        click.echo(f"No top: {found['why_no_top']}. Click nearer to it, or on more frames.")
        return
    low, high = top["interval_s"]
    click.echo(f"Top at {top['time_s']} s (95 %: {low} to {high}), nearest frame {top['frame']}: ", nl=False)
    click.echo(f"{top['value_deg']}° ± {top['u_deg']}°. Confirm it on the picture.")
