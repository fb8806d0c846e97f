"""``reviewer meet``: what speaks for looking again, choosing what to audit, and who audits it."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.meets import GROUPS, TRIGGERS
from reviewer.terms.problems import DONE, NO


class Several(click.ParamType[tuple[str, ...]]):
    """Names parted by commas, such as ``12,17,B-3``."""

    name = "names"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, ...]:
        """The names, none of them blank."""
        if isinstance(value, tuple):
            return value
        return tuple(name for one in str(value).split(",") if (name := one.strip()))


class Barred(click.ParamType[tuple[str, tuple[str, ...]]]):
    """An auditor and the routines that this one must not audit, such as ``K:12,17``."""

    name = "auditor:starts"

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, tuple[str, ...]]:
        """Auditor and names; a usage fault otherwise."""
        if isinstance(value, tuple):
            return value
        auditor, is_, names = str(value).partition(":")
        starts = Several().convert(names, param, ctx)
        if not is_ or not auditor.strip() or not starts:
            self.fail(f"{value!r} is not written such as K:12,17", param, ctx)
        return auditor.strip(), starts


NAMES = Several()


@click.command(epilog="Example: reviewer meet triggers evening --only spread,start-value")
@click.argument("folder", metavar="MEET", type=FILE)
@click.option("--only", type=NAMES, default=(), help=f"Some of: {', '.join(TRIGGERS)}.")
@json_option
def triggers(folder: Path, only: tuple[str, ...], as_json: bool) -> int:
    """Name the routines that something speaks for looking at again, with the reason in figures.

    spread: judges further apart than the edition allows. start-value: another one posted than was requested.
    inquiry: one was filed. short: a short exercise. contradiction: posted figures that do not fit each other.
    outside: a final score that cannot be given, or not on the marks of its case. What cannot be told is said.
    """
    found = actions.meet_triggers(folder, only)
    if as_json:
        say.document(found)
        return DONE
    for one in found["starts"]:
        for reason in one["triggers"]:
            click.echo(f"{one['start']:<8} {reason['trigger']:<14} {reason['why']}")
    say.remark(f"{len(found['starts'])} of {found['of']} routines.")
    for one in found["cannot_be_told"]:
        say.remark(f"{one['trigger']}: cannot be told of {_of(one['starts'], found['of'])}. {one['why']}")
    return DONE


def _of(starts: list[str], number: int) -> str:
    """Routines by their names, or as how many they are where they are many."""
    if len(starts) == number:
        return "any routine" if number > 1 else starts[0]
    return ", ".join(starts) if len(starts) <= 10 else f"{len(starts)} routines"


@click.command(epilog="Example: reviewer meet choose evening --number 8 --seed 7 --by division")
@click.argument("folder", metavar="MEET", type=FILE)
@click.argument("starts", metavar="[START]...", nargs=-1)
@click.option("--number", type=click.IntRange(min=1), help="How many to draw by lot, of the whole meet.")
@click.option(
    "--seed", help="Words or digits chosen before anybody looks; the same seed draws the same routines."
)
@click.option("--by", type=click.Choice(GROUPS), help="Each of its values gives in proportion.")
@click.option("--trigger", "triggers_", type=NAMES, default=(), help="All that have one of these, or `all`.")
@json_option
def choose(
    folder: Path,
    starts: tuple[str, ...],
    number: int | None,
    seed: str | None,
    by: str | None,
    triggers_: tuple[str, ...],
    as_json: bool,
) -> int:
    """Choose routines to audit: by lot (--number, --seed), for a reason (--trigger), or by hand (START...).

    Each choice is kept with how it was made. Only a sample by lot speaks for the whole meet.
    """
    if (number is not None) + bool(triggers_) + bool(starts) != 1:
        raise click.UsageError("Say one of: --number with --seed, --trigger, or the routines themselves.")
    if (number is None) != (not seed):
        raise click.UsageError("A sample by lot takes both --number and --seed.")
    if by is not None and number is None:
        raise click.UsageError("--by goes with a sample by lot.")
    if number is not None and seed:
        found = actions.choose_by_lot(folder, number, seed, by)
    elif triggers_:
        found = actions.choose_by_trigger(folder, triggers_)
    else:
        found = actions.choose_by_hand(folder, starts)
    if as_json:
        say.document(found)
    else:
        _tell_chosen(found)
    return DONE if found["starts"] else NO


def _tell_chosen(found: dict[str, Any]) -> None:
    for name in found["starts"]:
        click.echo(name)
    seed = f", seed {found['seed']}" if "seed" in found else ""
    new = f", newly chosen: {len(found['new'])}" if found["starts"] else ""
    say.remark(f"{len(found['starts'])} of {found['of']} {found['how']}{seed}{new}.")
    for one in found["remarks"]:
        say.remark(one)


@click.command(epilog="Example: reviewer meet assign evening --auditors K,L,M --double 3")
@click.argument("folder", metavar="MEET", type=FILE)
@click.option("--auditors", type=NAMES, required=True, help="Their letters or codes, such as K,L,M.")
@click.option("--seed", help="Of the lots; without it one is made up and told.")
@click.option(
    "--double",
    type=click.IntRange(min=0),
    default=0,
    help="How many of these routines, by lot, get two auditors who work blind of each other.",
)
@click.option("--blind", is_flag=True, help="No auditor sees what was posted, or what anybody marked.")
@click.option("--only", type=NAMES, default=(), help="Only these of the chosen routines.")
@click.option(
    "--not-for",
    "barred",
    type=Barred(),
    multiple=True,
    help="What an auditor must not audit, such as K:12,17 where K sat on that panel; may be given again.",
)
@json_option
def assign(
    folder: Path,
    auditors: tuple[str, ...],
    seed: str | None,
    double: int,
    blind: bool,
    only: tuple[str, ...],
    barred: tuple[tuple[str, tuple[str, ...]], ...],
    as_json: bool,
) -> int:
    """Give every chosen routine that nobody has to an auditor: evenly, and by lot, so that nobody picks.

    A posted judge and an auditor of the same letter need not be one person: say --not-for where they are.
    """
    not_for: dict[str, tuple[str, ...]] = {}
    for auditor, names in barred:
        not_for[auditor] = (*not_for.get(auditor, ()), *names)
    wish = actions.Wish(auditors, seed, double, blind, only, not_for)
    found = actions.assign(folder, wish)
    if as_json:
        say.document(found)
        return DONE
    for one in found["tasks"]:
        click.echo(f"{one['start']:<8} {one['auditor']:<4} {'blind' if one['blind'] else ''}".rstrip())
    say.remark(f"Tasks given: {len(found['tasks'])}, seed {found['seed']}." if found["tasks"] else _NONE)
    return DONE


_NONE = "No chosen routine waits for an auditor."


@click.command(epilog="Example: reviewer meet unassign evening 12 K")
@click.argument("folder", metavar="MEET", type=FILE)
@click.argument("start")
@click.argument("auditor")
def unassign(folder: Path, start: str, auditor: str) -> int:
    """Take a task back from an auditor, to whom it was not sent yet."""
    task = actions.unassign(folder, start, auditor)
    click.echo(f"{task.start} is taken back from auditor {task.auditor}.")
    return DONE


@click.command(epilog="Example: reviewer meet queue evening")
@click.argument("folder", metavar="MEET", type=FILE)
@json_option
def queue(folder: Path, as_json: bool) -> int:
    """Who has which routine, what is home, what can be compared, and what is next."""
    found = actions.meet_queue(folder)
    if as_json:
        say.document(found)
        return DONE
    for one in found["tasks"]:
        kind = "double" if one["double"] else "blind" if one["blind"] else ""
        sealed = "sealed" if one["sealed"] else ""
        click.echo(f"{one['start']:<8} {one['auditor']:<4} {one['state']:<6} {kind:<7} {sealed}".rstrip())
    if found["tasks"]:
        click.echo("")
    for one in found["auditors"]:
        counts = f"to do {one['to_do']}, sent {one['sent']}, home {one['home']}"
        click.echo(f"Auditor {one['auditor']}: {counts}")
    for line in _of_doubles(found):
        click.echo(line)
    click.echo(f"Chosen {found['chosen']} of {found['of']}; without an auditor {len(found['waiting'])}.")
    if found["marked_here"]:
        click.echo(f"Marked in the meet's own cases: {', '.join(found['marked_here'])}.")
    for line in found["next"]:
        click.echo(line)
    return DONE


def _of_doubles(found: dict[str, Any]) -> list[str]:
    """What can be held together, and with which commands."""
    if not found["doubles"]:
        return []
    home = [one for one in found["doubles"] if one["both_home"]]
    lines = [f"Audited twice: {len(found['doubles'])}, both home {len(home)}."]
    for one in home:
        if one["settled"] is None:
            lines += [f"  {one['start']}: {command}" for command in one["commands"]]
        else:
            left = f", lines open: {one['open']}" if one["open"] else ""
            lines.append(f"  {one['start']}: settlement in {one['settled']}{left}")
    return [*lines, *([f"  {found['agreement']}"] if found["agreement"] else [])]
