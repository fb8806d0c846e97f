"""One field of a YAML text replaced, added or taken out; every other character stays as it was.

A library that writes the whole file anew moves comments to other fields; here the reader's positions are
used to change the text itself. The text must have passed `reviewer.rules.tree.read_tree`: no anchors or tags.
"""

import json
import re
from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import yaml

Written = str | Sequence[str]
"""What a field shall say: text, a list of texts, or empty to take the field out."""

_PLAIN = re.compile(r"(?:[^\W_]|-\d)(?:(?!: |:$| #).)*")
_DASH = re.compile(r"-[ \t]*(?:#[^\n]*)?(?:\r?\n[ \t]*(?:#[^\n]*)?)*$")


class NoPlaceError(LookupError):
    """A place that leads nowhere: `name` is what was looked for, `known` what there is."""

    def __init__(self, name: str, known: Iterable[str]) -> None:
        self.name, self.known = name, tuple(known)
        super().__init__(name)


@dataclass(frozen=True, slots=True)
class Entry:
    """A field of a mapping or an item of a list: its name (an item's is its ``id`` or ``code``), its span."""

    name: str
    start: int
    named: int
    value: yaml.Node
    end: int


def composed(text: str) -> yaml.Node:
    """The text's top node, every scalar as text; `yaml.YAMLError` when it is no YAML."""
    node = yaml.compose(text, Loader=yaml.BaseLoader)
    if node is None:
        raise yaml.YAMLError("the text is empty")
    return node


def entries(text: str, node: yaml.Node) -> tuple[Entry, ...]:
    """What a mapping or a list holds; nothing for text."""
    if isinstance(node, yaml.MappingNode):
        return tuple(
            Entry(key.value, key.start_mark.index, key.end_mark.index, value, _end(text, value))
            for key, value in node.value
        )
    if isinstance(node, yaml.SequenceNode):
        starts = (_item_start(text, node, item) for item in node.value)
        return tuple(
            Entry(_name(item), start, start, item, _end(text, item))
            for start, item in zip(starts, node.value, strict=True)
        )
    return ()


def put(text: str, place: str, value: Written) -> str:
    """The text with the field at ``place`` (names joined by dots) saying ``value``.

    A field that is not there is added behind its neighbours, and so is an item of a list of coded items whose
    ``code`` is put at that code; NoPlaceError where a list has no such item, or there is nothing to take out.
    """
    return _put(text, composed(text), place, value)


def take_out(text: str, node: yaml.Node, name: str) -> str:
    """The text without one entry of a mapping or a list; NoPlaceError when it has none of that name."""
    found = entries(text, node)
    names = [one.name for one in found]
    if name not in names:
        raise NoPlaceError(name, names)
    return (_taken_from_flow if in_brackets(node) else _taken_from_block)(text, found, names.index(name))


def whole_lines(text: str, start: int, end: int) -> tuple[int, int]:
    """The span widened to the beginning of its first line and the end of its last, break excluded."""
    after = re.compile(r"\r?\n|\Z").search(text, end)
    return text.rfind("\n", 0, start) + 1, after.start() if after else end


def written(value: Written, flow: bool = False) -> str:
    """The value as YAML: plain where that is safe, else in double quotes; lists in brackets."""
    if not isinstance(value, str):
        return "[" + ", ".join(written(one, True) for one in value) + "]"
    text = " ".join(value.split())
    plain = _PLAIN.fullmatch(text) and not (flow and re.search(r"[,?\[\]{}:]", text))
    return text if plain else json.dumps(text, ensure_ascii=False)


def in_brackets(node: yaml.Node) -> bool:
    """Whether a mapping or list is written in brackets, and not on lines of its own."""
    return isinstance(node, yaml.CollectionNode) and bool(node.flow_style)


def unprintable(value: str) -> bool:
    """Whether text holds a character that YAML cannot."""
    return yaml.reader.Reader.NON_PRINTABLE.search(" ".join(value.split())) is not None


def line_break(text: str) -> str:
    """How lines end in this text."""
    return "\r\n" if "\r\n" in text else "\n"


