"""``reviewer rules``: which rule books there are, what one says, what changed, and amending one's own."""

from collections.abc import Iterable
from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import bookpages, say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import BAD_INPUT, DONE, NO


@click.group(epilog="Example: reviewer rules show demo-bars-2")
def rules() -> None:
    """Rule books."""


@rules.command("list", epilog="Example: reviewer rules list")
@json_option
def list_books(as_json: bool) -> int:
    """The editions that travel with the program."""
    found = actions.books.shipped_books()
    if as_json:
        documents = [actions.books.book_document(one) for one in found]
        say.document({"format": "reviewer.rule-books/1", "rule_books": documents})
        return DONE
    for book in found:
        click.echo("\n".join(bookpages.entry_lines(book)))
    return DONE


@rules.command(epilog="Example: reviewer rules show demo-bars-2")
@click.argument("book")
@json_option
def show(book: str, as_json: bool) -> int:
    """One edition as a judge reads it, in the order of judging."""
    if as_json:
        say.document(actions.books.book_document(actions.books.load_book(book)))
    else:
        click.echo("\n".join(bookpages.page_lines(actions.books.book_page(book))))
    return DONE


@rules.command(epilog="Example: reviewer rules check my-division.yaml --cases my-cases.yaml")
@click.argument("book")
@click.option("--cases", type=FILE, multiple=True, help="A file of rule cases to run; may be repeated.")
@json_option
def check(book: str, cases: tuple[Path, ...], as_json: bool) -> int:
    """Every problem of a rule-book file, with file, line and remedy; its examples are run.

    Exit code 1 where the book is sound and an example or case comes out otherwise than written.
    """
    found = actions.books.check_book(book, cases)
    problems = (*found.problems, *found.differing)
    if as_json:
        listed = [problem.to_json() for problem in problems]
        say.document({"format": "reviewer.rules-check/1", "cases": found.cases, "problems": listed})
    else:
        say.problems(problems, False)
        if not found.problems:
            differing = (
                f"otherwise than written {len(found.differing)}" if found.differing else "all as written"
            )
            click.echo(f"{book}: the book is sound. Examples and cases: {found.cases}, {differing}.")
    if found.problems:
        return BAD_INPUT
    return NO if found.differing else DONE


@rules.command(epilog="Example: reviewer rules compare demo-bars-2-previous demo-bars-2")
@click.argument("before")
@click.argument("after")
@json_option
def compare(before: str, after: str, as_json: bool) -> int:
    """What changed from one edition to another, clause by clause; exit code 1 when anything did."""
    found = actions.books.compare_books(before, after)
    _tell(found, as_json)
    return DONE if found.same else NO


@rules.command(
    epilog="Example: reviewer rules ask demo-bars-2 --by coach --about 'start value' --after '64 seconds'"
)
@click.argument("book")
@click.option("--by", required=True, help="Who asks, such as coach.")
@click.option("--about", required=True, help="What is asked about, such as 'start value'.")
@click.option("--after", required=True, help="Time since the score was shown, such as '64 seconds'.")
@click.option("--with-recording", "recording", is_flag=True, help="The inquiry rests on a recording.")
@json_option
def ask(book: str, by: str, about: str, after: str, recording: bool, as_json: bool) -> int:
    """Whether an inquiry may be filed by this edition; exit code 1 where it is refused."""
    found = actions.books.ask_inquiry(book, by=by, about=about, after=after, recording=recording)
    if as_json:
        say.document(found)
    else:
        for one in found["refused_by"]:
            click.echo(f"{one['clause']}: {one['why']} ({one['source']})")
        click.echo("It may be filed." if found["admissible"] else "It is refused.")
    return DONE if found["admissible"] else NO


@rules.command(epilog="Example: reviewer rules new my-division.yaml")
@click.argument("file", type=FILE)
@json_option
def new(file: Path, as_json: bool) -> int:
    """Write the commented start of an own book; a file that is there stays as it is."""
    book = actions.books.new_book(file)
    if as_json:
        say.document(actions.books.book_document(book))
    else:
        click.echo(f"Wrote {file}. Change what differs in your division, then: reviewer rules check {file}")
    return DONE


