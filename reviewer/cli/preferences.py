"""``reviewer settings``: what may be set on this machine, what is, and setting it."""

from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import json_option
from reviewer.terms.problems import BAD_INPUT, DONE


@click.command(epilog="Example: reviewer settings picture-memory '2 GiB'")
@click.argument("key", required=False)
@click.argument("value", required=False)
@json_option
def settings(key: str | None, value: str | None, as_json: bool) -> int:
    """List the settings, show the one of a KEY, or give it a VALUE."""
    if key is not None and value is not None:
        found = actions.change_setting(key, value)
    else:
        found = actions.settings_document(key)
    say.document(found) if as_json else _say_settings(found)
    return BAD_INPUT if found["problems"] else DONE


def _say_settings(found: dict[str, Any]) -> None:
    for one in found["settings"]:
        click.echo(f"{one['key']:<20} {one['value']:<12} {_origin(one)}\n    {one['description']}")
    click.echo(f"Settings file: {found['file']}")
    for problem in found["problems"]:
        click.echo(f"{problem['where']}: {problem['message']} {problem['remedy']}", err=True)


def _origin(one: dict[str, Any]) -> str:
    if one["from"] == "default":
        return "the default"
    return f"from {one['from']}; the default is {one['default']}"