def _put(text: str, node: yaml.Node, place: str, value: Written) -> str:
    found = entries(text, node)
    for one in sorted(found, key=lambda one: -len(one.name)):
        if place == one.name:
            return take_out(text, node, one.name) if value == "" else _replaced(text, node, one, value)
        if place.startswith(f"{one.name}."):
            return _put(text, one.value, place[len(one.name) + 1 :], value)
    if place == f"{value}.code" and found and isinstance(node, yaml.SequenceNode) and _is_coded(node):
        return _item_added(text, node, found[-1], f"{{code: {written(value, True)}}}")
    if not (isinstance(node, yaml.MappingNode) and found and value != ""):
        raise NoPlaceError(place, [one.name for one in found])
    return _added(text, node, found[-1], place, value)


def _replaced(text: str, node: yaml.Node, one: Entry, value: Written) -> str:
    flow, old = in_brackets(node), one.value
    if value and not isinstance(value, str) and isinstance(old, yaml.SequenceNode) and not in_brackets(old):
        first = entries(text, old)[0].start
        margin = line_break(text) + " " * (first - whole_lines(text, first, first)[0])
        return text[:first] + margin.join(f"- {written(item)}" for item in value) + text[one.end :]
    if isinstance(node, yaml.MappingNode):
        return f"{text[: one.named]}: {written(value, flow)}{text[one.end :]}"
    return text[: one.start] + ("" if flow else "- ") + written(value, flow) + text[one.end :]


def _added(text: str, node: yaml.Node, last: Entry, place: str, value: Written) -> str:
    name, _, inner = place.partition(".")
    flow = in_brackets(node)
    said = f"{name}: {{{inner}: {written(value, True)}}}" if inner else f"{name}: {written(value, flow)}"
    if flow:
        return f"{text[: last.end]}, {said}{text[last.end :]}"
    _, end = whole_lines(text, last.start, last.end)
    margin = " " * (node.start_mark.column if node.start_mark else 0)
    return f"{text[:end]}{line_break(text)}{margin}{said}{text[end:]}"


def _is_coded(node: yaml.SequenceNode) -> bool:
    """Whether each item of a list has a code it goes by."""
    items = [one for one in node.value if isinstance(one, yaml.MappingNode)]
    return len(items) == len(node.value) and all(
        "code" in {key.value for key, _ in one.value} for one in items
    )


def _item_added(text: str, node: yaml.SequenceNode, last: Entry, said: str) -> str:
    if in_brackets(node):
        return f"{text[: last.end]}, {said}{text[last.end :]}"
    start, end = whole_lines(text, last.start, last.end)
    return f"{text[:end]}{line_break(text)}{' ' * (last.start - start)}- {said}{text[end:]}"


def _taken_from_flow(text: str, found: tuple[Entry, ...], index: int) -> str:
    one = found[index]
    if index + 1 < len(found):
        return text[: one.start] + text[found[index + 1].start :]
    return text[: found[index - 1].end if index else one.start] + text[one.end :]


def _taken_from_block(text: str, found: tuple[Entry, ...], index: int) -> str:
    one = found[index]
    start, end = whole_lines(text, one.start, one.end)
    if text[start : one.start].strip() and index + 1 < len(found):
        return text[: one.start] + text[found[index + 1].start :]
    after = re.compile(r"\r?\n|\Z").match(text, end)
    return text[:start] + text[after.end() if after else end :]


def _item_start(text: str, node: yaml.SequenceNode, item: yaml.Node) -> int:
    """Where an item begins, its dash included."""
    start = item.start_mark.index if item.start_mark else 0
    dash = None if in_brackets(node) else _DASH.search(text, 0, start)
    return dash.start() if dash else start


def _name(item: yaml.Node) -> str:
    """What an item is called: the ``id`` or ``code`` of a mapping, or the text itself."""
    if isinstance(item, yaml.MappingNode):
        names = {key.value: value.value for key, value in item.value}
        found = names.get("id", names.get("code", ""))
        return found if isinstance(found, str) else ""
    return item.value if isinstance(item.value, str) else ""


def _end(text: str, node: yaml.Node) -> int:
    """Where a value ends, without the comments and blank lines that follow it."""
    start = node.start_mark.index if node.start_mark else 0
    end = node.end_mark.index if node.end_mark else start
    if isinstance(node, yaml.CollectionNode) and not in_brackets(node) and node.value:
        last = node.value[-1]
        return _end(text, last[1] if isinstance(last, tuple) else last)
    return start + len(text[start:end].rstrip())
