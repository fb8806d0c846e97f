"""``reviewer cover``: heads covered on a recording, followed, looked through and confirmed."""

import re
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option, recording_option
from reviewer.terms.covers import Cover
from reviewer.terms.exact import Pixels
from reviewer.terms.problems import DONE
from reviewer.terms.shapes import Spot

film_option = click.option("--film", type=FILE, help="The recording, where it does not lie beside the case.")
head_option = click.option(
    "--head", default="a", show_default=True, help="The head's letter: one for each person in the picture."
)
frame_option = click.option("--frame", type=int, required=True, help="Number of the frame.")


class Pair(click.ParamType[tuple[Pixels, Pixels]]):
    """Two sizes in pixels, such as ``612,371``."""

    name = "X,Y"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[Pixels, Pixels]:
        """Both sizes from what was typed; a usage fault otherwise."""
        if isinstance(value, tuple):
            return value
        try:
            first, second = (Pixels.parse(one) for one in value.split(","))
        except ValueError:
            self.fail(f"{value!r} is not two sizes in pixels, such as 612,371", param, ctx)
        return first, second


class Frames(click.ParamType[tuple[int, int]]):
    """A first and a last frame, such as ``0-245``."""

    name = "FIRST-LAST"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[int, int]:
        """Both frames from what was typed; a usage fault otherwise."""
        if isinstance(value, tuple):
            return value
        found = re.fullmatch("([0-9]{1,8})-([0-9]{1,8})", value)
        if found is None or int(found[1]) > int(found[2]):
            self.fail(f"{value!r} is not a first and a last frame, such as 0-245", param, ctx)
        return int(found[1]), int(found[2])


@click.group(epilog="Example: reviewer cover place routine.case --frame 12 --at 612,371 --size 60,66")
def cover() -> None:
    """Cover heads, so that a clip shows no face: placed by hand, followed, looked through.

    No program finds turned or inverted heads reliably, so a person places the first cover of each head and
    looks through the result. Where a head was lost its cover grows, and the stretch is listed.
    """


