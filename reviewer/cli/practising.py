"""``reviewer practice``: a page to practise judging with."""

from contextlib import ExitStack
from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.advancing import advancing
from reviewer.cli.options import FILE, author_option, json_option, language_option, today
from reviewer.cli.phrases import pass_phrase, pass_phrase_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer practice one.case two.case -o practice.html")
@click.argument("cases", metavar="[CASE]...", type=FILE, nargs=-1)
@click.option("--set", "recipe", type=FILE, help="The recipe of a clip set, in place of cases: its passages.")
@click.option("-o", "out", type=FILE, required=True, help="File to write, such as practice.html.")
@click.option("--each-element", is_flag=True, help="A clip for each element, in place of the whole routine.")
@pass_phrase_option
@click.option("--film", "films", type=FILE, multiple=True, help="A recording that is not beside its case.")
@click.option("--replace", is_flag=True, help="Also in place of a file that is there.")
@language_option
@author_option
@json_option
def practice(
    cases: tuple[Path, ...],
    recipe: Path | None,
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
    if bool(cases) == (recipe is not None) or (recipe is not None and each_element):
        raise click.UsageError("Name cases, or a recipe with --set.")
    phrase = pass_phrase(pass_phrase_file, "Pass phrase of the key", new=True)
    with ExitStack() as opened:
        read = actions.read_recipe(recipe) if recipe is not None else None
        audits = {
            case: opened.enter_context(actions.open_case(case, author=author, recording=films))
            for case in (read.cases if read is not None else cases)
        }
        if read is not None:
            stretches = actions.stretches_of_set(read, audits)
        else:
            stretches = actions.stretches_of(tuple(audits.values()), by_element=each_element)
        found = actions.write_practice_page(
            stretches,
            out,
            phrase,
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
