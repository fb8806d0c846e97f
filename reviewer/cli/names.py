"""``reviewer names``: who stands behind an athlete's code, in one locked file on this machine."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.cli.phrases import pass_phrase, pass_phrase_option
from reviewer.terms.problems import DONE

file_option = click.option("--file", type=FILE, help="The file of names, where it is not the usual one.")
_OF = "Pass phrase of the names"


@click.group(epilog="Example: reviewer names list")
def names() -> None:
    """Athletes are codes everywhere; their names stand in one file apart that only a pass phrase opens.

    Nothing that is written or sent looks into it. Who forgets the pass phrase has lost the names.
    """


@names.command("set", epilog="Example: reviewer names set G-12")
@click.argument("code")
@click.option("--name", prompt=True, help="The name; asked for without it, so that no shell remembers it.")
@file_option
@pass_phrase_option
def set_(code: str, name: str, file: Path | None, pass_phrase_file: Path | None) -> int:
    """Keep the name behind a code."""
    phrase = pass_phrase(pass_phrase_file, _OF, new=not actions.has_names(file))
    actions.set_name(code, name, phrase, file)
    click.echo(f"The name behind {code} is kept.")
    return DONE


@names.command("list", epilog="Example: reviewer names list")
@file_option
@pass_phrase_option
@json_option
def list_names(file: Path | None, pass_phrase_file: Path | None, as_json: bool) -> int:
    """Tell the names behind the codes, on this terminal."""
    known = {}
    if actions.has_names(file):
        known = actions.known_names(pass_phrase(pass_phrase_file, _OF, new=False), file)
    if as_json:
        say.document(actions.names_document(known))
    for code, name in () if as_json else sorted(known.items()):
        click.echo(f"{code:<20} {name}")
    if not known and not as_json:
        click.echo("No names are kept.")
    return DONE


@names.command(epilog="Example: reviewer names forget G-12")
@click.argument("code")
@file_option
@pass_phrase_option
def forget(code: str, file: Path | None, pass_phrase_file: Path | None) -> int:
    """Keep the name behind a code no longer."""
    actions.forget_name(code, pass_phrase(pass_phrase_file, _OF, new=False), file)
    click.echo(f"The name behind {code} is forgotten.")
    return DONE
