"""``reviewer practice``: a page to practise judging with."""

from contextlib import ExitStack
from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.advancing import advancing
from reviewer.cli.options import FILE, author_option, json_option, language_option, today
from reviewer.terms.messages import message
from reviewer.terms.problems import DONE, DocumentError, Problem


@click.command(epilog="Example: reviewer practice one.case two.case -o practice.html")
@click.argument("cases", metavar="CASE...", type=FILE, nargs=-1, required=True)
@click.option("-o", "out", type=FILE, required=True, help="File to write, such as practice.html.")
@click.option("--each-element", is_flag=True, help="A clip for each element, in place of the whole routine.")
@click.option(
    "--pass-phrase-file", type=FILE, help="A file whose first line is the pass phrase; asked for without it."
)
@click.option("--film", "films", type=FILE, multiple=True, help="A recording that is not beside its case.")
@click.option("--replace", is_flag=True, help="Also in place of a file that is there.")
@language_option
@author_option
@json_option
def practice(
    cases: tuple[Path, ...],
    out: Path,
    each_element: bool,
    pass_phrase_file: Path | None,
    films: tuple[Path, ...],
    replace: bool,
    language: str,
    author: str,
    as_json: bool,
) -> int:
    """Write a page to practise judging with: one file that plays the clips and holds calls against the key.

    Learners call value parts, requirements and deductions; the key, which is what the judges of the cases
    took, opens with the pass phrase alone. Consent must cover teaching, and heads that are covered must have
    been looked through. The page needs no network.
    """
    phrase = _read(pass_phrase_file) if pass_phrase_file is not None else _asked()
    with ExitStack() as opened:
        audits = [
            opened.enter_context(actions.open_case(case, author=author, recording=films)) for case in cases
        ]
        found = actions.write_practice_page(
            audits,
            out,
            phrase,
            by_element=each_element,
            today=today,
            language=language,
            replace=replace,
            going_on=opened.enter_context(advancing(as_json)),
        )
    if as_json:
        say.document(found)
    else:
        click.echo(f"{out}: {found['clips']} clips. Keep the pass phrase apart from the page.")
    return DONE


def _read(path: Path) -> str:
    try:
        lines = path.read_text(encoding="utf-8").splitlines()
    except UnicodeDecodeError:
        said = message("This is no text.")
        remedy = message("Write the pass phrase into its first line, as UTF-8.")
        raise DocumentError(Problem("no-text", str(path), said, remedy)) from None
    return lines[0] if lines else ""


def _asked() -> str:
    return str(click.prompt("Pass phrase of the key", hide_input=True, confirmation_prompt=True, err=True))
