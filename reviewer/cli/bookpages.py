"""Rule books on the terminal: a book as a judge reads it, and what changed between two."""

import textwrap
from collections.abc import Iterable, Iterator

from reviewer import actions
from reviewer.terms.rulebook import RuleBook

_WIDE = 100
_GAP = "  "
_NARROW = 20
_DEEP = "    "


def page_lines(page: "actions.books.Page") -> Iterator[str]:
    """A book as lines of at most 100 columns."""
    yield from _head(page)
    for chapter in page.chapters:
        yield from ("", "", chapter.title.upper(), "-" * len(chapter.title))
        yield from _chapter(chapter)
    yield from ("", "", "SOURCES", "-------")
    for sign, source in page.sources.items():
        yield from _wrapped(f"{sign:<4}{source}", "", _DEEP)


def entry_lines(book: RuleBook) -> Iterator[str]:
    """A book in a list of books: its id, title, and from when to when it holds."""
    yield from _wrapped(f"{book.id:<24} {book.title}", "", " " * 25)
    yield from _wrapped(_when_and_where(book), " " * 25, " " * 25)


def comparison_lines(found: "actions.books.Comparison") -> Iterator[str]:
    """What changed, clause by clause."""
    yield f"From {found.before.id} to {found.after.id}"
    if found.same:
        yield "Both say the same."
    yield from _field_lines("Head", found.head)
    before, after = (actions.books.sentences(book) for book in (found.before, found.after))
    for word, clauses, says in (("Added", found.added, after), ("Taken away", found.taken_away, before)):
        for clause in clauses:
            yield from ("", *_wrapped(f"{word}: {clause.id}  {clause.title}", "", _DEEP))
            for words in (*says[clause.id], f"since {clause.since} · {clause.source}"):
                yield from _wrapped(words, _DEEP, _DEEP)
    for one in found.changed:
        kind = "values changed" if one.values else "only words, dates or sources"
        yield from _field_lines(f"Changed: {one.after.id}  {one.after.title}  ({kind})", one.changes)
        yield from _said_anew(before[one.before.id], after[one.after.id])
    if found.moved:
        yield from ("", *_wrapped(f"In another order: {', '.join(found.moved)}", "", _DEEP))


def _said_anew(before: Iterable[str], after: Iterable[str]) -> Iterator[str]:
    """The sentences that a clause says no more, and those it says now."""
    old, new = tuple(before), tuple(after)
    for word, says, others in (("Said before", old, new), ("Says now", new, old)):
        gone = " ".join(one for one in says if one not in others)
        yield from _wrapped(f"{word}: {gone}", _DEEP, _DEEP * 2) if gone else ()


def _field_lines(title: str, changes: "Iterable[actions.books.Change]") -> Iterator[str]:
    lines = [
        line
        for one in changes
        for line in _wrapped(
            f"{one.field}: {_or_nothing(one.before)} -> {_or_nothing(one.after)}",
            _DEEP,
            _DEEP * 2,
        )
    ]
    if lines:
        yield from ("", *_wrapped(title, "", _DEEP), *lines)


def _or_nothing(said: str | None) -> str:
    return "(not said)" if said is None else said


def _head(page: "actions.books.Page") -> Iterator[str]:
    book = page.book
    yield from _wrapped(book.title)
    yield from _wrapped(_when_and_where(book))
    yield f"Rule book {book.id}"
    yield f"Fingerprint {book.sha256}"
    kinds = (f"{number} {kind.partition(',')[0]}" for kind, number in page.rests_on.items())
    yield f"{len(book.clauses)} clauses: {', '.join(kinds)}"
    for caution in book.cautions:
        yield from _wrapped(f"Mind: {caution}", "", "      ")


def _when_and_where(book: RuleBook) -> str:
    first, last = book.effective
    dates = f"from {first} until {last}" if last else f"from {first}"
    return f"{book.division} · {book.apparatus} · season {book.season} · {dates}"


def _chapter(chapter: "actions.books.Chapter") -> Iterator[str]:
    for part in chapter.parts:
        if isinstance(part, actions.books.Table):
            yield from ("", *_table(part))
        elif isinstance(part, actions.books.Said):
            yield from ("", *_said(part))
        else:
            yield from ("", *_wrapped(part))


def _said(said: "actions.books.Said") -> Iterator[str]:
    clause = said.clause
    yield from _wrapped(f"{clause.title}")
    for words in said.words:
        yield from _wrapped(words, _DEEP, _DEEP)
    for words in actions.books.open_words(said.reading) if said.reading else ():
        yield from _wrapped(words, _DEEP, _DEEP * 2)
    for example in said.examples:
        yield from _wrapped(f"Example: {example}", _DEEP, _DEEP * 2)
    yield from _wrapped(f"[{clause.id}] since {clause.since} · {clause.source}", _DEEP, _DEEP)


def _table(table: "actions.books.Table") -> Iterator[str]:
    widths = _widths((table.columns, *(row.cells for row in table.rows)))
    yield from _row(table.columns, widths)
    yield from _row(tuple("-" * width for width in widths), widths)
    for row in table.rows:
        yield from _row(row.cells, widths)
        yield from _beneath(row)


def _widths(rows: tuple[tuple[str, ...], ...]) -> list[int]:
    """As wide as what stands in each column; too wide together, the first gives way, then the widest."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    while sum(widths) + len(_GAP) * len(widths) > _WIDE:
        widths[0 if widths[0] > _NARROW else widths.index(max(widths))] -= 1
    return widths


def _row(cells: tuple[str, ...], widths: list[int]) -> Iterator[str]:
    columns = [textwrap.wrap(cell, width) or [""] for cell, width in zip(cells, widths, strict=True)]
    for place in range(max(map(len, columns))):
        shown = (column[place] if place < len(column) else "" for column in columns)
        line = _GAP.join(cell.ljust(width) for cell, width in zip(shown, widths, strict=True))
        yield f"  {line}".rstrip()


def _beneath(row: "actions.books.Row") -> Iterator[str]:
    for words in row.beneath:
        yield from _wrapped(words, _DEEP * 2, _DEEP * 2)


def _wrapped(text: str, first: str = "", rest: str = "") -> list[str]:
    return textwrap.wrap(
        text, _WIDE, initial_indent=first, subsequent_indent=rest, break_long_words=False
    ) or [""]
