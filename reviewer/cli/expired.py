"""``reviewer expired``: what is past its date, and deleting it."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option, today
from reviewer.terms.problems import BAD_INPUT, DONE


@click.command(epilog="Example: reviewer expired evenings --delete")
@click.argument("folder", type=FILE)
@click.option("--delete", is_flag=True, help="Delete it; without this, it is only listed.")
@author_option
@json_option
def expired(folder: Path, delete: bool, author: str, as_json: bool) -> int:
    """List the cases below a FOLDER whose consent has ended or was withdrawn, and what was made of them.

    With --delete recordings, clips, reports and small pictures go, and names, texts and places go out of the
    case. The ledger stays: marks, evidence and chain, by codes. What was copied elsewhere is not reached.
    """
    found, problems = actions.expired_in(folder, today())
    due = [one for one in found if not one.is_cleared]
    if delete:
        problems += actions.clear_expired(due, author)
    if as_json:
        say.document(actions.expired_document(due, problems, deleted=delete))
    else:
        _tell(actions.expired_document(due, problems, deleted=delete), cleared=len(found) - len(due))
        say.problems(problems, False)
    return BAD_INPUT if problems else DONE


def _tell(document: dict[str, Any], cleared: int) -> None:
    goes = "Went" if document["deleted"] else "Goes"
    for case in document["cases"]:
        why = "consent was withdrawn" if case["why"] == "withdrawn" else f"consent ended with {case['why']}"
        click.echo(f"{case['case']}: {why}")
        for file in case["files"]:
            click.echo(f"   {goes}: {file['what']} {file['path']}")
        if case["texts"]:
            click.echo(f"   {goes}: names, texts and places in the case: {case['texts']}")
        for path in case["kept"]:
            click.echo(f"   Stays: {path}, which a case in date shows too")
        for digest in case["clips_elsewhere"]:
            click.echo(f"   Not here: a clip with the SHA-256 {digest}; ask whoever has it to delete it")
        click.echo("   Stays: the ledger (marks, evidence and chain, by codes)")
    if not document["cases"]:
        click.echo("Nothing is past its date.")
    elif not document["deleted"]:
        click.echo("Nothing was deleted. --delete does it.")
    if cleared:
        click.echo(f"Cases of which only the ledger is left: {cleared}.")
