"""``reviewer what-if`` and ``reviewer interpret``: a decision otherwise, and which reading is taken."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, Named, PointsText, author_option, json_option, one_of
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import EYE_VERDICTS
from reviewer.terms.problems import DONE
from reviewer.terms.rulebook import OTHER, STATED

_POINTS = PointsText()
_READING = Named("CLAUSE", "stated|other", one_of(STATED, OTHER))


@click.command(
    "what-if", epilog="Example: reviewer what-if routine.case --amount m4=0.300 --verdict m2='not met'"
)
@click.argument("source", metavar="CASE|MARKS.json", type=FILE)
@click.option(
    "--amount",
    "amounts",
    multiple=True,
    type=Named("MARK", "POINTS", Points.parse),
    help="What a fault costs.",
)
@click.option(
    "--angle", "angles", multiple=True, type=Named("MARK", "DEGREES", Degrees.parse), help="Angle of a cast."
)
@click.option(
    "--verdict",
    "verdicts",
    multiple=True,
    type=Named("MARK", "WORD", one_of(*EYE_VERDICTS)),
    help=f"On a cast, by eye: {', '.join(EYE_VERDICTS)}.",
)
@click.option(
    "--with",
    "said",
    multiple=True,
    type=Named("MARK", "CONDITION"),
    help="A condition that holds, such as spotted.",
)
@click.option(
    "--not-with",
    "unsaid",
    multiple=True,
    type=Named("MARK", "CONDITION"),
    help="A condition that does not hold.",
)
@click.option("--credit", multiple=True, metavar="MARK", help="Give an element its credit.")
@click.option("--withhold", multiple=True, metavar="MARK", help="Withhold an element's credit.")
@click.option(
    "--without", "left_out", multiple=True, metavar="MARK", help="As if the mark had not been placed."
)
@click.option(
    "--read", "readings", multiple=True, type=_READING, help="Which reading of a clause that leaves one open."
)
@click.option("--rule-book", help="By another edition.")
@click.option("--keep", is_flag=True, help="Write it into the case; without this nothing is written.")
@author_option
@json_option
def what_if(source: Path, keep: bool, author: str, as_json: bool, **said: Any) -> int:
    """What would differ if decisions were otherwise: the differences only."""
    _refuse_twice(said)
    supposed = actions.Supposed(
        amounts=dict(said["amounts"]),
        angles=dict(said["angles"]),
        verdicts=dict(said["verdicts"]),
        said=said["said"],
        unsaid=said["unsaid"],
        credits=dict.fromkeys(said["credit"], "given") | dict.fromkeys(said["withhold"], "withheld"),
        left_out=said["left_out"],
        readings=dict(said["readings"]),
        rule_book=said["rule_book"],
    )
    found = actions.what_if(source, supposed, author=author if keep else None)
    say.document(found) if as_json else _tell(found)
    return DONE


@click.command(epilog="Example: reviewer interpret routine.case few-value-parts other")
@click.argument("case", type=FILE)
@click.argument("clause")
@click.argument("reading", type=click.Choice([STATED, OTHER]))
@author_option
@json_option
def interpret(case: Path, clause: str, reading: str, author: str, as_json: bool) -> int:
    """Choose how a clause is read where its rule leaves that open; see `reviewer rules show`."""
    with actions.open_case(case, author=author) as audit:
        actions.choose_interpretation(audit, clause, reading)
        final = str(audit.sheet.final_score)
        left = audit.book.interpretation(clause)
    chosen = {
        "format": "reviewer.interpretation/1",
        "clause": clause,
        "reading": reading,
        "final_score": final,
    }
    if as_json:
        say.document(chosen)
    else:
        way = "as the edition states it" if reading == STATED else "the other way"
        click.echo(f"{clause}, read {way}: {left.stated if reading == STATED else left.other}")
        click.echo(f"Final score {final}")
    return DONE


def _refuse_twice(said: Mapping[str, Any]) -> None:
    """A usage fault where one thing shall be otherwise in two ways."""
    named = {
        "--amount": [name for name, _ in said["amounts"]],
        "--angle and --verdict": [name for name, _ in (*said["angles"], *said["verdicts"])],
        "--credit and --withhold": [*said["credit"], *said["withhold"]],
        "--with and --not-with": [f"{name}={one}" for name, one in (*said["said"], *said["unsaid"])],
        "--read": [clause for clause, _ in said["readings"]],
    }
    for option, names in named.items():
        twice = sorted({name for name in names if names.count(name) > 1})
        if twice:
            raise click.BadParameter(f"{', '.join(twice)} stands there twice", param_hint=option)


def _tell(found: dict[str, Any]) -> None:
    for one in found["figures"]:
        click.echo(f"{one['what'].replace('_', ' ')}: {one['before']} -> {one['after']}")
    for sign, entries in (("-", found["gone"]), ("+", found["new"])):
        for line in entries["lines"]:
            who = f" {line['judge']}" if line["judge"] else ""
            click.echo(
                f"{sign} {line['points']:>8}  {line['stage']}{who}  {line['why']} (clause {line['clause']})"
            )
        for one in entries["not_earned"]:
            click.echo(f"{sign} not earned: {one['why']} ({', '.join(one['marks'])}: {one['reason']})")
        for one in entries["not_taken"]:
            click.echo(f"{sign} not taken: {one['why']} ({', '.join(one['marks'])})")
        for one in entries["notes"]:
            click.echo(f"{sign} note: {one['why']}")
    if found["same"]:
        click.echo("Nothing would differ.")
    click.echo("Written into the case." if found["kept"] else "Nothing was written.")
