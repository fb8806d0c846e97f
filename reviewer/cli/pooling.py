"""Several judges' readings of one cast, pooled in their case."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli.options import FILE, author_option
from reviewer.terms.intervals import degrees_told
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer pool routine.case r1 r4 r5 --cast m2")
@click.argument("case", type=FILE)
@click.argument("readings", nargs=-1, required=True)
@click.option("--cast", "mark", help="Id of the cast whose angle the pooled value becomes, such as m2.")
@author_option
def pool(case: Path, readings: tuple[str, ...], mark: str | None, author: str) -> int:
    """Pool several readings of one cast into one value, with how far the judges are from each other."""
    with actions.open_case(case, author=author) as audit:
        actions.pool_readings(audit, readings, mark)
        kept = audit.state.pools[-1]
        found = kept["pooled"]
        click.echo(f"{kept['id']}: {degrees_told(found)} of {', '.join(kept['of'])}")
        click.echo(f"From judge to judge {found['reproducibility_deg']}°; {found['check']}")
        if mark is not None:
            click.echo(f"It is the angle of {mark}; final score {audit.sheet.final_score}")
    return DONE
