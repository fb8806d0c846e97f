"""``reviewer meet index``: the recordings of a meet read by several processes, and its cases made."""

import os
import sys
from collections.abc import Callable
from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option
from reviewer.terms.problems import BAD_INPUT, DONE, UNDECIDED

_PROBLEMS = 20
"""Problems that are told on the terminal."""
_STEPS = 20
"""Words on how far it is, where nobody looks on."""


@click.command(epilog="Example: reviewer meet index evening --processes 2")
@click.argument("folder", metavar="MEET", type=FILE)
@click.option(
    "--processes",
    type=click.IntRange(1, 64),
    default=2,
    show_default=True,
    help="How many recordings are read at once.",
)
@click.option("--without-pictures", is_flag=True, help="Make no small pictures; the desk makes them later.")
@click.option(
    "--consent", type=click.Choice(["given", "not recorded"]), default="not recorded", show_default=True
)
@click.option("--again", is_flag=True, help="Make cases once more that were made and are gone.")
@author_option
@json_option
def index(
    folder: Path,
    processes: int,
    without_pictures: bool,
    consent: str,
    again: bool,
    author: str,
    as_json: bool,
) -> int:
    """Read every recording of a meet once (frames, fingerprint, small pictures), and make its cases.

    It may be stopped with Ctrl+C and run again: what is done is not done again.
    """
    try:
        with actions.working(processes, actions.Spawned()) as workers:
            indexing = actions.Indexing(
                author=author,
                consent=consent,
                work=actions.Work(workers, 2 * processes, max(1, (os.cpu_count() or 1) // processes)),
                pictures=not without_pictures,
                again=again,
                progress=_progress(),
            )
            found = actions.index_meet(folder, indexing)
    except KeyboardInterrupt:
        say.remark("\nStopped. What is done is kept; run it again to go on.")
        return UNDECIDED
    _tell(found, as_json)
    return BAD_INPUT if found.problems else DONE


def _tell(found: actions.MeetIndexed, as_json: bool) -> None:
    if as_json:
        say.document(found.to_json())
        return
    click.echo(
        f"Recordings read: {found.recordings}. Cases made: {found.cases}; given a recording: {found.cited}."
    )
    if found.gone:
        more = f" … and {len(found.gone) - 10} more" if len(found.gone) > 10 else ""
        click.echo(
            f"Made before and gone, not made again without --again: {'; '.join(found.gone[:10])}{more}"
        )
    if found.driven_out:
        say.remark(
            f"Small pictures of {found.driven_out} recordings had to make room; the desk makes them "
            "again. Give them more: `reviewer settings small-picture-disk '40 GiB'`."
        )
    say.problems(found.problems[:_PROBLEMS], False)
    rest = len(found.problems) - _PROBLEMS
    say.remark(f"… and {rest} more; --json lists them all." if rest > 0 else "")


def _progress() -> Callable[[str, int, int], bool]:
    """Tells on standard error how far it is: in one line where somebody looks on, else a few times."""
    looks_on = sys.stderr.isatty()

    def told(what: str, done: int, all_: int) -> bool:
        if looks_on:
            click.echo(f"\r{what}: {done} of {all_} ", nl=done == all_, err=True)
        elif done == all_ or done % max(1, all_ // _STEPS) == 0:
            click.echo(f"{what}: {done} of {all_}", err=True)
        return True

    return told
