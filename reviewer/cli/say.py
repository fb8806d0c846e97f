"""Answers on the terminal: one JSON document with ``--json``, sentences without; problems always in full."""

import json
from collections.abc import Iterable
from typing import Any

import click

from reviewer.terms.problems import Problem


def document(found: dict[str, Any]) -> None:
    """One JSON document on standard output."""
    click.echo(json.dumps(found, ensure_ascii=False))


def problems(found: Iterable[Problem], as_json: bool) -> None:
    """Problems: a JSON document on standard output, or a line each on standard error."""
    if as_json:
        document({"problems": [problem.to_json() for problem in found]})
        return
    for problem in found:
        click.echo(str(problem), err=True)


def remark(said: str) -> None:
    """A remark beside an answer, on standard error; nothing where there is none."""
    if said:
        click.echo(said, err=True)
