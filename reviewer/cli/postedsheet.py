"""``reviewer posted-sheet``: what the panel posted, held against itself and against the marks."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, PointsText, author_option, json_option
from reviewer.cli.panels import SCORE, each_once
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet
from reviewer.terms.problems import DONE, NO

_POINTS = PointsText()
_PARTS = {
    "start-value": "Start value",
    "average": "Average",
    "neutral": "Neutral deductions",
    "final": "Final score",
}


@click.command(
    "posted-sheet",
    epilog="Example: reviewer posted-sheet routine.case --start-value 9.200 --judge A=8.5 --judge B=8.7 "
    "--average 8.6 --final 8.6",
)
@click.argument("case", type=FILE)
@click.option("--start-value", type=_POINTS, help="Or the difficulty, where it is added after the average.")
@click.option("--judge", "scores", multiple=True, type=SCORE, help="A judge's score; one for each.")
@click.option("--neutral", type=_POINTS, help="What was taken from the average, without a sign.")
@click.option("--average", type=_POINTS, help="The average of the judges.")
@click.option("--final", type=_POINTS, help="The final score.")
@click.option(
    "--csv",
    "tables",
    type=FILE,
    multiple=True,
    help="A table: judge, score, start_value, neutral, average, final; or judge, element, code, amount.",
)
@author_option
@json_option
def posted_sheet(
    case: Path,
    start_value: Points | None,
    scores: tuple[tuple[str, Points], ...],
    neutral: Points | None,
    average: Points | None,
    final: Points | None,
    tables: tuple[Path, ...],
    author: str,
    as_json: bool,
) -> int:
    """Keep what the panel posted, and say part by part whether it agrees; exit 1 where it contradicts itself.

    What is given now stands in place of what was, the rest stays. Without an option nothing is written.
    """
    judges = tuple(each_once(scores, "--judge").items())
    typed = PostedSheet(start_value, judges, neutral, average, final)
    writes = bool(tables) or typed != PostedSheet()
    with actions.open_case(case, author=author if writes else None) as audit:
        if writes:
            read = [actions.read_posted(audit, path) for path in tables]
            actions.enter_posted_sheet(audit, actions.joined_sheets([*read, typed]))
        found = actions.posted_sheet_document(audit)
    say.document(found) if as_json else _tell(found)
    return NO if actions.contradicts_itself(found) else DONE


def _step(step: dict[str, Any]) -> str:
    times = f"{step['times']} times " if step["times"] > 1 else ""
    return f"{times}{step['points']} by clause {step['clause']}: {step['why']}"


def _tell(found: dict[str, Any]) -> None:
    if not found["sheet"]:
        click.echo("Nothing of what the panel posted is kept.")
    for one in found["within_itself"]:
        who = f"Judge {one['judge']}" if one["part"] == "judge" else _PARTS[one["part"]]
        others = f"is not the {one['derived']} that the other parts come to"
        word = {True: "stands", False: others, None: "cannot be told"}[one["stands"]]
        click.echo(f"{who} {one['said']} {word}. {one['why']}")
    for one in found["against_marks"]:
        same = "as the marks have it" if one["posted"] == one["marked"] else f"by the marks {one['marked']}"
        click.echo(f"{_PARTS[one['part']]} posted {one['posted']}, {same}.")
        for number, way in enumerate(one.get("explained_by", ())):
            click.echo(f"  {'or' if number else 'would explain it'}: {'; and '.join(map(_step, way))}")
    for one in found["written"]:
        of = f" on {one['element']}" if "element" in one else ""
        beside = f"marked {one['marked']} ({one['mark']})" if one["mark"] else "not marked"
        click.echo(f"Judge {one['judge']} wrote {one['code']}{of} {one['amount']}: {beside}.")
