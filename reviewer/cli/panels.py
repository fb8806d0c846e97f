"""``reviewer panel``: several judges' scores made one, and how far they lie apart."""

from collections.abc import Sequence
from pathlib import Path
from typing import Any, TypeVar

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, Named, PointsText, author_option, json_option
from reviewer.terms.exact import Points
from reviewer.terms.problems import DONE, NO

_Value = TypeVar("_Value")

_SHEET = Named("JUDGE", "MARKS.json", Path)
SCORE = Named("JUDGE", "SCORE", Points.parse)
"""A judge's letter and score, such as ``A=9.400``."""


@click.command(
    epilog="Example: reviewer panel --judge A=9.400 --judge B=9.000 --after A=9.300 --after B=9.100"
)
@click.option("--judge", "scores", multiple=True, type=SCORE, help="A judge's score; one for each.")
@click.option("--sheet", "sheets", multiple=True, type=_SHEET, help="A judge's own sheet of marks instead.")
@click.option("--after", multiple=True, type=SCORE, help="A judge's score after a conference.")
@click.option("--neutral", type=PointsText(), help="What is taken from the average.")
@click.option("--difficulty", type=PointsText(), help="Where an edition adds it after the average.")
@click.option("--rule-book", help=f"Shipped edition or a file; {actions.DEFAULT_BOOK} without it.")
@click.option("--case", type=FILE, help="Keep the scores in this case.")
@author_option
@json_option
def panel(
    scores: tuple[tuple[str, Points], ...],
    sheets: tuple[tuple[str, Path], ...],
    after: tuple[tuple[str, Points], ...],
    neutral: Points | None,
    difficulty: Points | None,
    rule_book: str | None,
    case: Path | None,
    author: str,
    as_json: bool,
) -> int:
    """The score of a panel by the edition's rule; exit 1 where the judges lie too far apart at the end.

    With a case its own edition, start value and neutral deductions count, and both sets of scores are kept.
    """
    judges, later = each_once((*scores, *sheets), "--judge"), each_once(after, "--after")
    if not judges:
        raise click.UsageError("Give a score or a sheet for each judge: --judge A=9.400 or --sheet A=a.json.")
    if case is None:
        named = rule_book or actions.DEFAULT_BOOK
        given = dict(scores) | actions.scores_on_sheets(dict(sheets), actions.load_book(named))
        beside = {"neutral": neutral or Points(0), "difficulty": difficulty or Points(0)}
        found = actions.panel_document(named, given, later, **beside)
    elif (neutral, difficulty, rule_book) != (None, None, None):
        said = "A case has its own edition, start value and neutral deductions"
        raise click.UsageError(f"{said}: leave out --neutral, --difficulty and --rule-book.")
    else:
        with actions.open_case(case, author=author) as audit:
            given = dict(scores) | actions.scores_on_sheets(dict(sheets), audit.book)
            found = actions.keep_panel(audit, given, later)
    say.document(found) if as_json else _tell(found)
    spread = list(found["panel"].values())[-1]["spread"]
    return NO if spread is not None and not spread["within"] else DONE


def each_once(given: Sequence[tuple[str, _Value]], option: str) -> dict[str, _Value]:
    """Scores by judge; a usage fault for a judge who gives two."""
    letters = [judge for judge, _ in given]
    twice = sorted({judge for judge in letters if letters.count(judge) > 1})
    if twice:
        said = f"judge {', '.join(twice)} gives two scores; say one for each judge"
        raise click.BadParameter(said, param_hint=option)
    return dict(given)


def _tell(found: dict[str, Any]) -> None:
    for when, one in found["panel"].items():
        judges = ", ".join(f"{own['judge']} {own['score']}" for own in one["judges"])
        several = len(found["panel"]) > 1
        click.echo(f"{f'{when.capitalize()} the conference: ' if several else ''}{judges}")
        click.echo(
            f"  average {one['panel_average']} of {', '.join(one['counting'])} · final {one['final_score']}"
        )
        for remark in one["remarks"]:
            click.echo(f"  mind: {remark}")
        spread = one["spread"]
        if spread is not None:
            word = "within" if spread["within"] else "more than"
            allowed = f"{word} the {spread['allowed']} allowed (clause {spread['clause']})"
            click.echo(f"  {spread['spread']} apart, {allowed}")
