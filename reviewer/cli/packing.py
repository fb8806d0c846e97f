"""Commands that carry a case elsewhere: pack, key, sign."""

from pathlib import Path

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import FILE, json_option, today, use_option
from reviewer.terms.problems import DONE


@click.command(epilog="Example: reviewer pack routine.case -o routine-bag --recording routine.mp4")
@click.argument("case", type=FILE)
@click.option("-o", "folder", type=FILE, required=True, help="Folder to make.")
@click.option(
    "--recording",
    "recordings",
    type=FILE,
    multiple=True,
    help="A recording to put in; may be given several times. Without it none is put in.",
)
@click.option("--report/--no-report", default=True, show_default=True, help="Write the report into the bag.")
@click.option(
    "--with-words",
    is_flag=True,
    help="Carry the words of inquiries, answers and reasons in the report; they may hold names.",
)
@click.option("--date", help="The day of packing to write down, such as 2026-11-26; else none is.")
@use_option
@json_option
def pack(
    case: Path,
    folder: Path,
    recordings: tuple[Path, ...],
    report: bool,
    with_words: bool,
    date: str | None,
    use: str,
    as_json: bool,
) -> int:
    """Pack a case, its rule book and its report into one folder that anyone can check (a BagIt 1.0 bag).

    Names, free text and file paths stay behind, also the words of inquiries and answers: the report says that
    they were left out. The codes and letters of the case go with it.
    """
    with actions.open_case(case, author=None, recording=recordings) as audit:
        wanted = [digest for digest, path in audit.recording_paths.items() if path in recordings]
        found = actions.pack_case(
            audit,
            folder,
            use=use,
            today=today(),
            recordings=wanted,
            report=report,
            with_words=with_words,
            date=date,
        )
        unseen = len(audit.state.recordings) - len(audit.recording_paths)
    if as_json:
        say.document(found)
    else:
        with_ = f", recordings among them: {found['recordings']}" if found["recordings"] else ""
        click.echo(f"Files in {folder}: {found['files']}{with_}\nManifest SHA-256 {found['manifest_sha256']}")
    for one in found["rides_along"]:
        rides = ", ".join(one["carries"])
        said = f"and with it {rides}" if rides else "and carries no sound, date, place or device"
        whole = f"Recording {one['recording']} goes whole, byte for byte, uncovered {said}."
        click.echo(f"{whole} `reviewer clip` makes one without.", err=True)
    if report and unseen:
        click.echo(f"Recordings not found: {unseen}; the report has no stills of these.", err=True)
    return DONE


@click.command(epilog="Example: reviewer key judge-a.pem")
@click.argument("path", metavar="KEY.pem", type=FILE)
@json_option
def key(path: Path, as_json: bool) -> int:
    """Make a key to sign bags with: the private file, for you alone, and the public one beside it."""
    found = actions.make_key(path)
    if as_json:
        say.document(found)
    else:
        click.echo(f"Keep to yourself  {found['private']}\nGive to others    {found['public']}")
        click.echo(f"Signer            {found['signer']}")
    return DONE


@click.command(epilog="Example: reviewer sign routine-bag --key judge-a.pem")
@click.argument("bag", type=FILE)
@click.option("--key", "key_file", type=FILE, required=True, help="Your private key.")
@json_option
def sign(bag: Path, key_file: Path, as_json: bool) -> int:
    """Sign a bag: its files as listed, and the last event of each case in it. Others may sign it too."""
    found = actions.sign_bag(bag, key_file)
    if as_json:
        say.document(found)
    else:
        click.echo(f"{found['signature']} written\nSigner {found['signer']}\nLast event {found['head']}")
    return DONE
