"""``reviewer agreement``: how far several judges agree on several routines, in figures."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import json_option
from reviewer.terms.problems import DONE

_TABLES = (".csv", ".tsv", ".txt")


@click.command(epilog="Example: reviewer agreement scores.csv")
@click.argument("sources", metavar="TABLE.csv|[ROUTINE[/JUDGE]=]SHEET...", nargs=-1, required=True)
@json_option
def agreement(sources: tuple[str, ...], as_json: bool) -> int:
    """Say in figures how far several judges agree on several routines.

    TABLE is a CSV file in UTF-8 with the columns routine, judge, and any of start_value, execution (or score)
    and final, in any order; a blank cell was not given. Judges are letters, never names. In place of a table
    there may be sheets: cases and marks documents of the same recordings, or of routines that are named, such
    as 12/A=first.json 12/B=second.json; then faults are held against each other as well.
    """
    tables = [source for source in sources if source.lower().endswith(_TABLES)]
    if tables and len(sources) > 1:
        raise click.UsageError("Give one table alone, or sheets.")
    if tables:
        found = actions.agreement_of_table(Path(tables[0]))
    else:
        found = actions.agreement_of_sheets([_source(one) for one in sources])
    if as_json:
        say.document(found)
    else:
        for line in _told(found):
            click.echo(line)
    return DONE


def _source(text: str) -> "actions.Source":
    """A sheet as it was typed; a file whose name holds an equals sign is taken as such."""
    named, is_, path = text.partition("=")
    if not is_ or Path(text).exists():
        return actions.Source(Path(text))
    routine, _, judge = named.rpartition("/") if "/" in named else (named, "", "")
    return actions.Source(Path(path), routine or None, judge or None)


def _told(found: dict[str, Any]) -> Iterator[str]:
    yield f"{_routines(found['routines'])}, judges {', '.join(found['judges'])}"
    for one in found["quantities"]:
        yield from ("", *_quantity(one))
    if found["faults"] is not None:
        yield from ("", *_faults(found["faults"]))
    yield ""
    yield from found["remarks"]
    yield from found["cautions"]
    for problem in found["warnings"]:
        yield f"Mind: {problem['where']}: {problem['message']}"


def _quantity(one: dict[str, Any]) -> Iterator[str]:
    name = one["quantity"].replace("_", " ").capitalize()
    yield f"{name}: {_routines(one['routines'])} judged by two or more, {one['complete']} by all"
    yield f"  all the same           {_figure(one['same'])}"
    yield f"  ICC(2,1), absolute     {_figure(one['icc_2_1'])}"
    yield f"  ICC(3,1), consistency  {_figure(one['icc_3_1'])}"
    for own in one["judges"]:
        yield (
            f"  judge {own['judge']} against the others: on the average {_figure(own['bias'])}, "
            f"spread {_figure(own['spread'])}"
        )
    for pair in one["pairs"]:
        names = " less ".join(pair["judges"])
        yield f"  {names}: {_figure(pair['difference'])}, limits of agreement {_limits(pair)}"


def _routines(number: int) -> str:
    return f"{number} routine" if number == 1 else f"{number} routines"


def _limits(pair: dict[str, Any]) -> str:
    if pair["low"]["value"] is None:
        return "not defined"
    return f"{_figure(pair['low'])} and {_figure(pair['high'])}"


def _faults(one: dict[str, Any]) -> Iterator[str]:
    yield f"Faults: {one['units']} that could be taken"
    for name, words in (("taken", "taken or not, nominal"), ("amounts", "amounts, interval    ")):
        alpha = one[name]["alpha"]
        told = one[name]["why"] if alpha is None else f"{alpha} (no interval)"
        yield f"  alpha of Krippendorff, {words}  {told}"


def _figure(one: dict[str, Any]) -> str:
    """Value and interval; why there is none, the remarks say."""
    if one["value"] is None:
        return "not defined"
    if one["interval95"] is None:
        return f"{one['value']} (no interval)"
    low, high = one["interval95"]
    return f"{one['value']} ({low} to {high})"
