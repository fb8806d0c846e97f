"""``reviewer settings``, ``keys`` and ``short-codes``: what may be set on this machine, and setting it."""

from typing import Any

import click

from reviewer import actions
from reviewer.actions import DEFAULT_BOOK
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


@click.command("short-codes", epilog="Example: reviewer short-codes ab 'arms-bent 0.1'")
@click.argument("code", required=False)
@click.argument("words", required=False)
@click.option("--remove", is_flag=True, help="Take the code out of use.")
@click.option("--rule-book", default=DEFAULT_BOOK, show_default=True, help="Edition to hold codes against.")
@json_option
def short_codes(code: str | None, words: str | None, remove: bool, rule_book: str, as_json: bool) -> int:
    """List your short codes, show the one of a CODE, or let it stand for WORDS of a call."""
    if remove and (code is None or words is not None):
        raise click.UsageError("--remove stands alone after the code that is to go.")
    book = actions.load_book(rule_book)
    if code is not None and words is not None:
        actions.define_short_code(code, words, book)
    elif code is not None and remove:
        actions.forget_short_code(code)
    shown = None if code is None or remove else code.lower()
    found = actions.short_codes_document(book, shown)
    say.document(found) if as_json else _say_codes(found)
    return BAD_INPUT if found["problems"] else DONE


def _say_codes(found: dict[str, Any]) -> None:
    for one in found["codes"]:
        click.echo(f"{one['code']:<12} {one['words']}")
        if one["remark"]:
            click.echo(f"    {one['remark']}")
    _say_file("Short codes file", found)


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
