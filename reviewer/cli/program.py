"""The command group, and how its faults end."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from reviewer import __version__, actions
from reviewer.cli import say
from reviewer.cli.agreement import agreement
from reviewer.cli.casework import marks, report, score, start, verify
from reviewer.cli.clips import clip
from reviewer.cli.clipsets import clip_set
from reviewer.cli.coaching import coach
from reviewer.cli.comparing import compare
from reviewer.cli.consents import consent
from reviewer.cli.covers import cover
from reviewer.cli.evidence import frames, measure, still
from reviewer.cli.expired import expired
from reviewer.cli.exporting import export
from reviewer.cli.finding import find
from reviewer.cli.following import follow
from reviewer.cli.inquiries import inquiry
from reviewer.cli.meets import meet
from reviewer.cli.merging import merge
from reviewer.cli.names import names
from reviewer.cli.notes import note
from reviewer.cli.options import FILE, WINDOW, author_option, json_option
from reviewer.cli.packing import key, pack, sign
from reviewer.cli.panels import panel
from reviewer.cli.pooling import pool
from reviewer.cli.posted import posted
from reviewer.cli.postedsheet import posted_sheet
from reviewer.cli.practising import practice
from reviewer.cli.preferences import keys, settings, short_codes
from reviewer.cli.recordings import recordings
from reviewer.cli.rulebooks import rules
from reviewer.cli.settling import seal, second, settle
from reviewer.cli.sheets import tell_sheet
from reviewer.cli.timing import duration, when
from reviewer.cli.whatif import interpret, what_if
from reviewer.terms.messages import message, reason, spoken
from reviewer.terms.problems import BAD_INPUT, DONE, Problem, ReviewerError

OpenDesk = Callable[[Path | None, Path | None, str], int]


def run(open_desk: OpenDesk) -> int:
    """Run the command line and return its exit code; problems are printed, never raised."""
    context: dict[str, Any] = {WINDOW: open_desk, "json": False}
    try:
        code = program.main(obj=context, standalone_mode=False)
    except click.exceptions.Exit as left:
        return left.exit_code
    except click.ClickException as fault:
        if context["json"]:
            say.problems(
                [Problem("usage", "command line", spoken(fault.format_message()), message("See --help."))],
                True,
            )
        else:
            fault.show()
        return BAD_INPUT
    except click.Abort:
        click.echo("Stopped.", err=True)
        return BAD_INPUT
    except ReviewerError as fault:
        say.problems(fault.problems, context["json"])
        return fault.exit_code
    except OSError as fault:
        say.problems([_of_the_system(fault)], context["json"])
        return BAD_INPUT
    return code if isinstance(code, int) else DONE


@click.group(context_settings={"help_option_names": ["-h", "--help"]})
@click.version_option(__version__, prog_name="reviewer")
def program() -> None:
    """Post-meet score audits for uneven bars: from a recording to a score that can be defended.

    This tool does not replace the federation's current rules, a certified judge or a qualified coach.
    Recordings of minors need consent and stay on this machine.
    """


@program.command(epilog="Example: reviewer demo -o evening")
@click.option(
    "-o", "folder", type=FILE, default=Path("reviewer-demo"), show_default=True, help="Folder to make."
)
@click.option("--no-window", is_flag=True, help="Do not open the desk afterwards.")
@json_option
@click.pass_obj
def demo(context: dict[str, Any], folder: Path, no_window: bool, as_json: bool) -> int:
    """Do the main job on the sample recording: case, marks, score, report."""
    made = actions.run_demo(folder)
    if as_json:
        say.document(made)
    else:
        tell_sheet(actions.score_document(Path(made["case"])))
        click.echo(f"Case   {made['case']}\nReport {made['report']}")
    if no_window:
        return DONE
    try:
        return int(context[WINDOW](Path(made["case"]), None, "A"))
    except ReviewerError as fault:
        click.echo(f"The desk stays closed. {say.saying().problems(fault.problems)}", err=True)
        return DONE


@program.command(epilog="Example: reviewer desk evening/square-on.case")
@click.argument("case", type=FILE, required=False)
@click.option("--recording", type=FILE, help="The recording, where it is not beside the case.")
@author_option
@click.pass_obj
def desk(context: dict[str, Any], case: Path | None, recording: Path | None, author: str) -> int:
    """Open the window a judge works at, with a CASE or a bare recording."""
    if case is not None and recording is None and case.suffix.lower() != ".case":
        case, recording = None, case
    return int(context[WINDOW](case, recording, author))


def _of_the_system(fault: OSError) -> Problem:
    where = str(fault.filename or "the disk")
    return Problem(
        "system",
        where,
        message("{reason}.", reason=reason(fault)),
        message("Check the path, its rights and the free space."),
    )


for command in (
    frames,
    still,
    when,
    duration,
    start,
    recordings,
    marks,
    note,
    score,
    what_if,
    interpret,
    panel,
    measure,
    follow,
    inquiry,
    second,
    seal,
    settle,
    pool,
    posted,
    posted_sheet,
    compare,
    agreement,
    meet,
    find,
    consent,
    cover,
    names,
    expired,
    export,
    clip,
    clip_set,
    report,
    coach,
    practice,
    verify,
    merge,
    pack,
    key,
    sign,
    rules,
    settings,
    keys,
    short_codes,
):
    program.add_command(command)
