"""``reviewer consent``: what the recording of a case may be used for, and until when."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option, today
from reviewer.terms.consents import WHOSE
from reviewer.terms.problems import DONE

_USES = click.option(
    "--for",
    "uses",
    metavar="USES",
    multiple=True,
    help="What it was given for: inquiry, teaching, coach; may be given several times.",
)
_UNTIL = click.option("--until", metavar="DAY", help="The last day it holds, such as 2027-06-30.")
_BY = click.option(
    "--by", type=click.Choice(WHOSE), help="Who gave it: the athlete, or a parent or guardian for her."
)


@click.command(epilog="Example: reviewer consent routine.case --for inquiry,teaching --until 2027-06-30")
@click.argument("case", type=FILE)
@_USES
@_UNTIL
@_BY
@click.option("--withdraw", is_flag=True, help="It was withdrawn: the case is locked, nothing leaves it.")
@author_option
@json_option
def consent(
    case: Path,
    uses: tuple[str, ...],
    until: str | None,
    by: str | None,
    withdraw: bool,
    author: str,
    as_json: bool,
) -> int:
    """Say or record what consent covers; a report or export for another use is refused.

    What is recorded cannot be undone; the last word counts. Without an option nothing is written. A bare
    `given` covers the inquiry alone.
    """
    if withdraw and (uses or until or by):
        raise click.UsageError("Either --withdraw, or --for with --until.")
    if (until or by) and not uses:
        raise click.UsageError("Say with --for what it was given for.")
    writes = withdraw or bool(uses)
    with actions.open_case(case, author=author if writes else None) as audit:
        if withdraw:
            actions.withdraw_consent(audit)
        elif uses:
            actions.give_consent(audit, _named(uses), until, today(), by)
        found = actions.consent_document(audit, today())
    say.document(found) if as_json else _tell(found)
    return DONE


def _tell(found: dict[str, Any]) -> None:
    until = f", until {found['until']}" if found["until"] else ""
    covers = f"today it covers {', '.join(found['uses'])}" if found["uses"] else "today it covers no use"
    by = f" by the {found['by']}" if found["by"] else ""
    click.echo(f"Consent: {found['consent']}{by}{until}; {covers}.")


def _named(uses: tuple[str, ...]) -> list[str]:
    return [use.strip() for some in uses for use in some.split(",") if use.strip()]


@click.command("consent", epilog="Example: reviewer meet consent evening --for inquiry --by parent")
@click.argument("meet", type=FILE)
@click.argument("starts", metavar="[START]...", nargs=-1)
@_USES
@_UNTIL
@_BY
@author_option
@json_option
def of_meet(
    meet: Path,
    starts: tuple[str, ...],
    uses: tuple[str, ...],
    until: str | None,
    by: str | None,
    author: str,
    as_json: bool,
) -> int:
    """Record consent in the cases of all routines of MEET, or of some, once it was asked for.

    Cases of which it was withdrawn stay locked and are named; `reviewer consent` is for a single case.
    """
    given = actions.Given(_named(uses), until, by)
    found = actions.give_meet_consent(meet, given, author=author, today=today(), starts=starts)
    if as_json:
        say.document(found)
        return DONE
    click.echo(f"Consent recorded: {len(found['given'])}; there already: {len(found['there'])}.")
    for words, names in (
        ("Withdrawn, and left so", found["withdrawn"]),
        ("Without a case yet (`reviewer meet index`)", found["no_case"]),
    ):
        if names:
            click.echo(f"{words}: {', '.join(names)}")
    return DONE
