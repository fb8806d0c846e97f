"""``reviewer rules``: which rule books there are, what one says, what is wrong with one."""

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import json_option
from reviewer.terms.problems import BAD_INPUT, DONE


@click.group(epilog="Example: reviewer rules show demo-bars-2")
def rules() -> None:
    """Rule books."""


@rules.command("list", epilog="Example: reviewer rules list")
@json_option
def list_books(as_json: bool) -> int:
    """The editions that travel with the program."""
    books = actions.shipped_books()
    if as_json:
        say.document(
            {"format": "reviewer.rule-books/1", "rule_books": [actions.book_document(one) for one in books]}
        )
        return DONE
    for book in books:
        click.echo(f"{book.id:<24} {book.title}, {book.division}, {book.season}")
    return DONE


@rules.command(epilog="Example: reviewer rules show demo-bars-2")
@click.argument("book")
@json_option
def show(book: str, as_json: bool) -> int:
    """One edition, clause by clause."""
    found = actions.book_document(actions.load_book(book))
    if as_json:
        say.document(found)
        return DONE
    click.echo(f"{found['title']}, {found['division']}, {found['season']}  ({found['id']})")
    for caution in found["cautions"]:
        click.echo(f"Mind: {caution}")
    for one in found["clauses"]:
        click.echo(
            f"\n{one['id']}: {one['title']}\n    {one['value']} · since {one['since']} · {one['source']}"
        )
    return DONE


@rules.command(epilog="Example: reviewer rules check my-division.yaml")
@click.argument("book")
@json_option
def check(book: str, as_json: bool) -> int:
    """Every problem of a rule-book file, with file, line and remedy."""
    problems = actions.check_book(book)
    if problems or as_json:
        say.problems(problems, as_json)
    else:
        click.echo(f"{book}: no problems.")
    return BAD_INPUT if problems else DONE
