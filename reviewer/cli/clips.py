"""``reviewer clip``: one passage of a case as a clip."""

from fractions import Fraction
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.advancing import advancing
from reviewer.cli.options import FILE, author_option, json_option, language_option, recording_option, today
from reviewer.terms.problems import DONE


class Speed(click.ParamType[Fraction]):
    """A speed such as 1/4 or 0.25."""

    name = "speed"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Fraction:
        """The speed as a ratio; a problem otherwise."""
        return value if isinstance(value, Fraction) else actions.speed_of(value, "--speed")


class Seconds(click.ParamType[Fraction]):
    """Seconds as decimal text."""

    name = "seconds"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Fraction:
        """Exact seconds; a problem otherwise."""
        named = f"--{param.name.replace('_', '-')}" if param is not None and param.name else "seconds"
        return value if isinstance(value, Fraction) else actions.seconds_of(value, named)


SPEED, SECONDS = Speed(), Seconds()


@click.command(epilog="Example: reviewer clip routine.case --mark m4 --speed 1/4 --freeze-for 2 -o m4.mp4")
@click.argument("case", type=FILE)
@click.option("-o", "out", type=FILE, required=True, help="File to write, such as m4.mp4.")
@click.option("--mark", help="The mark it is about, such as m4: its time with what is around it.")
@click.option("--frames", type=(int, int), help="The first and the last frame, in place of a mark's time.")
@click.option("--lead-in", type=SECONDS, default="1", show_default=True, help="Seconds before a mark's time.")
@click.option("--run-out", type=SECONDS, default="1", show_default=True, help="Seconds after a mark's time.")
@click.option("--speed", type=SPEED, default="1", show_default=True, help="1/4 is four times as slow.")
@click.option("--freeze", type=int, help="The frame that stands still; without it, the mark's decisive one.")
@click.option("--freeze-for", type=SECONDS, default="0", show_default=True, help="Seconds it stands still.")
@click.option("--plain", is_flag=True, help="Without what was measured drawn over the picture.")
@click.option("--caption", help="Words beneath the picture in place of those about the mark; '' for none.")
@click.option(
    "--beside", help="Another recording of the case, shown beside it in time, by its place such as 2."
)
@click.option("--film", "films", type=FILE, multiple=True, help="A recording that is not beside the case.")
@click.option(
    "--use", type=click.Choice(actions.CLIP_USES), default="teaching", show_default=True, help="What for."
)
@click.option("--replace", is_flag=True, help="Also in place of a file that is there.")
@recording_option
@language_option
@author_option
@json_option
def clip(
    case: Path,
    out: Path,
    films: tuple[Path, ...],
    use: str,
    recording: str | None,
    beside: str | None,
    author: str,
    as_json: bool,
    replace: bool,
    plain: bool,
    **wished: Any,
) -> int:
    """Write a passage as a clip (H.264 in MP4): its frames at their exact times, slower, or standing still.

    Consent must cover its use, and heads that are covered must have been looked through. Sound, place, device
    and date stay behind. The case keeps that the clip was made; what is passed on cannot be called back.
    """
    with actions.open_case(case, author=author, recording=films) as audit, advancing(as_json) as going_on:
        wish = actions.ClipWish(
            recording=actions.recording_named(audit, recording) if recording else None,
            beside=actions.recording_named(audit, beside) if beside else None,
            drawn=not plain,
            **wished,
        )
        found = actions.export_clip(
            audit, wish, out, use=use, today=today, replace=replace, going_on=going_on
        )
    say.document(found) if as_json else _tell(found, out)
    return DONE


def _tell(found: dict[str, Any], out: Path) -> None:
    width, height = found["size"]
    click.echo(f"{out}: {found['seconds']} s, {width} x {height}. What leaves cannot be called back.")
    for line in remarks(found["sides"]):
        say.remark(line)


def remarks(sides: list[dict[str, Any]]) -> list[str]:
    """What somebody who passes a clip on should know of its pictures."""
    said = []
    for side in sides:
        named = f"Recording {side['recording']}"
        if not side["covered_heads"]:
            said.append(f"{named}: nobody's head is covered.")
        for first, last in side["lost"]:
            said.append(f"{named}: on frames {first} to {last} a head was lost; its cover has grown there.")
        if side["suspect"]:
            said.append(f"{named}: pictures in it are damaged; do not rely on them.")
    return said
