"""``reviewer find``: passages among many cases."""

from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.callwords import VERDICT_WORDS
from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import degrees_told, tenths
from reviewer.terms.problems import DONE, NO

_SLOW = 200
"""Cases to read from which on it is told how far it has come."""


def _asked(command: Callable[..., Any]) -> Callable[..., Any]:
    """What a passage must fit; the options of `actions.wanted`."""
    for option in reversed(
        (
            click.option("--words", default="", help="Beginnings of words that it can be found by."),
            click.option("--element", default="", help="Elements of this code or name; cast* for all casts."),
            click.option("--fault", default="", help="Faults of this code or name; on --element, if given."),
            click.option("--clause", default="", help="A clause of the rule book that decided over it."),
            click.option(
                "--amount", nargs=2, default=("", ""), metavar="LEAST MOST", help="Points that it costs."
            ),
            click.option(
                "--angle",
                nargs=2,
                default=("", ""),
                metavar="LEAST MOST",
                help="Degrees of a cast, negative below horizontal: -55 -35.",
            ),
            click.option("--verdict", default="", help=f"Of a cast: {', '.join(VERDICT_WORDS)}."),
            click.option(
                "--settled/--arguable",
                default=None,
                help="Only where nothing is left open (no amount, no verdict), or only where something is.",
            ),
            click.option("--rule-book", default="", help="Cases scored by this edition."),
            click.option("--division", default="", help="Cases of this division."),
            click.option("--since", default="", help="Cases begun on this day or later, such as 2027-06-30."),
            click.option("--until", default="", help="Cases begun on this day or before."),
        )
    ):
        command = option(command)
    return command


@click.command(epilog="Example: reviewer find evening --element 'cast*' --angle -55 -35 --settled")
@click.argument("folder", type=FILE)
@_asked
@click.option(
    "--limit", type=int, default=actions.PASSAGES_SHOWN, show_default=True, help="How many to show."
)
@click.option("--skip", type=int, default=0, help="How many to pass over first.")
@json_option
def find(folder: Path, limit: int, skip: int, as_json: bool, **asked: Any) -> int:
    """Find marked passages in all cases of FOLDER and of the folders in it.

    A passage must fit all that is said. The newest case comes first. An index is kept in the folder, hidden,
    without a name of any person; it goes with the cases. Cases whose consent was withdrawn are counted alone.
    """
    wanted = actions.wanted(**asked)
    with ProcessPoolExecutor(mp_context=get_context("spawn")) as workers:  # none starts unless it is needed
        answer = actions.search_shelf(
            folder, wanted, limit=limit, skip=skip, progress=_told_slowly, workers=workers
        )
    found = actions.found_document(answer, limit, skip)
    if as_json:
        say.document(found)
    else:
        for line in _told(found):
            click.echo(line)
        say.problems(answer.problems, False)
        if not found["total"] and wanted.angle is not None and wanted.angle[0] > Degrees(0):
            say.remark("These degrees lie above the horizontal; below it they are negative: --angle -55 -35")
    return DONE if found["total"] else NO


def _told_slowly(done: int, cases: int) -> bool:
    """Say on standard error how far reading has come, where that takes a while."""
    if cases >= _SLOW and done and done % _SLOW == 0:
        click.echo(f"{done} of {cases} cases read", err=True)
    return True


def _told(found: dict[str, Any]) -> Iterator[str]:
    for one in found["passages"]:
        yield from _passage(one)
    last = found["skip"] + len(found["passages"])
    shown = f"; shown: {found['skip'] + 1} to {last}" if found["passages"] else ""
    yield f"{_counted(found['total'], 'passage')} in {_counted(found['cases'], 'case')}{shown}"
    if last < found["total"] and found["passages"]:
        yield f"More: --skip {last}"
    if found["locked"]:
        yield f"Locked, since consent was withdrawn, and not searched: {_counted(found['locked'], 'case')}"


def _passage(one: dict[str, Any]) -> Iterator[str]:
    frame = "no time" if one["frame"] is None else f"frame {one['frame']['frame']}"
    yield f"{one['case']}  {one['mark']}  {frame}  {', '.join(_about(one))}"
    if one["recording"] is not None and one["recording"]["state"] != "here":
        yield f"  {_LACKS[one['recording']['state']]}"


_LACKS = {
    "missing": "its recording was not found on this computer",
    "changed": "the file in its recording's place is another one",
}


def _about(one: dict[str, Any]) -> Iterator[str]:
    yield one["name"] + (f" at {one['element']['name']}" if one["element"] else "")
    if one["amount"] is not None:
        yield one["amount"]
    if one["angle"] is not None:
        yield _angle(one["angle"])
    if one["verdict"] is not None:
        yield one["verdict"]
    if not one["settled"]:
        yield "arguable"
    if one["judge"] is not None:
        yield f"judge {one['judge']}"


def _angle(one: dict[str, Any]) -> str:
    said = {"value_deg": one["deg"], "u_deg": one["u_deg"]}
    by = "" if one["by"] == "protractor" else " by eye"
    return (
        f"{tenths(Degrees.parse(one['deg']))}°{by}" if one["u_deg"] is None else f"{degrees_told(said)}{by}"
    )


def _counted(number: int, what: str) -> str:
    return f"{number} {what}" if number == 1 else f"{number} {what}s"
