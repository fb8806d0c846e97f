"""Commands about the recording itself: frames, still, measure."""

import json
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option, stream_option
from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import degrees_told, millimetres_told, tenths
from reviewer.terms.problems import BAD_INPUT, DONE


@click.command(epilog="Example: reviewer frames routine.mp4 --hashes --json")
@click.argument("recording", type=FILE)
@click.option("--hashes", is_flag=True, help="Also the SHA-256 of every picture.")
@stream_option
@json_option
def frames(recording: Path, hashes: bool, stream: int, as_json: bool) -> int:
    """What a recording holds, frame by frame."""
    found = actions.frames_document(recording, hashes, stream)
    if as_json:
        say.document(found)
        return DONE
    width, height = found["displayed"]
    click.echo(f"{found['frames']} frames of {width} x {height}, counted by {found['counted_by']}")
    for remark in _remarks(found):
        click.echo(remark)
    click.echo(f"Ticks of {found['time_base']} s from {found['pts'][0]} to {found['pts'][-1]}")
    click.echo(f"Key frames: {', '.join(map(str, found['key_frames']))}")
    click.echo(f"SHA-256 {found['sha256']}")
    for number, digest in enumerate(found.get("picture_sha256", [])):
        click.echo(f"{number:>6}  {found['pts'][number]:>10}  {digest}")
    return DONE


def _remarks(found: dict[str, Any]) -> Iterator[str]:
    """What a judge should know of these pictures."""
    if found["streams"] > 1:
        yield f"Pictures {found['stream']} of {found['streams']} in this file (from 0; --stream shows others)"
    if found["interlaced"]:
        yield "Interlaced: each frame holds two moments, of which the first is shown"
    if found["transfer"] != "sdr":
        yield f"High dynamic range ({found['transfer']}), shown as standard range"
    if found["time_code"]:
        yield f"Time code of the first frame: {found['time_code']}"
    for name in ("suspect", "missing"):
        if found[name]:
            yield f"Damaged, {name}: frames {', '.join(map(_stretch, found[name]))}"


def _stretch(frames: int | list[int]) -> str:
    return str(frames) if isinstance(frames, int) else "-".join(map(str, frames))


@click.command(epilog="Example: reviewer still routine.mp4 77 -o frame-77.png")
@click.argument("recording", type=FILE)
@click.argument("frame", type=int)
@click.option("-o", "out", type=FILE, required=True, help="PNG file to write.")
@stream_option
@json_option
def still(recording: Path, frame: int, out: Path, stream: int, as_json: bool) -> int:
    """Write one frame as a PNG, as displayed."""
    found = actions.save_still(recording, frame, out, stream)
    if as_json:
        say.document(found)
    else:
        click.echo(f"Frame {found['frame']} (tick {found['pts']}) written to {out}")
        for treated in found["treatment"]:
            click.echo(f"{treated[0].upper()}{treated[1:]}")
        if found["suspect"]:
            click.echo("Damaged here: do not rely on this picture")
    return DONE


@click.command(epilog="Example: reviewer measure routine.mp4 --points clicks.json --json")
@click.argument("recording", type=FILE, required=False)
@click.option(
    "--points",
    type=FILE,
    multiple=True,
    help="A reviewer.clicks/1 document. Given again for other judges' clicks, the readings pool.",
)
@click.option("--batch", type=FILE, help="Many requests, one a line; one JSON answer a line.")
@json_option
def measure(recording: Path | None, points: tuple[Path, ...], batch: Path | None, as_json: bool) -> int:
    """The protractor on clicked points: the angle, how far to trust it, and the verdict.

    The request says what is measured: a line between two joints, such as shoulder-ankle; a line to the lowest
    part of the body (lowest, hand-lowest, shoulder-lowest); a bend (elbow-bend, shoulder-bend, hip-bend,
    knee-bend, leg-separation); or a length (hip-over-rail, hip-over-knee, step, foot-from-rail and such). A
    line may be held against the vertical or another line. README.md says more.
    """
    if bool(points) == (batch is not None):
        raise click.UsageError("Give either --points or --batch.")
    if batch:
        return _measure_all(batch, recording)
    several = len(points) > 1
    found = (
        actions.measure_together(points, recording) if several else actions.measure_file(points[0], recording)
    )
    if as_json:
        say.document(found)
        return DONE
    _TOLD[found["format"]](found)
    return DONE


def _tell_length(found: dict[str, Any]) -> None:
    click.echo(millimetres_told(found))
    click.echo(f"Camera: {found['calibration']['check']}")


def _tell_reading(found: dict[str, Any]) -> None:
    click.echo(f"Measured: {found['through']}")
    click.echo(degrees_told(found))
    uncorrected = tenths(Degrees.parse(found["naive_deg"]))
    click.echo(f"Uncorrected {uncorrected}°; camera: {found['calibration']['check']}")
    _tell_verdict(found)


def _tell_pooled(found: dict[str, Any]) -> None:
    for judge, one in enumerate(found["readings"], start=1):
        click.echo(f"{judge:>6}  {one['through']}  {degrees_told(one)}")
    click.echo(degrees_told(found))
    click.echo(f"From judge to judge {found['reproducibility_deg']}°; {found['check']}")
    _tell_verdict(found)


def _tell_verdict(found: dict[str, Any]) -> None:
    if found["verdict"]:
        click.echo(f"Verdict: {found['verdict']['word']}. {found['verdict']['rule']}")


_TOLD: dict[str, Callable[[dict[str, Any]], None]] = {
    "reviewer.reading/1": _tell_reading,
    "reviewer.length/1": _tell_length,
    "reviewer.pooled/1": _tell_pooled,
}


def _measure_all(batch: Path, recording: Path | None) -> int:
    code = DONE
    for answer in actions.measure_batch(batch, recording):
        click.echo(json.dumps(answer, ensure_ascii=False))
        code = BAD_INPUT if answer["problems"] else code
    return code
