"""Options that several commands share."""

from collections.abc import Callable
from datetime import date
from pathlib import Path
from typing import Any

import click

from reviewer.cli import say
from reviewer.terms.codes import no_code
from reviewer.terms.consents import INQUIRY, USES
from reviewer.terms.exact import Points
from reviewer.words import ENGLISH, LANGUAGES

FILE = click.Path(path_type=Path)
WINDOW = "open_desk"


class PointsText(click.ParamType[Points]):
    """Points as decimal text, such as 8.900."""

    name = "points"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Points:
        """Points from what was typed; a usage fault otherwise."""
        try:
            return value if isinstance(value, Points) else Points.parse(value)
        except ValueError as fault:
            self.fail(f"{fault}; write points such as 8.900", param, ctx)


class Named(click.ParamType[tuple[str, Any]]):
    """A value for something named, such as ``m4=0.300``.

    Attributes:
        of: what the names are of, such as ``MARK``.
        value: reads the value; ValueError for one that is none.
    """

    def __init__(self, of: str, what: str, value: Callable[[str], Any] = str) -> None:
        self.name = f"{of}={what}"
        self._value = value

    def convert(
        self, value: Any, param: click.Parameter | None, ctx: click.Context | None
    ) -> tuple[str, Any]:
        """Name and value from what was typed; a usage fault otherwise."""
        if isinstance(value, tuple):
            return value
        name, is_, said = value.partition("=")
        try:
            if is_ and name and said:
                return name, self._value(said)
            self.fail(f"{value!r} is not {self.name}", param, ctx)
        except ValueError as fault:
            self.fail(str(fault), param, ctx)


def one_of(*words: str) -> Callable[[str], str]:
    """A reader of one of some words; ValueError for another."""

    def read(said: str) -> str:
        if said not in words:
            raise ValueError(f"{said!r} is none of: {', '.join(words)}")
        return said

    return read


def _note_json(context: click.Context, _: click.Parameter, value: bool) -> bool:
    if isinstance(context.obj, dict):
        context.obj["json"] = value
    return value


def json_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--json``: one JSON document on standard output. Read first, so that usage faults obey it too."""
    return click.option(
        "--json",
        "as_json",
        is_flag=True,
        is_eager=True,
        callback=_note_json,
        help="Answer as one JSON document.",
    )(command)


def recording_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--recording``: which of several recordings of a case is meant."""
    return click.option(
        "--recording",
        help="The recording of the frames, by its place, such as 2, or the beginning of its SHA-256; "
        "without it, the first of the attempt that counts.",
    )(command)


def stream_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--stream``: which of a file's several moving pictures is meant."""
    return click.option(
        "--stream",
        type=click.IntRange(min=0),
        default=0,
        show_default=True,
        help="Which of the file's moving pictures, where it holds several.",
    )(command)


def use_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--use``: what something is to leave the case for; consent must cover it."""
    return click.option(
        "--use",
        type=click.Choice(USES),
        default=INQUIRY,
        show_default=True,
        help="What it is for; consent must cover it.",
    )(command)


def today() -> str:
    """The day it is here: what consent that ends is held against."""
    return date.today().isoformat()


class Author(click.ParamType[str]):
    """A judge's letter or code: no name of a person."""

    name = "author"

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> str:
        """The code as typed; a usage fault for what may be a name."""
        problem = no_code(str(value), "--author")
        if problem is not None:
            told = say.saying().message
            self.fail(f"{told(problem.message)} {told(problem.remedy)}", param, ctx)
        return str(value)


def author_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """``--author``: who writes into the chain of events."""
    return click.option(
        "--author",
        type=Author(),
        default="A",
        show_default=True,
        help="Your letter; no names are kept in the chain.",
    )(command)


def language_option(command: Callable[..., Any]) -> Callable[..., Any]:
    """The language that something is told in."""
    return click.option(
        "--language",
        type=click.Choice(list(LANGUAGES)),
        default=ENGLISH,
        show_default=True,
        help="The language it is told in; all but English are drafts by a machine, and say so.",
    )(command)
