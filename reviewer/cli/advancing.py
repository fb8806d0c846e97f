"""How far long work has come, told on a terminal while it goes on."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

import click

_EVERY = 30
"""Pictures from one word to the next."""


@contextmanager
def advancing(quiet: bool) -> Iterator[Callable[[], bool]]:
    """What long work asks before each picture; Ctrl+C ends it. Nothing is told where nobody looks on."""
    told, seen = not quiet and sys.stderr.isatty(), 0

    def going_on() -> bool:
        nonlocal seen
        seen += 1
        if told and seen % _EVERY == 0:
            click.echo(f"\r{seen} pictures", nl=False, err=True)
        return True

    try:
        yield going_on
    finally:
        if told and seen >= _EVERY:
            click.echo("", err=True)
