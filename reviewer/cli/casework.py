"""Commands about a case: start, marks, score, report, verify."""

from collections.abc import Iterable
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.marking import marks as marks
from reviewer.cli.options import (
    FILE,
    PointsText,
    author_option,
    json_option,
    language_option,
    today,
    use_option,
)
from reviewer.cli.sheets import still_open, tell_sheet
from reviewer.terms.codes import UNNAMED
from reviewer.terms.consents import INQUIRY
from reviewer.terms.exact import Points
from reviewer.terms.messages import as_written
from reviewer.terms.problems import BAD_INPUT, DONE, NO, UNDECIDED

POINTS = PointsText()


@click.command(epilog="Example: reviewer start routine.case --recording routine.mp4 --athlete-code G-12")
@click.argument("case", type=FILE)
@click.option("--recording", type=FILE, help="The recording to audit; it is cited, never copied.")
@click.option(
    "--rule-book", default=actions.DEFAULT_BOOK, show_default=True, help="Shipped edition or a file."
)
@click.option("--athlete-code", default=UNNAMED, show_default=True, help="A code such as G-07, never a name.")
@click.option(
    "--consent", type=click.Choice(["given", "not recorded"]), default="not recorded", show_default=True
)
@author_option
@json_option
def start(
    case: Path,
    recording: Path | None,
    rule_book: str,
    athlete_code: str,
    consent: str,
    author: str,
    as_json: bool,
) -> int:
    """Begin a case: one file that will hold marks, readings and their history."""
    opened = actions.start_case(
        case,
        author=author,
        athlete_code=athlete_code,
        consent=consent,
        rule_book=rule_book,
        recording=recording,
    )
    with opened as audit:
        made = {"format": "reviewer.case-started/1", "case": str(case), "rule_book": audit.book.id}
    say.document(made) if as_json else click.echo(f"Case {case} begun, scored by {made['rule_book']}.")
    return DONE


@click.command(epilog="Example: reviewer score routine.case --posted 8.900")
@click.argument("source", metavar="CASE|MARKS.json", type=FILE)
@click.option("--rule-book", help="Score by this edition in place of the one named.")
@click.option(
    "--posted",
    type=POINTS,
    help="The score the panel posted; exit 1 where it cannot be reached, 3 where nobody can tell.",
)
@click.option(
    "--only",
    multiple=True,
    type=click.Choice([*actions.PARTS, actions.WHOLE]),
    help="Audit this part only, and ask for nothing else; may be given several times.",
)
@click.option("--keep", is_flag=True, help="With --only: keep in the case that only this is audited.")
@author_option
@json_option
def score(
    source: Path,
    rule_book: str | None,
    posted: Points | None,
    only: tuple[str, ...],
    keep: bool,
    author: str,
    as_json: bool,
) -> int:
    """The score as a ledger, derived from the marks; or one part of it."""
    if keep and not only:
        raise click.UsageError("Say with --only what is to be kept.")
    if keep:
        with actions.open_case(source, author=author) as audit:
            actions.limit_audit(audit, only)
    tell = as_written if as_json else say.saying().word
    found = actions.score_document(source, rule_book=rule_book, posted=posted, only=only, tell=tell)
    if not as_json:
        _tell_problems(found["problems"], source)
    say.document(found) if as_json else tell_sheet(_with_recordings(found))
    for mark in () if as_json else found.get("set_aside", ()):
        click.echo(f"{mark} is of another attempt and does not count; attempt {found['attempt']} does.")
    if not as_json:
        _tell_problems(found.get("warnings", ()), source)
    return _answer(found, posted)


def _tell_problems(found: Iterable[dict[str, str]], source: Path) -> None:
    for problem in found:
        where = f"{source.name}: {problem['where'].removeprefix(f'{source.name}: ')}"
        click.echo(f"{say.saying().place(where)}: {problem['message']} {problem['remedy']}", err=True)


def _answer(found: dict[str, Any], posted: Points | None) -> int:
    """The exit code of a score: 3 where what was asked cannot be decided."""
    if "open_lines" in found:
        return UNDECIDED
    if posted is None:
        return BAD_INPUT if found["problems"] else DONE
    return {True: DONE, False: NO, None: UNDECIDED}[found["posted"]["reachable"]]


