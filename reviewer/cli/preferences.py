"""``reviewer settings`` and ``reviewer keys``: what may be set on this machine, what is, and setting it."""

from typing import Any

import click

from reviewer import actions
from reviewer.cli import say
from reviewer.cli.options import json_option
from reviewer.terms.problems import BAD_INPUT, DONE

RESET = click.option("--reset", is_flag=True, help="Let what was shipped hold again.")


@click.command(epilog="Example: reviewer settings picture-memory '2 GiB'")
@click.argument("key", required=False)
@click.argument("value", required=False)
@RESET
@json_option
def settings(key: str | None, value: str | None, reset: bool, as_json: bool) -> int:
    """List the settings, show the one of a KEY, or give it a VALUE."""
    _refuse_both(key, value, reset)
    changed = key is not None and (value is not None or reset)
    found = actions.change_setting(key or "", value) if changed else actions.settings_document(key)
    say.document(found) if as_json else _say_settings(found)
    return BAD_INPUT if found["problems"] else DONE


@click.command(epilog="Example: reviewer keys next 'Right D'")
@click.argument("does", required=False)
@click.argument("keys", required=False)
@RESET
@json_option
def keys(does: str | None, keys: str | None, reset: bool, as_json: bool) -> int:
    """List the keys of the desk, show those that do one thing (DOES), or give it other KEYS."""
    _refuse_both(does, keys, reset)
    changed = does is not None and (keys is not None or reset)
    found = actions.change_keys(does or "", keys) if changed else actions.keys_document(does)
    say.document(found) if as_json else _say_keys(found)
    return BAD_INPUT if found["problems"] else DONE


def _refuse_both(name: str | None, value: str | None, reset: bool) -> None:
    if reset and (name is None or value is not None):
        raise click.UsageError("--reset stands alone after the name of what is to hold as shipped again.")


def _say_keys(found: dict[str, Any]) -> None:
    for one in found["keys"]:
        click.echo(f"{one['does']:<20} {' '.join(one['keys']) or 'no key':<18} {one['description']}")
        if one["from"] != "default":
            click.echo(f"    from {one['from']}")
    _say_file("Keys file", found)


def _say_settings(found: dict[str, Any]) -> None:
    for one in found["settings"]:
        click.echo(f"{one['key']:<20} {one['value']:<12} {_origin(one)}\n    {one['description']}")
    _say_file("Settings file", found)


def _say_file(what: str, found: dict[str, Any]) -> None:
    click.echo(f"{what}: {found['file']}")
    for problem in found["problems"]:
        click.echo(f"{problem['where']}: {problem['message']} {problem['remedy']}", err=True)


def _origin(one: dict[str, Any]) -> str:
    if one["from"] == "default":
        return "the default"
    return f"from {one['from']}; the default is {one['default']}"
