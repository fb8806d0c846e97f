"""``reviewer export``: a case in open forms that other programs read."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option, recording_option, today, use_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer export routine.case --as chapters -o routine.vtt")
@click.argument("case", type=FILE)
@click.option("--as", "form", type=click.Choice(actions.FORMS), required=True, help="The form.")
@click.option("-o", "out", type=FILE, required=True, help="File to write.")
@click.option("--name", help="What the recording is called there; without it, a URN of its fingerprint.")
@click.option("--faults", is_flag=True, help="With chapters: faults as captions in their place.")
@click.option(
    "--of",
    type=click.Choice(actions.TABLES),
    default="marks",
    show_default=True,
    help="With csv: what stands in the table.",
)
@recording_option
@use_option
@json_option
def export(
    case: Path,
    form: str,
    out: Path,
    name: str | None,
    faults: bool,
    of: str,
    recording: str | None,
    use: str,
    as_json: bool,
) -> int:
    """Write the marks that count as W3C Web Annotations, WebVTT, an OpenTimelineIO timeline or CSV.

    No file path and no name of a person leaves; judges are letters. Seconds count from the first picture.
    What is passed on cannot be called back.
    """
    with actions.open_case(case, author=None) as audit:
        found = actions.export_case(
            audit,
            form,
            out,
            today=today(),
            use=use,
            recording=actions.recording_named(audit, recording) if recording else None,
            name=name,
            faults=faults,
            of=of,
        )
    if as_json:
        say.document(found)
        return DONE
    click.echo(f"{out}: marks that count: {found['marks']}. What leaves cannot be called back.")
    if found["untimed"] and form != "csv":
        click.echo(f"Without a time: {', '.join(found['untimed'])}.", err=True)
    if found["left_out"]:
        click.echo(f"Of attempts that do not count, and left out: {', '.join(found['left_out'])}.", err=True)
    return DONE
