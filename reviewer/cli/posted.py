"""``reviewer posted``: whole tables of published results held against a rule book."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import DONE, NO


@click.command(epilog="Example: reviewer posted results.csv --rule-book international-bars")
@click.argument("rows", type=FILE)
@click.option("--rule-book", required=True, help="The edition, by its id, or a file.")
@click.option("--ranks", is_flag=True, help="Hold the column rank against totals and ties, too.")
@json_option
def posted(rows: Path, rule_book: str, ranks: bool, as_json: bool) -> int:
    """Say which rows of a table of published results contradict themselves.

    ROWS is a CSV file in UTF-8 with the columns difficulty, execution (or e1, e2 and so on), penalty and
    total; other columns are not looked at. Where judges begin at the start value there is average in place
    of difficulty and execution. A blank penalty is none. With --ranks the columns rank and, where several
    events stand in one table, event are read as well.
    """
    found = actions.posted_document(rows, rule_book, ranks=ranks)
    if as_json:
        say.document(found)
    else:
        for one in found["contradictions"]:
            said = f"{one.get('column', 'total')} is {one['said']}, by the rule book {one['derived']}."
            click.echo(f"{rows.name}:{one['line']}: {said}")
        click.echo(f"Rows: {found['rows']}; contradictions: {len(found['contradictions'])}.")
    return NO if found["contradictions"] else DONE
