"""What the fields of a clause are and what each may say, learned from its own reader.

The readers of clauses ask a record for what they need. This record writes down each question, so that no
second list of fields can fall behind the first.
"""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from itertools import chain
from typing import TypeVar

from reviewer.rules.clauses import READERS
from reviewer.rules.record import Record
from reviewer.rules.tree import Fields, Items, Text, Tree
from reviewer.terms.exact import Points, Thousandths
from reviewer.terms.measures import Measure
from reviewer.terms.problems import Problem
from reviewer.terms.vocabulary import QUESTIONS, TESTS

_Kind = TypeVar("_Kind", bound=Thousandths)
_Found = TypeVar("_Found")

TEXT, TEXTS, CODE, CODES, CHOICE = "text", "texts", "code", "codes", "choice"
QUANTITY, QUANTITIES, DAY, MEASURE = "quantity", "quantities", "day", "measure"
INSTEAD = (("amount", "up-to", "one-of"), ("takes", "gives"))
"""Fields of which a clause has one; the others may be said instead."""
_SETTLED = (TESTS, QUESTIONS)
"""Fields of which a clause has one for good: another would make it another clause."""
OPEN = "left-open"


@dataclass(frozen=True, slots=True)
class Form:
    """What a field may say.

    Attributes:
        kind: ``text``, ``texts``, ``code``, ``codes``, ``choice``, ``quantity`` (a number and its unit),
            ``quantities``, ``day`` or ``measure``.
        unit: of a quantity.
        allowed: the closed list of a choice.
    """

    kind: str
    unit: str = ""
    allowed: tuple[str, ...] = ()


@dataclass
class _Heard:
    """What was asked while one clause was read: forms by place, and names asked for in each mapping."""

    forms: dict[str, Form]
    asked: dict[str, list[str]]
    pretended: frozenset[str] = frozenset()


class _Asked(Record):
    """A record that writes down what it is asked, for its own fields and those of mappings within."""

    def __init__(self, fields: Fields, heard: _Heard, place: str = "") -> None:
        super().__init__("", fields, [])
        self._heard, self._at = heard, place

    def within(self, key: str, fields: Fields, problems: list[Problem]) -> Record:
        code = fields.values.get("code")
        inner = [code.value] if isinstance(code, Text) else []
        return _Asked(fields, self._heard, ".".join([*self._own(key), *inner]))

    def has(self, key: str) -> bool:
        asked = self._heard.asked.setdefault(self._at, [])
        if key not in asked:
            asked.append(key)
        return super().has(key) or self._place(key) in self._heard.pretended

    def text(self, key: str) -> str:
        return self._note(key, Form(TEXT), super().text(key))

    def texts(self, key: str, needed: bool = True) -> tuple[str, ...]:
        return self._note(key, Form(TEXTS), super().texts(key, needed))

    def code(self, key: str) -> str:
        return self._note(key, Form(CODE), super().code(key))

    def codes(self, key: str, needed: bool = True) -> tuple[str, ...]:
        return self._note(key, Form(CODES), super().codes(key, needed))

    def choice(self, key: str, allowed: tuple[str, ...]) -> str:
        return self._note(key, Form(CHOICE, allowed=allowed), super().choice(key, allowed))

    def number(self, key: str, unit: str) -> int:
        return self._note(key, Form(QUANTITY, unit), super().number(key, unit))

    def measure(self, key: str, read: Callable[[str], Measure], such_as: str) -> Measure:
        return self._note(key, Form(MEASURE, such_as), super().measure(key, read, such_as))

    def several(self, key: str) -> tuple[Points, ...]:
        return self._note(key, Form(QUANTITIES, "points"), super().several(key))

    def day(self, key: str) -> str:
        return self._note(key, Form(DAY), super().day(key))

    def _quantity(self, key: str, unit: str, kind: type[_Kind], low: _Kind, high: _Kind) -> _Kind:
        return self._note(key, Form(QUANTITY, unit), super()._quantity(key, unit, kind, low, high))

    def _note(self, key: str, form: Form, found: _Found) -> _Found:
        self._heard.forms[self._place(key)] = form
        return found

    def _own(self, key: str) -> list[str]:
        return [*filter(None, [self._at]), key]

    def _place(self, key: str) -> str:
        return ".".join(self._own(key))


def forms_of(rule: str, clause: Fields) -> Mapping[str, Form]:
    """Form by place of every field that a clause of this rule has or may have.

    The other reading of what is left open has its places under ``left-open``.
    """
    found = _heard(rule, clause).forms
    open_ = clause.values.get(OPEN)
    if isinstance(open_, Fields):
        other = Fields(clause.values | open_.values, clause.lines | open_.lines, open_.line)
        theirs = _heard(rule, other).forms.items()
        first = {place: form for place, form in theirs if place.partition(".")[0] in open_.values}
        found |= {f"{OPEN}.{place}": form for place, form in first.items()} | {f"{OPEN}.question": Form(TEXT)}
    return found | {"title": Form(TEXT)}


def instead_of(place: str, known: Iterable[str]) -> tuple[str, ...]:
    """The fields that may be said instead of one, itself among them; nothing where there are none."""
    return next((group for group in INSTEAD if place in group and set(group) <= {*known}), ())


def _heard(rule: str, clause: Fields) -> _Heard:
    """What the reader asks of the clause, of fields that could be there, and of those instead."""
    reader = READERS.get(rule)
    if reader is None:
        return _Heard({}, {})
    heard = _Heard({}, {})
    tuple(reader(_Asked(clause, heard), ""))
    groups = [group for group in (*INSTEAD, *_SETTLED) if {*group} <= {*heard.asked.get("", ())}]
    one_of = set(chain.from_iterable(groups))
    absent = {
        ".".join(filter(None, [at, key])) for at, keys in heard.asked.items() for key in keys
    } - heard.forms.keys()
    heard.pretended = frozenset(absent - one_of)
    tuple(reader(_Asked(clause, heard), ""))
    for group in groups:
        for name in group if group in INSTEAD else ():
            _hear_instead(reader, clause, group, name, heard)
    return heard


def _hear_instead(
    reader: Callable[[Record, str], Iterable[object]],
    clause: Fields,
    group: tuple[str, ...],
    name: str,
    heard: _Heard,
) -> None:
    without: dict[str, Tree] = {key: said for key, said in clause.values.items() if key not in group}
    tuple(reader(_Asked(Fields(without, {}, clause.line), replace(heard, pretended=frozenset({name}))), ""))


def leaves(tree: Tree, place: str = "") -> dict[str, str | tuple[str, ...]]:
    """Every text and list of texts in a tree by its place, as `reviewer.rules.splicing.put` takes places.

    What lies in a list of mappings without codes has no such place and is left out.
    """
    if isinstance(tree, Text):
        return {place: tree.value}
    if isinstance(tree, Items):
        texts = [one.value for one in tree.values if isinstance(one, Text)]
        if len(texts) == len(tree.values):
            return {place: tuple(texts)}
        inner = {_code(one): one for one in tree.values if _code(one)}
    else:
        inner = dict(tree.values)
    found: dict[str, str | tuple[str, ...]] = {}
    for name, value in inner.items():
        found |= leaves(value, f"{place}.{name}" if place else name)
    return found


def _code(tree: Tree) -> str:
    found = tree.values.get("code") if isinstance(tree, Fields) else None
    return found.value if isinstance(found, Text) else ""
