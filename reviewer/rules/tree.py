"""A rule-book file as a tree of text, each piece with its line. YAML is read as text only.

Only plain mappings, lists and text pass: no anchors, aliases, tags, duplicate keys or second documents.
"""

from dataclasses import dataclass

import yaml

from reviewer.terms.messages import message, noted, spoken
from reviewer.terms.problems import Problem

MOST_BYTES = 1_000_000
_LOADER = getattr(yaml, "CBaseLoader", yaml.BaseLoader)
"""Text only; the parser in C where there is one, ten times quicker."""
_MOST_DEPTH = 12


@dataclass(frozen=True, slots=True)
class Text:
    """A piece of text and its line, from 1."""

    value: str
    line: int


@dataclass(frozen=True, slots=True)
class Items:
    """A list and the line it begins on."""

    values: "tuple[Tree, ...]"
    line: int


@dataclass(frozen=True, slots=True)
class Fields:
    """A mapping, the line it begins on and the line of each key."""

    values: "dict[str, Tree]"
    lines: dict[str, int]
    line: int


Tree = Text | Items | Fields


def read_tree(text: str, name: str, problems: list[Problem]) -> Tree | None:
    """The tree of a file's text, or None when `problems` (appended to) leave nothing to read."""
    if len(text.encode("utf-8", "replace")) > MOST_BYTES:
        problems.append(
            Problem(
                "too-large", name, message("The file is larger than 1 MB."), message("Use a rule-book file.")
            )
        )
        return None
    before = len(problems)
    try:
        _check_events(text, name, problems)
        root = yaml.compose(text, Loader=_LOADER) if len(problems) == before else None
    except yaml.YAMLError as error:
        problems.append(_unreadable(error, name))
        return None
    if root is None:
        if len(problems) == before:
            problems.append(
                Problem("empty", f"{name}:1", message("The file is empty."), message("Use a rule-book file."))
            )
        return None
    return _tree(root, name, problems)


def _check_events(text: str, name: str, problems: list[Problem]) -> None:
    """Refuse what text alone does not need; events do not expand aliases and do not recurse."""
    depth = 0
    for event in yaml.parse(text, Loader=_LOADER):
        depth += isinstance(event, yaml.CollectionStartEvent) - isinstance(event, yaml.CollectionEndEvent)
        where = f"{name}:{_line_of(event)}"
        if depth > _MOST_DEPTH:
            problems.append(
                Problem(
                    "too-deep", where, message("Lists lie too deep in each other."), message("Flatten them.")
                )
            )
            return
        if isinstance(event, yaml.NodeEvent) and event.anchor is not None:
            problems.append(
                Problem(
                    "anchor",
                    where,
                    message("The anchor or alias {anchor} is not allowed.", anchor=repr(event.anchor)),
                    message("Write it out."),
                )
            )
        tag = getattr(event, "tag", None)
        if tag is not None:
            problems.append(
                Problem(
                    "tag",
                    where,
                    message("The tag {tag} is not allowed.", tag=repr(tag)),
                    message("Leave it out."),
                )
            )


def _line_of(event: yaml.Event) -> int:
    return event.start_mark.line + 1 if event.start_mark else 1


def _tree(node: yaml.Node, name: str, problems: list[Problem]) -> Tree:
    line = node.start_mark.line + 1
    if isinstance(node, yaml.SequenceNode):
        return Items(tuple(_tree(item, name, problems) for item in node.value), line)
    if not isinstance(node, yaml.MappingNode):
        return Text(str(node.value), line)
    values: dict[str, Tree] = {}
    lines: dict[str, int] = {}
    for key, value in node.value:
        at, code = key.start_mark.line + 1, str(key.value)
        if code in values:
            problems.append(
                Problem(
                    "duplicate-key",
                    f"{name}:{at}",
                    message("{code} stands here twice.", code=repr(code)),
                    message("Keep one of the two."),
                )
            )
        values[code] = _tree(value, name, problems)
        lines[code] = at
    return Fields(values, lines, line)


def _unreadable(error: yaml.YAMLError, name: str) -> Problem:
    mark = getattr(error, "problem_mark", None)
    what = getattr(error, "problem", None) or getattr(error, "reason", None) or noted("it cannot be read")
    where = f"{name}:{mark.line + 1}" if mark else name
    return Problem(
        "not-yaml",
        where,
        message("This is not YAML: {what}.", what=spoken(what)),
        message("Mend the line or the one before it."),
    )
