"""``reviewer inquiry``: what was asked of a score, what the marks say to it, and the answer."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, PointsText, author_option, json_option, language_option, today
from reviewer.terms.inquiries import FINDINGS
from reviewer.terms.measures import Measure
from reviewer.terms.problems import DONE


class _Time(click.ParamType[Measure]):
    """A time as people write it."""

    name = "time"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Measure:
        """Such as ``45 s`` or ``1:04``; a usage fault otherwise."""
        try:
            return value if isinstance(value, Measure) else Measure.typed_time(str(value))
        except ValueError as fault:
            self.fail(f"{fault}.", param, ctx)


@click.group()
def inquiry() -> None:
    """What was asked of a score, what the marks say to it, and the answer."""


@inquiry.command(
    "file",
    epilog='Example: reviewer inquiry file routine.case --by coach --about "start value" --after "45 s"',
)
@click.argument("case", type=FILE)
@click.option("--by", "asked_by", required=True, help="Who asks, in a word of the rule book: coach.")
@click.option("--about", required=True, help="About what, in the rule book's words: start value.")
@click.option("--after", type=_Time(), help="How long after the score was shown, such as '45 s'.")
@click.option("--mark", "marks", multiple=True, help="An element or fault it is about, such as m2.")
@click.option("--clause", "clauses", multiple=True, help="A clause it names.")
@click.option("--words", default="", help="The question as it was put.")
@author_option
def file_(
    case: Path,
    asked_by: str,
    about: str,
    after: Measure | None,
    marks: tuple[str, ...],
    clauses: tuple[str, ...],
    words: str,
    author: str,
) -> int:
    """Keep an inquiry, and say whether the rule book admits it."""
    with actions.open_case(case, author=author) as audit:
        name = actions.file_inquiry(
            audit, asked_by=asked_by, about=about, after=after, marks=marks, clauses=clauses, words=words
        )
        _tell(actions.inquiries_document(audit), name)
    return DONE


@inquiry.command(epilog="Example: reviewer inquiry show routine.case --json")
@click.argument("case", type=FILE)
@json_option
def show(case: Path, as_json: bool) -> int:
    """Every inquiry of a case, what the marks say to it, and its answer."""
    with actions.open_case(case, author=None) as audit:
        found = actions.inquiries_document(audit)
    if as_json:
        say.document({"format": "reviewer.inquiries/1"} | found)
    elif found["asked"]:
        _tell(found)
    else:
        click.echo("No inquiry was filed; a report of this case is informational.")
    return DONE


@inquiry.command(epilog="Example: reviewer inquiry answer routine.case q1")
@click.argument("case", type=FILE)
@click.argument("name")
@click.option(
    "--as", "finding", type=click.Choice(FINDINGS), help="What is found; without it, what the marks say."
)
@click.option("--score", type=PointsText(), help="What the score changes to, where that is not the sheet's.")
@click.option(
    "--mark", "marks", multiple=True, help="A mark it rests on; without any, those that moved points."
)
@click.option("--reading", "readings", multiple=True, help="A reading it rests on, such as r1.")
@click.option("--words", default="", help="What is said beside, in plain words.")
@author_option
def answer(
    case: Path,
    name: str,
    finding: str | None,
    score: Any,
    marks: tuple[str, ...],
    readings: tuple[str, ...],
    words: str,
    author: str,
) -> int:
    """Answer an inquiry, as the marks have it or otherwise; answering again replaces the answer."""
    with actions.open_case(case, author=author) as audit:
        actions.answer_inquiry(audit, name, finding, score=score, marks=marks, readings=readings, words=words)
        _tell(actions.inquiries_document(audit), name)
    return DONE


@inquiry.command(epilog="Example: reviewer inquiry letter routine.case q1 -o answer.txt")
@click.argument("case", type=FILE)
@click.argument("name")
@click.option("-o", "out", type=FILE, help="Text file to write; without it the letter is shown.")
@language_option
def letter(case: Path, name: str, out: Path | None, language: str) -> int:
    """The answer in plain words, as a letter."""
    with actions.open_case(case, author=None) as audit:
        if out is None:
            click.echo(actions.letter(audit, name, today(), language), nl=False)
        else:
            actions.write_letter(audit, name, out, today(), language)
            click.echo(f"Written to {out}")
        say.remark(actions.unrecorded(audit))
    return DONE


@inquiry.command(epilog="Example: reviewer inquiry withdraw routine.case q1")
@click.argument("case", type=FILE)
@click.argument("name")
@author_option
def withdraw(case: Path, name: str, author: str) -> int:
    """Take an inquiry back."""
    with actions.open_case(case, author=author) as audit:
        actions.withdraw_inquiry(audit, name)
    click.echo(f"Inquiry {name} is withdrawn.")
    return DONE


def _tell(found: dict[str, Any], only: str | None = None) -> None:
    for one in found["asked"]:
        if only in (None, one["id"]):
            _tell_one(one)
    click.echo(f"A report of this case is {found['effect']}." if found["effect"] == "informational" else
               "A report of this case may change the result.")  # fmt: skip


def _tell_one(one: dict[str, Any]) -> None:
    filed = f", {one['after']} after the score" if "after" in one else ""
    click.echo(f"{one['id']}: the {one['asked_by']} asks about {one['about']}{filed}")
    if one["words"]:
        said, cut = actions.excerpt(one["words"])
        click.echo(f'  "{said}"' + (" (longer: --json has all of it)" if cut else ""))
    for refused in one["refused_by"]:
        click.echo(f"  Not admitted: {refused['why']} ({refused['clause']})")
    proposed = one["proposed"]
    click.echo(f"  The marks say: {proposed['finding']}{_change(proposed)}")
    for why in (*proposed["why"], *([proposed["final"]["said"]] if "final" in proposed else [])):
        click.echo(f"    {why}")
    given = one["answer"]
    click.echo("  Not answered yet." if given is None else f"  Answer: {given['finding']}{_change(given)}")
    for line in () if given is None else _beside(given, one["id"]):
        click.echo(f"    {line}")


def _beside(given: dict[str, Any], name: str) -> Iterator[str]:
    """What an answer leads to and rests on, and whether it still does."""
    if "final" in given:
        yield given["final"]["said"]
    if given["marks"]:
        yield f"It rests on marks: {', '.join(given['marks'])}."
    if given["changed_since"]:
        named = ", ".join(f"{one['mark']} ({one['how']})" for one in given["changed_since"])
        yield f"Marks are otherwise than when this was answered: {named}."
        yield f"Answer it again: `reviewer inquiry answer CASE {name}`."


def _change(said: dict[str, Any]) -> str:
    if said["finding"] != "changes" or said.get("score") is None:
        return ""
    return f" to {said['score']}" + (f", by {said['by']}" if said.get("by") else "")