@rules.command(epilog="Example: reviewer rules copy demo-bars-2 mine.yaml --id my-division")
@click.argument("book")
@click.argument("file", type=FILE)
@click.option("--id", "own_id", required=True, help="The copy's own id: small letters, digits, '-' and '.'.")
@click.option("--title", help="The copy's title; without it, that of the book.")
@json_option
def copy(book: str, file: Path, own_id: str, title: str | None, as_json: bool) -> int:
    """Copy a book to a file of one's own, to amend it there; a file that is there stays as it is."""
    _tell(actions.books.copy_book(book, file, id=own_id, title=title), as_json)
    return DONE


_CHANGES = click.argument("changes", nargs=-1, metavar="FIELD=VALUE...")


@rules.command(
    epilog="Example: reviewer rules amend mine.yaml fault.hop 'up-to=0.200 points' "
    "--since 2026-08-01 --source 'common practice, no source'"
)
@click.argument("file", type=FILE)
@click.argument("clause")
@_CHANGES
@click.option("--since", required=True, help="The date from which it holds, YYYY-MM-DD.")
@click.option(
    "--source",
    required=True,
    help="'published: document and place', 'common practice, no source' or 'from memory'.",
)
@json_option
def amend(file: Path, clause: str, changes: tuple[str, ...], since: str, source: str, as_json: bool) -> int:
    """Let a clause of an own book say something else, from a date and by a source.

    A field without a value is taken out. A field given several times, or with a value in [brackets], is a
    list. A field inside another is named with dots: elements.glide.earns='3 times'.
    """
    _tell(actions.books.amend_clause(file, clause, _fields(changes), since=since, source=source), as_json)
    return DONE


@rules.command("amend-head", epilog="Example: reviewer rules amend-head mine.yaml season=2027-28")
@click.argument("file", type=FILE)
@_CHANGES
@json_option
def amend_head(file: Path, changes: tuple[str, ...], as_json: bool) -> int:
    """Let the head of an own book say something else: its title, season, dates, cautions, names.

    Fields and values are written as for 'reviewer rules amend', such as effective.from=2027-08-01.
    """
    _tell(actions.books.amend_head(file, _fields(changes)), as_json)
    return DONE


@rules.command(epilog="Example: reviewer rules add mine.yaml clause.yaml --after fault.hop")
@click.argument("file", type=FILE)
@click.argument("clause_file", type=FILE)
@click.option("--after", help="The clause it shall follow; without it, the last of its kind.")
@json_option
def add(file: Path, clause_file: Path, after: str | None, as_json: bool) -> int:
    """Add a clause, written in a file of its own as it stands in a rule book, to an own book."""
    _tell(actions.books.add_clause_file(file, clause_file, after=after), as_json)
    return DONE


@rules.command(epilog="Example: reviewer rules remove mine.yaml fault.hop")
@click.argument("file", type=FILE)
@click.argument("clause")
@json_option
def remove(file: Path, clause: str, as_json: bool) -> int:
    """Take a clause out of an own book; what others say of it must go first."""
    _tell(actions.books.take_away_clause(file, clause), as_json)
    return DONE


def _tell(found: "actions.books.Comparison", as_json: bool) -> None:
    if as_json:
        say.document(actions.books.comparison_document(found))
    else:
        click.echo("\n".join(bookpages.comparison_lines(found)))


def _fields(changes: Iterable[str]) -> "dict[str, actions.books.Written]":
    """``FIELD=VALUE`` words as fields: a list where a field comes again or its value stands in brackets."""
    found: dict[str, list[str]] = {}
    brackets: set[str] = set()
    for word in changes:
        field, sign, value = word.partition("=")
        if not (field and sign):
            raise click.BadParameter(f"{word!r} is not FIELD=VALUE, such as 'amount=0.100 points'.")
        inner = value.strip()
        if inner.startswith("[") and inner.endswith("]"):
            brackets.add(field)
            found.setdefault(field, []).extend(
                part.strip() for part in inner[1:-1].split(",") if part.strip()
            )
        else:
            found.setdefault(field, []).append(value)
    lists = {field for field, values in found.items() if len(values) > 1} | brackets
    return {field: values if field in lists else values[0] for field, values in found.items()}
