"""``reviewer clip-set``: a recipe begun from what was found, and clips made by one."""

import json
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.advancing import advancing
from reviewer.cli.clips import remarks
from reviewer.cli.options import FILE, author_option, json_option, today
from reviewer.terms.problems import DONE


@click.group("clip-set", epilog="Example: reviewer clip-set make recipe.json -o casts")
def clip_set() -> None:
    """Clips of several passages, made by a recipe: in order, each standing still on its decisive frame."""


@clip_set.command(epilog="Example: reviewer clip-set begin a.case b.case --code arms-bent -o recipe.json")
@click.argument("cases", type=FILE, nargs=-1)
@click.option(
    "-o", "out", type=FILE, required=True, help="The recipe to write; it is text that you may change."
)
@click.option("--code", "codes", multiple=True, help="Elements or faults of this code; may be given again.")
@click.option("--found", type=FILE, help="What `reviewer find --json` answered, kept in a file.")
@click.option("--title", default="Clips", show_default=True, help="What stands above.")
@click.option("--replace", is_flag=True, help="Also in place of a file that is there.")
@json_option
def begin(
    cases: tuple[Path, ...],
    out: Path,
    codes: tuple[str, ...],
    found: Path | None,
    title: str,
    replace: bool,
    as_json: bool,
) -> int:
    """Begin a recipe from faults of cases, or from what was found among many.

    In the recipe you may change the order, the words, lead-in and run-out, speed and time standing still, for
    all clips or for one; and put another camera or another athlete's passage beside one.
    """
    if not cases and found is None:
        raise click.UsageError("Name cases, or what was found with --found.")
    made = actions.begin_recipe(out, title, cases=cases, codes=codes, found=found, replace=replace)
    say.document(made) if as_json else click.echo(f"{out}: clips: {len(made['clips'])}.")
    if found is not None:
        say.remark(_not_in(json.loads(found.read_text(encoding="utf-8"))))
    return DONE


def _not_in(found: dict[str, Any]) -> str:
    """What an answer that shows a part of what was found leaves out."""
    shown, total = len(found["passages"]), found["total"]
    if shown == total:
        return ""
    return f"Of {total} passages that were found the answer holds {shown}; ask for all with --limit {total}."


@clip_set.command(epilog="Example: reviewer clip-set make recipe.json -o casts.mp4")
@click.argument("recipe", type=FILE)
@click.option(
    "-o", "out", type=FILE, required=True, help="A folder for clips with a page, or one film ending in .mp4."
)
@click.option("--replace", is_flag=True, help="One film: also in place of a file that is there.")
@author_option
@json_option
def make(recipe: Path, out: Path, replace: bool, author: str, as_json: bool) -> int:
    """Make the clips of a recipe. A folder that was stopped half-way goes on where it was.

    Consent of every case must cover the recipe's use, at the beginning and when each clip is put in place.
    What is passed on cannot be called back.
    """
    with advancing(as_json) as going_on:
        found = actions.make_set(recipe, out, author=author, today=today, replace=replace, going_on=going_on)
    say.document(found) if as_json else _tell(found, out)
    return DONE


def _tell(found: dict[str, Any], out: Path) -> None:
    kept = f", of these left as they were: {found['kept']}" if found.get("kept") else ""
    click.echo(f"{out}: clips: {len(found['clips'])}{kept}. What leaves cannot be called back.")
    for number, one in enumerate(found["clips"], start=1):
        for line in remarks(one["sides"]):
            say.remark(f"Clip {number}. {line}")
