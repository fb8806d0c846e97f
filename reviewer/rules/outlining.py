"""A rule-book file as a form needs it: its clauses with their lines and fields, sound or not."""

from collections.abc import Mapping
from dataclasses import dataclass, replace

from reviewer.rules.arranging import CHAPTERS
from reviewer.rules.asking import CHOICE, CODE, CODES, TEXT, TEXTS, Form, forms_of, instead_of, leaves
from reviewer.rules.tree import Fields, Items, Text, Tree, read_tree
from reviewer.terms.vocabulary import RESULTS, STATUSES, TIE_STEPS

HEAD = ""
"""Stands for the head in place of a clause's id."""
_HEAD_FIELDS = ("title", "division", "apparatus", "season", "effective", "cautions", "roles", "conditions")
_ONLY_READ = ("id", "rule", "since", "source", "examples")
_REFERS = {
    **dict.fromkeys(("role", "not-in", "may-be"), "roles"),
    **dict.fromkeys(("condition", "not-when", "unless", "with", "parted-by", "joined-by"), "conditions"),
    **dict.fromkeys(("not-elements", "elements", "into"), "elements"),
    **dict.fromkeys(("faults", "not-on-top-of-it", "after", "by"), "faults"),
    "fulfils": "requirements",
}
"""Field to the codes of the book that it names."""
_CLOSED = {
    "statuses": STATUSES,
    "higher": TIE_STEPS,
    "result": RESULTS,
    "takes": ("value part", "requirement"),
}
"""Lists of words that are no codes of the book."""


@dataclass(frozen=True, slots=True)
class Field:
    """One thing that a clause or the head says, or may say.

    Attributes:
        place: its name, joined by dots to those it lies in; as changes are named.
        value: text or list of texts as they stand in the file, or None where it is not there.
        form: what it may say; ``allowed`` also holds codes of the book that it may name.
        instead: fields of which just one is said, this one among them; mostly none.
    """

    place: str
    value: str | tuple[str, ...] | None
    form: Form
    instead: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Outlined:
    """A clause of the file, or its head.

    Attributes:
        id: its id as written; `HEAD` for the head.
        title, rule, since, source: as written, empty where not there.
        chapter: the heading it is read under.
        lines: its first and last line, from 1.
        says: all of its text, to search in.
        fields: what can be changed in it, in the order of the file, then what could be added.
        examples: how many examples it has.
        lists: places under which another entry can be added by its code, such as an element.
    """

    id: str
    title: str
    rule: str
    since: str
    source: str
    chapter: str
    lines: tuple[int, int]
    says: str
    fields: tuple[Field, ...]
    examples: int = 0
    lists: tuple[str, ...] = ()


def outline(text: str, name: str) -> tuple[Outlined, ...]:
    """The head and every clause in the order of the file; nothing where the file cannot be read at all."""
    tree = read_tree(text, name, [])
    if not isinstance(tree, Fields):
        return ()
    known, last = _known(tree), text.count("\n") + 1
    clauses = [one for one in _items(tree, "clauses") if isinstance(one, Fields)]
    ends = [one.line - 1 for one in clauses[1:]] + [last]
    head_ends = clauses[0].line - 1 if clauses else last
    return (
        _head(tree, head_ends),
        *(_clause(one, end, known) for one, end in zip(clauses, ends, strict=False)),
    )


def _head(tree: Fields, end: int) -> Outlined:
    fields = []
    for name in _HEAD_FIELDS:
        said: dict[str, str | tuple[str, ...] | None] = {name: None}
        if name in tree.values:
            said = {**leaves(tree.values[name], name)}
        kind = TEXTS if name == "cautions" else TEXT
        fields += [Field(place, value, Form(kind)) for place, value in said.items()]
    if "until" not in getattr(tree.values.get("effective"), "values", {}):
        fields.append(Field("effective.until", None, Form(TEXT)))
    says = " ".join(word for one in fields for word in _texts(one.value or ""))
    return Outlined(
        HEAD,
        _text(tree, "title"),
        *("", "", "", ""),
        lines=(1, end),
        says=says,
        fields=tuple(fields),
        lists=("roles", "conditions"),
    )


def _clause(clause: Fields, end: int, known: Mapping[str, tuple[str, ...]]) -> Outlined:
    rule, said = _text(clause, "rule"), leaves(clause)
    forms = forms_of(rule, clause)
    shown = [place for place in said if place.partition(".")[0] not in _ONLY_READ and _is_amended(place)]
    absent = [place for place in forms if place not in said and _is_amended(place)]
    fields = [
        Field(
            place,
            said.get(place),
            _naming(place, forms.get(place, _plainly(said.get(place))), known),
            instead_of(place, forms) if "." not in place else (),
        )
        for place in (*shown, *absent)
    ]
    return Outlined(
        id=_text(clause, "id"),
        title=_text(clause, "title"),
        rule=rule,
        since=_text(clause, "since"),
        source=_text(clause, "source"),
        chapter=next((title for title, rules in CHAPTERS.items() if rule in rules), ""),
        lines=(clause.line, end),
        says=" ".join(said_in for value in said.values() for said_in in _texts(value)),
        fields=tuple(fields),
        examples=len(_items(clause, "examples")),
        lists=("elements",) if rule == "elements" else (),
    )


def _is_amended(place: str) -> bool:
    """Whether a form can change it: not the code by which an element of a list is found."""
    return not place.endswith(".code")


def _naming(place: str, form: Form, known: Mapping[str, tuple[str, ...]]) -> Form:
    """The form with the words that may be named; a single code is chosen among them."""
    name = place.rpartition(".")[2]
    words = known.get(_REFERS.get(name, ""), ())
    if form.kind == CODE and words:
        return Form(CHOICE, allowed=words)
    if form.kind in (CODES, TEXTS):
        return replace(form, allowed=_CLOSED.get(name, words))
    return form


def _known(tree: Fields) -> dict[str, tuple[str, ...]]:
    """The codes that clauses may name, by kind."""
    clauses = [one for one in _items(tree, "clauses") if isinstance(one, Fields)]
    elements = [
        _text(one, "code")
        for clause in clauses
        if _text(clause, "rule") == "elements"
        for one in _items(clause, "elements")
        if isinstance(one, Fields)
    ]
    found = {"elements": tuple(elements)}
    for kind in ("roles", "conditions"):
        said = tree.values.get(kind)
        found[kind] = tuple(said.values) if isinstance(said, Fields) else ()
    for rule in ("fault", "requirement"):
        found[f"{rule}s"] = tuple(_text(one, rule) for one in clauses if _text(one, "rule") == rule)
    return found


def _items(fields: Fields, name: str) -> tuple[Tree, ...]:
    found = fields.values.get(name)
    return found.values if isinstance(found, Items) else ()


def _text(fields: Fields, name: str) -> str:
    found = fields.values.get(name)
    return found.value.strip() if isinstance(found, Text) else ""


def _texts(value: str | tuple[str, ...]) -> tuple[str, ...]:
    return (value,) if isinstance(value, str) else value


def _plainly(value: str | tuple[str, ...] | None) -> Form:
    return Form(TEXTS if isinstance(value, tuple) else TEXT)
