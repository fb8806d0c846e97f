"""The coach's page: what a routine cost, or one athlete's routines over time."""

from concurrent.futures import ThreadPoolExecutor
from contextlib import ExitStack
from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.advancing import advancing
from reviewer.cli.options import FILE, author_option, json_option, language_option, today
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer coach spring.case summer.case -o for-her-coach")
@click.argument("cases", metavar="CASE...", type=FILE, nargs=-1, required=True)
@click.option("-o", "folder", type=FILE, required=True, help="Folder to write into.")
@click.option(
    "--recording",
    "recordings",
    type=FILE,
    multiple=True,
    help="A recording, where it is not beside its case; may be given several times.",
)
@click.option("--no-clips", is_flag=True, help="Pictures and words alone.")
@language_option
@author_option
@json_option
def coach(
    cases: tuple[Path, ...],
    folder: Path,
    recordings: tuple[Path, ...],
    no_clips: bool,
    language: str,
    author: str,
    as_json: bool,
) -> int:
    """Write a page for a coach: coach.html, coach.pdf, coach.json and clips beside them.

    Of one CASE it says what the routine cost: first what comes back for certain, then what may. Of several of
    one athlete it shows what came of them. Consent must cover the use "coach". No judge is named, and what to
    train is for a qualified coach to decide.
    """
    with ExitStack() as opened:
        writes = author if len(cases) == 1 and not no_clips else None
        audits = [
            opened.enter_context(actions.open_case(case, author=writes, recording=recordings))
            for case in cases
        ]
        if len(audits) == 1:
            threads = opened.enter_context(ThreadPoolExecutor())
            going_on = opened.enter_context(advancing(as_json))
            found = actions.write_coach_page(
                audits[0], folder, today, language, threads, with_clips=not no_clips, going_on=going_on
            )
            said = f"Final score {found['final_score']}"
            if len(audits[0].recording_paths) < len(audits[0].state.recordings):
                say.remark(
                    "A recording was not found, so there are no pictures of it; name it with --recording."
                )
        else:
            found = actions.write_coach_history(audits, folder, today(), language)
            said = f"{len(audits)} routines of {found['case']['athlete_code']}"
    say.document(found) if as_json else click.echo(f"{said}; page for the coach in {folder}")
    return DONE
