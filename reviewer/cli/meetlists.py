"""``reviewer meet begin``, ``match`` and ``show``: from a table and a folder to routines with recordings."""

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option
from reviewer.terms.problems import BAD_INPUT, DONE, DocumentError

_PROBLEMS, _LISTED = 50, 10
"""Problems, and names of one kind, that are told on the terminal."""


@click.command(
    epilog="Example: reviewer meet begin starts.csv -o evening --rule-book demo-bars-2 --recordings films"
)
@click.argument("table", type=FILE)
@click.option("-o", "folder", type=FILE, required=True, help="Folder to make; it will hold the meet.")
@click.option(
    "--rule-book", default=actions.DEFAULT_BOOK, show_default=True, help="Shipped edition or a file."
)
@click.option("--recordings", type=FILE, help="The folder of recordings, with those in it.")
@click.option(
    "--pattern",
    default=actions.PATTERN,
    show_default=True,
    help="How recordings are named, from that folder on: * for anything, {start} for the routine.",
)
@click.option("--title", default="", help="What the meet is called, above its report; no name of a person.")
@json_option
def begin(
    table: Path,
    folder: Path,
    rule_book: str,
    recordings: Path | None,
    pattern: str,
    title: str,
    as_json: bool,
) -> int:
    """Begin a meet from a TABLE (CSV) of starts and posted scores; nothing is written where it has faults.

    Columns: start; and as far as known athlete, division, session, panel, start value, judge A (or e1) and so
    on, average, neutral, final, requested, inquiry, short, recording. Others are not read.
    """
    try:
        begun = actions.begin_meet(
            table, folder, rule_book=rule_book, recordings=recordings, pattern=pattern, title=title
        )
    except DocumentError as fault:
        return _refused(fault, as_json)
    if begun.unread:
        say.remark(f"Not read: {', '.join(begun.unread)}.")
    _tell(actions.meet_list(folder, begun.meet), as_json)
    return DONE


def _refused(fault: DocumentError, as_json: bool) -> int:
    shown = fault.problems if as_json else fault.problems[:_PROBLEMS]
    say.problems(shown, as_json)
    more = len(fault.problems) - len(shown)
    say.remark(f"… and {more} more; --json lists them all." if more else "")
    return BAD_INPUT


@click.command(epilog="Example: reviewer meet match evening 12 films/camera-1/12.mp4 films/camera-2/12.mp4")
@click.argument("folder", metavar="MEET", type=FILE)
@click.argument("start", required=False)
@click.argument("files", nargs=-1, type=FILE)
@click.option("--none", "has_none", is_flag=True, help="This routine has no recording.")
@click.option("--again", is_flag=True, help="Look for recordings anew; what was matched by hand stays.")
@click.option("--pattern", help="With --again: by this pattern from now on.")
@click.option("--recordings", type=FILE, help="With --again: in this folder from now on.")
@json_option
def match(
    folder: Path,
    start: str | None,
    files: tuple[Path, ...],
    has_none: bool,
    again: bool,
    pattern: str | None,
    recordings: Path | None,
    as_json: bool,
) -> int:
    """Say which recordings are of START (several: several cameras), or look anew for those of all."""
    if again == (start is not None) or (has_none == bool(files) and not again):
        raise click.UsageError("Give a start with its files or with --none, or give --again.")
    if not again and (pattern or recordings):
        raise click.UsageError("--pattern and --recordings go with --again.")
    if start is None:
        found = actions.match_again(folder, pattern=pattern, recordings=recordings)
        _tell(actions.meet_list(folder, found), as_json)
        return DONE
    given = actions.match_by_hand(folder, start, files)
    if as_json:
        say.document(actions.meet_list(folder))
    else:
        click.echo(f"Start {given.name}: {', '.join(given.recordings) or 'no recording'}.")
    return DONE


@click.command(epilog="Example: reviewer meet show evening")
@click.argument("folder", metavar="MEET", type=FILE)
@json_option
def show(folder: Path, as_json: bool) -> int:
    """A meet at a glance: routines, recordings, and what is unclear or missing."""
    _tell(actions.meet_list(folder), as_json)
    return DONE


def _tell(found: dict[str, Any], as_json: bool) -> None:
    if as_json:
        say.document(found)
        return
    for line in _lines(found):
        click.echo(line)


def _lines(found: dict[str, Any]) -> Iterator[str]:
    yield (
        f"Routines {found['routines']}: matched {found['matched']}, unclear {len(found['unclear'])}, "
        f"without recording {len(found['without_recording'])}."
    )
    yield (
        f"Recordings {found['recordings']}: indexed {found['indexed']} ({found['frames']} frames). "
        f"Cases {found['cases']}."
    )
    unclear = (f"{one['start']}: {', or '.join(one['candidates'][:4])}" for one in found["unclear"])
    yield from _some("Unclear", list(unclear))
    yield from _some("Without recording", found["without_recording"])
    yield from _some("Not matched yet (`reviewer meet match MEET --again`)", found["new"])
    yield from _some("Recordings without routine", found["without_routine"])
    shared = [f"{one['recording']}: {', '.join(one['starts'])}" for one in found["shared"]]
    yield from _some("Given to several routines", shared)
    yield from _some("The same bytes", [" = ".join(paths) for paths in found["doubled"]])
    gone = (f"{one['start']}: {one['recording']}{_moved(one['now'])}" for one in found["gone"])
    yield from _some("Not there any more", list(gone))
    wrong = (f"{one['where']}: {one['message']}" for one in found["problems"])
    yield from _some("Wrong with recordings", list(wrong))


def _moved(now: str | None) -> str:
    return "" if now is None else f" (is now {now})"


def _some(title: str, names: Sequence[str]) -> Iterator[str]:
    """A list with its title, shortened; nothing where it is empty."""
    if names:
        more = len(names) - _LISTED
        yield f"{title}: {'; '.join(names[:_LISTED])}{f' … and {more} more' if more > 0 else ''}"