@click.command(epilog="Example: reviewer report routine.case -o report")
@click.argument("case", type=FILE)
@click.option("-o", "folder", type=FILE, required=True, help="Folder to write into.")
@click.option(
    "--recording",
    "recordings",
    type=FILE,
    multiple=True,
    help="A recording, where it is not beside the case; may be given several times.",
)
@language_option
@use_option
@click.option("--uncovered", is_flag=True, help="For an inquiry: show heads that the case covers.")
@author_option
@json_option
def report(
    case: Path,
    folder: Path,
    recordings: tuple[Path, ...],
    language: str,
    use: str,
    uncovered: bool,
    author: str,
    as_json: bool,
) -> int:
    """Write report.html, report.pdf, report.json and case.json.

    Heads that the case covers are covered in its stills.
    """
    if uncovered and use != INQUIRY:
        raise click.UsageError("Heads are shown for an inquiry alone.")
    with (
        actions.open_case(case, author=author, recording=recordings) as audit,
        ThreadPoolExecutor() as threads,
    ):
        found = actions.write_report(
            audit,
            folder,
            use=use,
            today=today(),
            language=language,
            workers=threads,
            uncovered=uncovered,
        )
        unseen = [one.sha256 for one in audit.state.recordings if one.sha256 not in audit.recording_paths]
        several = len(audit.state.recordings) > 1
        say.remark(actions.unrecorded(audit))
        numbers = [audit.number_of(digest) for digest in unseen]
    only = found.get("only", ())
    came_to = f"Audited only: {', '.join(only)}" if only else f"Final score {found['final_score']}"
    if "open_lines" in found:
        came_to = still_open(len(found["open_lines"])).rstrip(".")
    say.document(found) if as_json else click.echo(f"{came_to}; report in {folder}")
    if unseen or audit.recording_path is None:
        which = f"Recording {', '.join(map(str, numbers))}" if several else "The recording"
        said = f"{which} was not found, so the report has no stills{' of it' if several else ''}"
        click.echo(f"{said}; name it with --recording.", err=True)
    return DONE


@click.command(epilog="Example: reviewer verify report --recording routine.mp4 --pictures")
@click.argument("source", metavar="FOLDER|BAG|CASE", type=FILE)
@click.option(
    "--recording",
    "recordings",
    type=FILE,
    multiple=True,
    help="A recording to hold against the fingerprints; may be given several times.",
)
@click.option(
    "--pictures", is_flag=True, help="Decode the stills again; needs --recording, or a bag that holds it."
)
@click.option("--signer", type=FILE, help="The public key by which a bag must be signed.")
@click.option("--meet", type=FILE, help="The folder of the meet, for the report of one.")
@json_option
def verify(
    source: Path,
    recordings: tuple[Path, ...],
    pictures: bool,
    signer: Path | None,
    meet: Path | None,
    as_json: bool,
) -> int:
    """Derive a report, a bag (also as a ZIP file) or a case again and name every difference."""
    found = actions.verify(source, recording=recordings, pictures=pictures, signer=signer, meet=meet)
    say.document(found) if as_json else _say_verified(found)
    if not found["same"]:
        return NO
    return UNDECIDED if pictures and any(one["what"] == "pictures" for one in found["not_checked"]) else DONE


def _with_recordings(found: dict[str, Any]) -> dict[str, Any]:
    """A score whose lines say of each frame which recording it is of, where there are several."""
    if "set_aside" not in found:
        return found
    return found | {"lines": [line | {"frames": _labelled(line["frames"])} for line in found["lines"]]}


def _labelled(frames: list[dict[str, Any]] | None) -> list[dict[str, str]]:
    return [{"frame": f"{one['frame']} of recording {one['recording']}"} for one in frames or ()]


def _say_verified(found: dict[str, Any]) -> None:
    for one in found["differences"]:
        click.echo(_difference(one))
    for one in found["not_checked"]:
        click.echo(f"not checked: {one['what']} ({one['why']})")
    number = len(found["differences"])
    answer = "Everything derives again as stored" if found["same"] else f"Differences: {number}"
    click.echo(f"{answer}. Checked: {', '.join(found['checked']).replace('_', ' ')}.")


def _difference(one: dict[str, str]) -> str:
    """What differs; of an event, what happened to it."""
    if one["what"] == "event" and one["stored"].endswith("."):
        several = "s" if " to " in one["where"] else ""
        return f"differs: event{several} {one['where']}. {one['stored']}"
    return f"differs: {one['what']} {one['where']}\n  stored  {one['stored']}\n  derived {one['derived']}"
