"""The command that makes two cases one."""

from collections import Counter
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, author_option, json_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer merge a.case b.case -o both.case --author C")
@click.argument("first", type=FILE)
@click.argument("second", type=FILE)
@click.option("-o", "out", type=FILE, required=True, help="Case to make; the two stay as they are.")
@click.option(
    "--although-other-recording", is_flag=True, help="Merge cases that share no recording all the same."
)
@click.option(
    "--apart",
    "kept_apart",
    multiple=True,
    metavar="MARK",
    help="A mark of the second case, such as B.m3, that is none of the first's although it looks so.",
)
@author_option
@json_option
def merge(
    first: Path,
    second: Path,
    out: Path,
    although_other_recording: bool,
    kept_apart: tuple[str, ...],
    author: str,
    as_json: bool,
) -> int:
    """Make one case of two judges' cases of one recording.

    Every event of both is kept. Where both have a mark m3, the second one is shown with its judge's letter,
    such as B.m3. What both marked, at one time or at one place of the routine, becomes one mark; faults stay
    each judge's, and where both deduct, one without a letter is its author's. Where they say different things
    of one matter, the first case's word stands until somebody says it anew, and of two consents what both
    allow; each conflict is listed here and with every score.
    """
    found = actions.merge_cases(
        first,
        second,
        out,
        author=author,
        although_other_recording=although_other_recording,
        kept_apart=kept_apart,
    )
    say.document(found) if as_json else _tell(found)
    return DONE


def _tell(found: dict[str, Any]) -> None:
    click.echo(f"{found['case']}: {found['events']} events, {found['added']} more than the first case")
    for one in found["conflicts"]:
        named = f" ({one['name']})" if one["name"] else ""
        click.echo(f"differs: {one['what']} {one['where']}".rstrip() + named)
        for side in ("first", "second"):
            stands = " (stands)" if one["stands"] == side else ""
            click.echo(f"  {side:<6} {one[f'{side}_says']}{stands}")
        if one["stands"] == "narrower":
            click.echo("  what both allow stands")
    for line in _summed_up(found):
        click.echo(line)
    for remark in found["remarks"]:
        click.echo(remark, err=True)


def _summed_up(found: dict[str, Any]) -> Iterator[str]:
    """What was joined and renamed, in numbers; --json lists each."""
    if found["same"]:
        first = found["same"][0]
        named = f"{first['second']} with {first['first']}"
        yield f"Marks of both that are one: {len(found['same'])}, such as {named}"
    if found["renamed"]:
        first = found["renamed"][0]
        named = f"{first['id']} for {first['was']} of {first['author']}"
        yield f"Ids that both cases had, shown with a letter: {len(found['renamed'])}, such as {named}"
    if found["judges"]:
        judges = Counter(found["judges"].values())
        counted = ", ".join(f"{judge} {number}" for judge, number in sorted(judges.items()))
        yield f"Faults without a letter, now their judge's: {counted}"
    if found["same"] or found["renamed"] or found["judges"]:
        yield "--json lists each."
