"""Pass phrases: typed where nobody reads along, or the first line of a file."""

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

from reviewer.cli.options import FILE
from reviewer.terms.messages import message
from reviewer.terms.problems import DocumentError, Problem


def pass_phrase_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--pass-phrase-file``: for whoever does not want to be asked."""
    return click.option(
        "--pass-phrase-file",
        type=FILE,
        help="A file whose first line is the pass phrase; asked for without it.",
    )(command)


def pass_phrase(file: Path | None, of: str, *, new: bool) -> str:
    """The pass phrase out of a file, or asked for; a ``new`` one twice."""
    if file is None:
        return str(click.prompt(of, hide_input=True, confirmation_prompt=new, err=True))
    try:
        lines = file.read_text(encoding="utf-8").splitlines()
    except UnicodeDecodeError:
        said = message("This is no text.")
        remedy = message("Write the pass phrase into its first line, as UTF-8.")
        raise DocumentError(Problem("no-text", str(file), said, remedy)) from None
    return lines[0] if lines else ""
