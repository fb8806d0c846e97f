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


def sheet(score: dict[str, Any]) -> None:
    """A score sheet as a ledger of text."""
    click.echo(f"Rule book {score['rule_book']['id']}; {score['value_parts']} value parts credited.")
    for line in score["lines"]:
        who = f" {line['judge']}" if line["judge"] else ""
        frames = ", ".join(str(one["frame"]) for one in line["frames"] or []) or "-"
        click.echo(f"{line['points']:>8}  {line['stage']}{who}  {line['why']}")
        marks = ", ".join(line["marks"]) or "-"
        click.echo(f"          clause {line['clause']} · marks {marks} · frames {frames} · {line['source']}")
    for one in score["not_earned"]:
        click.echo(f"          not earned: {one['why']} ({', '.join(one['marks'])}: {one['reason']})")
    judges = ", ".join(f"{one['judge']} {one['score']}" for one in score["judges"])
    click.echo(f"Start value {score['start_value']} · judges {judges} · average {score['panel_average']}")
    click.echo(f"Final score {score['final_score']}")
    reachable = score["reachable"]
    click.echo(f"Reachable on these marks: {reachable['low']} to {reachable['high']}")
    if score["posted"]:
        answer = (
            "reachable"
            if score["posted"]["reachable"]
            else f"not reachable; nearest {score['posted']['nearest']}"
        )
        click.echo(f"Posted {score['posted']['score']}: {answer}")
