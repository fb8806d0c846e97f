"""A second judge who works blind, sealing, and settling two sheets line by line."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, Author, author_option, json_option
from reviewer.terms.messages import as_written
from reviewer.terms.problems import BAD_INPUT, DONE
from reviewer.terms.vocabulary import TAKEN


@click.command(epilog="Example: reviewer second first.case -o second.case --author B")
@click.argument("case", type=FILE)
@click.option("-o", "out", type=FILE, required=True, help="The second judge's case, a new file.")
@author_option
def second(case: Path, out: Path, author: str) -> int:
    """Begin a second judge's case of the same routine, without the first one's marks.

    The second judge works blind by agreement: nothing keeps anybody from opening a file. The two sheets are
    compared only once both are sealed.
    """
    with actions.begin_second(case, out, author) as audit:
        click.echo(f"{audit.path.name} is begun for judge {author}: same recording, same edition, no marks.")
    click.echo("Keep the first case closed until both are sealed.")
    return DONE


@click.command(epilog="Example: reviewer seal second.case --author B")
@click.argument("case", type=FILE)
@click.option("--author", type=Author(), help="Your letter; without it, that of the judge whose sheet it is.")
@click.option("--although-empty", is_flag=True, help="Seal a sheet without a mark.")
def seal(case: Path, author: str | None, although_empty: bool) -> int:
    """Seal a sheet: its marks stay as they are from now on. This cannot be undone."""
    with actions.open_case(case, author=None) as read:
        letter = read.letter
    with actions.open_case(case, author=author or letter) as audit:
        actions.seal(audit, although_empty=although_empty)
        click.echo(
            f"{case.name} is sealed with final score {audit.sheet.final_score}. This cannot be undone."
        )
    return DONE


@click.group()
def settle() -> None:
    """Settle two sealed sheets of one routine, line by line; both originals are kept."""


@settle.command(epilog="Example: reviewer settle begin first.case second.case -o settled.case --author C")
@click.argument("first", type=FILE)
@click.argument("other", metavar="SECOND", type=FILE)
@click.option("-o", "out", type=FILE, required=True, help="The case of the settlement, a new file.")
@author_option
def begin(first: Path, other: Path, out: Path, author: str) -> int:
    """Begin a settlement; what both sheets agree on is on it from the start."""
    with actions.begin_settlement(first, other, out, author) as audit:
        _tell(actions.settlement_document(audit, say.saying().word))
    return DONE


@settle.command(epilog="Example: reviewer settle show settled.case --json")
@click.argument("case", type=FILE)
@json_option
def show(case: Path, as_json: bool) -> int:
    """Every line, whose view was taken, and the score as it stands."""
    with actions.open_case(case, author=None) as audit:
        found = actions.settlement_document(audit, as_written if as_json else say.saying().word)
    say.document(found) if as_json else _tell(found)
    return BAD_INPUT if found["problems"] and not found["open"] else DONE


@settle.command(epilog="Example: reviewer settle take settled.case L4 second --author C")
@click.argument("case", type=FILE)
@click.argument("line")
@click.argument("view", type=click.Choice(TAKEN))
@author_option
def take(case: Path, line: str, view: str, author: str) -> int:
    """Take the first or the second judge's view of a line, or neither's."""
    with actions.open_case(case, author=author) as audit:
        actions.settle_line(audit, line, view)
        _tell(actions.settlement_document(audit, say.saying().word))
    return DONE


@settle.command(epilog="Example: reviewer settle reopen settled.case L3 --because 'The legs were apart.'")
@click.argument("case", type=FILE)
@click.argument("line")
@click.option("--because", required=True, help="Why, in plain words: it is kept and stands in the report.")
@author_option
def reopen(case: Path, line: str, because: str, author: str) -> int:
    """Open a line again, also one on which both judges agree, to take another view of it, or neither's.

    Both originals stay as they are. What neither judge saw is added with `reviewer marks add`.
    """
    with actions.open_case(case, author=author) as audit:
        actions.reopen_line(audit, line, because)
        _tell(actions.settlement_document(audit, say.saying().word))
    return DONE


def _tell(found: dict[str, Any]) -> None:
    judges = [one["judge"] for one in found["sheets"]]
    for one in found["lines"]:
        views = " | ".join(
            f"{judge}: {_said(one[key])}" for judge, key in zip(judges, ("first", "second"), strict=True)
        )
        click.echo(f"{one['line']:>5}  {one['taken'] or 'open':<8} {views}")
        for again in one.get("reopened", ()):
            click.echo(f"       reopened by {again['by']}: {again['because'] or '(words erased)'}")
    for problem in found["problems"]:
        click.echo(f"{problem['where']}: {problem['message']} {problem['remedy']}", err=True)
    final = found["final_score"]
    sure = ", of the marks that can be scored" if found["problems"] else ""
    came_to = "" if final is None else f"; final score as settled so far{sure} {final}"
    click.echo(f"Lines open: {found['open']}{came_to}")


def _said(mark: dict[str, Any] | None) -> str:
    if mark is None:
        return "nothing"
    angle = mark.get("angle") or {}
    parts = [mark["code"], mark.get("amount"), *mark.get("roles", ()), *mark.get("with", ())]
    parts += [f"{angle['deg']}°" if "deg" in angle else angle.get("verdict")]
    return " ".join(str(one) for one in parts if one)
