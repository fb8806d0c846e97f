"""The clauses of a rule-book file's text: where each stands, and where another one goes."""

import re
import textwrap
from difflib import get_close_matches
from pathlib import Path

import yaml

from reviewer.rules import splicing
from reviewer.rules.book import RuleBookError
from reviewer.rules.splicing import Entry
from reviewer.rules.tree import Fields, read_tree
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem

CLAUSES = "clauses"


def list_of_clauses(text: str) -> yaml.Node:
    """The list of clauses in a book's text; RuleBookError when it has none."""
    for one in splicing.entries(text, splicing.composed(text)):
        if one.name == CLAUSES:
            return one.value
    raise RuleBookError(
        Problem("no-clauses", "the book", message("It has no list of clauses."), message("Add 'clauses:'."))
    )


def find_clause(clauses: tuple[Entry, ...], clause: str, path: Path) -> Entry:
    """Where a clause stands; RuleBookError naming the nearest ones when there is none of that id."""
    for one in clauses:
        if one.name == clause:
            return one
    near = ", ".join(get_close_matches(clause, (one.name for one in clauses), n=5, cutoff=0))
    what = message("The book has no clause {clause}.", clause=repr(clause))
    remedy = message("Nearest are {near}; 'reviewer rules show {path}' names all.", near=near, path=path)
    raise RuleBookError(Problem("unknown-clause", str(path), what, remedy))


def one_clause(text: str, name: str) -> Fields:
    """The fields of a clause handed in as text, alone or as the only item of a list."""
    problems: list[Problem] = []
    tree = read_tree(text, name, problems)
    items = getattr(tree, "values", ())
    if isinstance(items, tuple) and len(items) == 1:
        tree = items[0]
    if not problems and not isinstance(tree, Fields):
        what = message("This is not one clause.")
        problems.append(
            Problem("no-clause", name, what, message("Write 'id:', 'title:', 'rule:' and the other fields."))
        )
    if problems or not isinstance(tree, Fields):
        raise RuleBookError(problems)
    return tree


def inserted(text: str, clause: str, rule: str, after: str | None, path: Path) -> str:
    """The text with a clause added after the clause ``after``, or the last of the same rule, or the last."""
    node = list_of_clauses(text)
    if splicing.in_brackets(node):
        what = message("Its clauses stand in brackets, where none can be added.")
        raise RuleBookError(
            Problem("brackets", str(path), what, message("Begin each clause on a line of its own."))
        )
    clauses = splicing.entries(text, node)
    alike = [one for one in clauses if _rule(text, one) == rule]
    last = find_clause(clauses, after, path) if after else (alike or clauses)[-1]
    _, end = splicing.whole_lines(text, last.start, last.end)
    margin = " " * (last.start - splicing.whole_lines(text, last.start, last.start)[0])
    lines = splicing.line_break(text).join(margin + line if line else "" for line in _as_item(clause))
    return text[:end] + splicing.line_break(text) + lines + text[end:]


def _rule(text: str, clause: Entry) -> str:
    fields = {one.name: one.value.value for one in splicing.entries(text, clause.value)}
    return str(fields.get("rule", ""))


def _as_item(clause: str) -> list[str]:
    """The lines of a clause as an item of a list, comments above it kept above it."""
    lines = textwrap.dedent(clause.removeprefix("\ufeff")).rstrip().splitlines()
    first = next(place for place, line in enumerate(lines) if line.strip() and not line.startswith("#"))
    if re.match(r"-(?: |$)", lines[first]):
        return lines
    return [
        *lines[:first],
        "- " + lines[first],
        *("  " + line if line else "" for line in lines[first + 1 :]),
    ]
