"""Answers on the terminal: one JSON document with ``--json``, sentences without; problems always in full.

Sentences of answers are English; problems are told in the language that the user has set.
"""

import json
from collections.abc import Iterable
from typing import Any

import click

from reviewer import actions
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.words import Saying


def document(found: dict[str, Any]) -> None:
    """One JSON document on standard output."""
    click.echo(json.dumps(found, ensure_ascii=False))


def problems(found: Iterable[Problem], as_json: bool) -> None:
    """Problems: a JSON document on standard output, or a line each on standard error."""
    if as_json:
        document({"problems": [problem.to_json() for problem in found]})
        return
    told = saying()
    for problem in found:
        click.echo(told.problem(problem), err=True)


def saying() -> Saying:
    """The language that the user has set; English where the settings cannot be read, which others say."""
    try:
        return Saying(actions.preferences().language)
    except (ReviewerError, OSError):
        return Saying()


def remark(said: str) -> None:
    """A remark beside an answer, on standard error; nothing where there is none."""
    if said:
        click.echo(said, err=True)