@cover.command(epilog="Example: reviewer cover place routine.case --frame 12 --at 612,371 --size 60,66")
@click.argument("case", type=FILE)
@head_option
@frame_option
@click.option("--at", type=Pair(), required=True, help="Middle of the head, in pixels of the picture.")
@click.option("--size", type=Pair(), required=True, help="Width and height that hide all of it, in pixels.")
@recording_option
@author_option
def place(
    case: Path,
    head: str,
    frame: int,
    at: tuple[Pixels, Pixels],
    size: tuple[Pixels, Pixels],
    recording: str | None,
    author: str,
) -> int:
    """Put a cover over a head on one frame; one on the same frame is replaced."""
    if min(one.thousandths for one in size) < 2:
        raise click.BadParameter("a cover has a width and a height", param_hint="'--size'")
    across, down = (Pixels(one.thousandths // 2) for one in size)
    with actions.open_case(case, author=author) as audit:
        actions.place_cover(audit, head, frame, Cover(Spot(*at), across, down), _named(audit, recording))
    click.echo(f"Head {head} is covered on frame {frame}. Follow it: reviewer cover follow {case.name}")
    return DONE


@cover.command(epilog="Example: reviewer cover gone routine.case --head b --frame 40")
@click.argument("case", type=FILE)
@head_option
@frame_option
@recording_option
@author_option
def gone(case: Path, head: str, frame: int, recording: str | None, author: str) -> int:
    """Say that a head is out of the picture from a frame on, until it is covered again."""
    with actions.open_case(case, author=author) as audit:
        actions.place_cover(audit, head, frame, None, _named(audit, recording))
    click.echo(f"Head {head} is out of the picture from frame {frame} on.")
    return DONE


@cover.command(epilog="Example: reviewer cover remove routine.case --frame 12")
@click.argument("case", type=FILE)
@head_option
@frame_option
@recording_option
@author_option
def remove(case: Path, head: str, frame: int, recording: str | None, author: str) -> int:
    """Take away what was said of a head on one frame."""
    with actions.open_case(case, author=author) as audit:
        actions.remove_cover(audit, head, frame, _named(audit, recording))
    click.echo(f"Nothing is said of head {head} on frame {frame} any more.")
    return DONE


@cover.command(epilog="Example: reviewer cover follow routine.case")
@click.argument("case", type=FILE)
@film_option
@recording_option
@author_option
@json_option
def follow(case: Path, film: Path | None, recording: str | None, author: str, as_json: bool) -> int:
    """Follow every head through the whole recording, both ways from each cover placed by hand."""
    with actions.open_case(case, author=author, recording=film) as audit:
        named = _named(audit, recording)
        actions.follow_heads(audit, named)
        found = actions.covers_document(audit, named)
    say.document(found) if as_json else _tell(found)
    return DONE


@cover.command("list", epilog="Example: reviewer cover list routine.case --json")
@click.argument("case", type=FILE)
@recording_option
@json_option
def list_covers(case: Path, recording: str | None, as_json: bool) -> int:
    """Which heads are covered, where one was lost, and what was looked through."""
    with actions.open_case(case, author=None) as audit:
        found = actions.covers_document(audit, _named(audit, recording))
    say.document(found) if as_json else _tell(found)
    return DONE


@cover.command(epilog="Example: reviewer cover show routine.case 77 -o covered.png")
@click.argument("case", type=FILE)
@click.argument("frame", type=int)
@click.option("-o", "out", type=FILE, required=True, help="PNG file to write.")
@film_option
@recording_option
@json_option
def show(case: Path, frame: int, out: Path, film: Path | None, recording: str | None, as_json: bool) -> int:
    """Write one frame as a clip would show it, to see whether every head is hidden."""
    with actions.open_case(case, author=None, recording=film) as audit:
        found = actions.save_covered_still(audit, frame, out, _named(audit, recording))
    say.document(found) if as_json else click.echo(f"Frame {frame} with {found['covers']} covers: {out}")
    return DONE


@cover.command(epilog="Example: reviewer cover offer routine.case 77")
@click.argument("case", type=FILE)
@click.argument("frame", type=int)
@film_option
@recording_option
@json_option
def offer(case: Path, frame: int, film: Path | None, recording: str | None, as_json: bool) -> int:
    """Say where something on a frame looks like an upright face, as numbers for `cover place`.

    An aid that decides nothing: turned and inverted heads are missed, and what is no face may be offered.
    """
    with actions.open_case(case, author=None, recording=film) as audit:
        found = actions.offered_covers(audit, frame, _named(audit, recording))
    say.document(found) if as_json else _tell_offered(case, found)
    return DONE


@cover.command(epilog="Example: reviewer cover confirm routine.case --frames 0-245")
@click.argument("case", type=FILE)
@click.option("--frames", type=Frames(), required=True, help="The stretch you looked through, such as 0-245.")
@recording_option
@author_option
def confirm(case: Path, frames: tuple[int, int], recording: str | None, author: str) -> int:
    """Say that you looked through a stretch and every head on it is hidden: without this no clip is made.

    It holds for the covers as they are now; once one changes, that stretch is to be looked through again.
    """
    with actions.open_case(case, author=author) as audit:
        actions.confirm_covers(audit, *frames, _named(audit, recording))
    click.echo(f"Frames {frames[0]} to {frames[1]} were looked through by {author}.")
    return DONE


def _named(audit: "actions.Audit", recording: str | None) -> str | None:
    return (
        actions.counting_recording(audit) if recording is None else actions.recording_named(audit, recording)
    )


def _tell_offered(case: Path, found: dict[str, Any]) -> None:
    if not found["covers"]:
        click.echo("Nothing here looks like an upright face. Place covers by hand.")
    for one in found["covers"]:
        wide, high = (2 * Pixels.parse(one[name]).thousandths // 1000 for name in ("across", "down"))
        place = f"--frame {found['frame']} --at {','.join(one['at'])} --size {wide},{high}"
        click.echo(f"reviewer cover place {case.name} {place}")


def _tell(found: dict[str, Any]) -> None:
    if not found["heads"]:
        click.echo("No head is covered.")
    for one in found["heads"]:
        frames = ", ".join(str(placed["frame"]) for placed in one["placed"])
        state = "followed" if one["followed"] else "to be followed: reviewer cover follow"
        click.echo(f"Head {one['head']}: placed on frames {frames}; {state}")
        for first, last in one["lost"] or ():
            click.echo(
                f"   lost on frames {first} to {last}: its cover has grown there. Place it on one of them."
            )
    looked = ", ".join(f"{first} to {last}" for first, last in found["looked_through"])
    click.echo(f"Looked through as it is now: {f'frames {looked}' if looked else 'nothing'}.")
