"""``reviewer meet``: many routines after a meet."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.consents import of_meet
from reviewer.cli.meetbags import receive, return_, send, unpack
from reviewer.cli.meetfigures import figures, report
from reviewer.cli.meetindexing import index
from reviewer.cli.meetlists import begin, match, show
from reviewer.cli.meetqueue import assign, choose, queue, triggers, unassign
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import DONE

PERCENT = click.IntRange(1, 99)


@click.group(epilog="Example: reviewer meet sample starts.csv --number 30 --seed 7")
def meet() -> None:
    """After a meet: its routines, which to audit, who audits them, and what that says of the meet."""


@meet.command(epilog="Example: reviewer meet size --of 240 --rarer-than 5")
@click.option(
    "--of",
    "population",
    type=click.IntRange(min=1),
    help="How many routines there are; without it, no end of them.",
)
@click.option("--within", type=PERCENT, help="Tell a share to within so many points of a hundred.")
@click.option(
    "--rarer-than",
    type=PERCENT,
    help="Say that a fault is rarer than so many in a hundred, if none is found.",
)
@click.option("--confidence", type=PERCENT, default=95, show_default=True, help="In hundredths.")
@json_option
def size(
    population: int | None, within: int | None, rarer_than: int | None, confidence: int, as_json: bool
) -> int:
    """How many routines to audit, and what that says."""
    if (within is None) == (rarer_than is None):
        raise click.UsageError("Say either --within or --rarer-than.")
    found = actions.sample_size(actions.Wanted(confidence, within, rarer_than, population))
    say.document(found) if as_json else click.echo(f"{found['number']}: {found['says']} {found['why']}")
    return DONE


@meet.command(epilog="Example: reviewer meet sample starts.csv --number 30 --seed 7 --by division")
@click.argument("table", type=FILE)
@click.option("--number", type=click.IntRange(min=1), required=True, help="How many to draw.")
@click.option(
    "--seed", required=True, help="Words or digits chosen before anybody looks; the same seed draws the same."
)
@click.option("--by", help="A column, such as division: each of its values gives in proportion.")
@json_option
def sample(table: Path, number: int, seed: str, by: str | None, as_json: bool) -> int:
    """Draw routines from a TABLE (CSV) with a column "start", by lot."""
    found = actions.draw_sample(table, number, seed, by)
    if as_json:
        say.document(found)
        return DONE
    for one in found["drawn"]:
        click.echo(one["start"])
    say.remark(f"{len(found['drawn'])} of {found['of']}, seed {seed}.")
    return DONE


for command in (begin, match, show, index, of_meet):
    meet.add_command(command)
for command in (triggers, choose, assign, unassign, queue, send, unpack, return_, receive):
    meet.add_command(command)
for command in (figures, report):
    meet.add_command(command)
