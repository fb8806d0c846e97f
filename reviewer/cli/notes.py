"""``reviewer note``: words of a judge's own, kept in the case."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer note routine.case 'grip looked loose' --frame 77")
@click.argument("case", type=FILE)
@click.argument("text", required=False)
@click.option("--frame", type=int, help="Frame of the case's first recording that it is about.")
@author_option
@json_option
def note(case: Path, text: str | None, frame: int | None, author: str, as_json: bool) -> int:
    """Keep a note of your own (TEXT), or list those of a case."""
    with actions.open_case(case, author=author if text is not None else None) as audit:
        if text is not None:
            actions.write_note(audit, text, None if frame is None else audit.time(frame, None).pts)
        found = actions.notes_document(audit)
    if as_json:
        say.document(found)
        return DONE
    for one in found["notes"]:
        shown = "-" if one["frame"] is None else one["frame"]
        click.echo(f"{shown:>6}  {'(erased)' if one['text'] is None else one['text']}")
    return DONE
