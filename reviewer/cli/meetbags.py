"""``reviewer meet``: tasks on their way to an auditor and back, as bags."""

from pathlib import Path
from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.meetqueue import NAMES
from reviewer.cli.options import FILE, author_option, json_option, today
from reviewer.terms.problems import DONE, NO


@click.command(epilog="Example: reviewer meet send evening K -o bag-for-K")
@click.argument("folder", metavar="MEET", type=FILE)
@click.argument("auditor")
@click.option("-o", "bag", type=FILE, required=True, help="The bag, a new folder.")
@click.option("--without-recordings", is_flag=True, help="Put in no recording, as the auditor has them.")
@click.option("--again", is_flag=True, help="Also what was sent and is not home yet: a bag that was lost.")
@json_option
def send(folder: Path, auditor: str, bag: Path, without_recordings: bool, again: bool, as_json: bool) -> int:
    """Pack an auditor's tasks into one bag: cases, recordings, rule book, and a list of them.

    A blind task is a case of the auditor's own, without a posted figure or anybody's marks; any other is a
    copy of the meet's case. Names, words and file paths stay behind. Consent must cover the inquiry.
    """
    found = actions.send(folder, auditor, bag, today=today(), recordings=not without_recordings, again=again)
    if as_json:
        say.document(found)
        return DONE
    for one in found["tasks"]:
        click.echo(f"{one['start']:<8} {'blind' if one['blind'] else ''}".rstrip())
    click.echo(f"Packed in {bag}: tasks {len(found['tasks'])}, recordings {found['recordings']}")
    click.echo(f"Manifest SHA-256 {found['manifest_sha256']}")
    if found["recordings"]:
        carried = sorted({one for rider in found["rides_along"] for one in rider["carries"]})
        rides = f"and with them {', '.join(carried)}" if carried else "and carry no sound, date or place"
        say.remark(f"Recordings go whole, byte for byte, uncovered {rides}.")
    return DONE


@click.command(epilog="Example: reviewer meet unpack bag-for-K -o tasks")
@click.argument("bag", type=FILE)
@click.option("-o", "folder", type=FILE, required=True, help="The folder to work in, a new one.")
@json_option
def unpack(bag: Path, folder: Path, as_json: bool) -> int:
    """At the auditor's: check a bag, and lay its cases out for the desk, recordings beside them."""
    found = actions.unpack_tasks(bag, folder)
    if as_json:
        say.document(found)
        return DONE
    for one in found["tasks"]:
        blind = "blind: seal it when it is done" if one["blind"] else ""
        click.echo(f"{one['case']}  {', '.join(one['recordings']) or 'no recording'}  {blind}".rstrip())
    letter, first = found["auditor"], found["tasks"][0]["case"]
    click.echo(f"You are auditor {letter}. At the desk: `reviewer desk {first} --author {letter}`.")
    click.echo(f"When done: `reviewer meet return {folder} -o BAG`.")
    return DONE


@click.command("return", epilog="Example: reviewer meet return tasks -o bag-from-K")
@click.argument("folder", type=FILE)
@click.option("-o", "bag", type=FILE, required=True, help="The bag, a new folder.")
@click.option(
    "--unchanged", type=NAMES, default=(), help="Looked at, and all of it is to stay as it was sent."
)
@json_option
def return_(folder: Path, bag: Path, unchanged: tuple[str, ...], as_json: bool) -> int:
    """At the auditor's: pack the cases that are done to go home. No recording goes along, and no words.

    Blind sheets go once they are sealed. What is not ready stays here, and is named.
    """
    found, left = actions.pack_return(folder, bag, today=today(), unchanged=unchanged)
    if as_json:
        say.document(found)
        return DONE
    for one in found["tasks"]:
        sealed = "sealed" if one["sealed"] else "not sealed"
        click.echo(f"{one['start']:<8} marks {one['marks']}, {sealed}")
    click.echo(f"Packed in {bag}: {len(found['tasks'])}\nManifest SHA-256 {found['manifest_sha256']}")
    words = [one["start"] for one in found["tasks"] if one["texts_left"]]
    if words:
        say.remark(f"Words of notes and reasons stay here, since they may hold names: {', '.join(words)}.")
    if left:
        say.remark("These stay here:")
        say.problems(left, as_json=False)
    return DONE


@click.command(epilog="Example: reviewer meet receive evening bag-from-K")
@click.argument("folder", metavar="MEET", type=FILE)
@click.argument("bag", type=FILE)
@click.option("--only", type=NAMES, default=(), help="Take only these routines of the bag.")
@click.option("--signer", type=FILE, help="A public key that the bag must be signed with.")
@author_option
@json_option
def receive(
    folder: Path, bag: Path, only: tuple[str, ...], signer: Path | None, author: str, as_json: bool
) -> int:
    """Take the cases of a bag home: all of them, or none where anything in it is not as it was sent.

    A case that was also worked on here is merged. A case whose consent was withdrawn is left out, and named.
    """
    found, refused = actions.receive(folder, bag, author=author, signer=signer, only=only)
    if as_json:
        say.document(found)
    else:
        for one in found["cases"]:
            click.echo(f"{one['start']:<8} {_OUTCOMES[one['outcome']].format(**one)}")
            _remark(one, found["auditor"])
        for one in found["signers"]:
            say.remark(f"Signed by {one}.")
        if refused:
            say.remark("These were not taken:")
            say.problems(refused, as_json=False)
    return NO if refused else DONE


_OUTCOMES = {
    "taken": "taken: events {events}, marks {marks}, kept in {case}",
    "merged": "merged with what was done here meanwhile: events {events}, kept in {case}",
    "nothing new": "nothing new: all of it is in {case} already",
    "older": "older than what came home before; nothing was changed",
}


def _remark(one: dict[str, Any], auditor: str) -> None:
    """Who else wrote in a case, and what is to be looked at after a merge."""
    others = [name for name in one["by"] if name != auditor]
    if others and one["outcome"] in ("taken", "merged"):
        say.remark(f"{one['start']}: written by {', '.join(others)}, and the task is auditor {auditor}'s.")
    found = one.get("merge", {"remarks": (), "conflicts": ()})
    for said in found["remarks"]:
        say.remark(f"{one['start']}: {said}")
    for conflict in found["conflicts"]:
        what = conflict["name"] or f"{conflict['what']} {conflict['where']}".strip()
        say.remark(f"{one['start']}: {what}: here {conflict['first_says']}; there {conflict['second_says']}.")
