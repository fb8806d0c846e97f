"""One mapping of a rule-book file, read field by field; what is wrong is noted and reading goes on."""

import re
from collections.abc import Callable
from datetime import date
from typing import TypeVar

from reviewer.rules.tree import Fields, Items, Text, Tree
from reviewer.terms.exact import Degrees, Points, Thousandths
from reviewer.terms.measures import Measure
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.problems import Problem
from reviewer.terms.rulebook import Source

_Kind = TypeVar("_Kind", bound=Thousandths)
_CODE = re.compile(r"[a-z0-9]+(?:[-.][a-z0-9]+)*")
_MOST_POINTS = Points.parse("10")
_MOST_DEGREES = Degrees.parse("180")
_NO_CODE = noted("{key}: {shown} is not a code.")
_UNKNOWN = noted("{key}: {shown} is not known here.")
_NO_NUMBER = noted("{key}: {shown} is not a whole number with its unit.")
_NO_MEASURE = noted("{key}: {shown} is not a measure with its unit.")
_NO_DATE = noted("{key}: {shown} is not a date.")
_NO_POINTS = noted("{key}: {shown} is not an amount in points.")
_NO_DEGREES = noted("{key}: {shown} is not an amount in degrees.")
_NO_SOURCE = noted("{key}: {shown} is not a source.")
_SOURCES = message("Write 'published: document and place', 'common practice, no source' or 'from memory'.")


class Record:
    """A mapping being read.

    Attributes:
        name: the file's name.
        fields: the mapping.
        problems: what was wrong so far, shared by the whole file.
    """

    def __init__(self, name: str, fields: Fields, problems: list[Problem]) -> None:
        self.name = name
        self.fields = fields
        self.problems = problems
        self._asked: set[str] = set()

    def wrong(self, code: str, said: Message, remedy: Message, line: int | None = None) -> None:
        """Note a problem at a line, or where the mapping begins."""
        where = f"{self.name}:{line or self.fields.line}"
        self.problems.append(Problem(code, where, said, remedy))

    def has(self, key: str) -> bool:
        """Whether the field stands in the file; it counts as known from here on."""
        self._asked.add(key)
        return key in self.fields.values

    def line(self, key: str) -> int:
        """The line of a field, or where the mapping begins."""
        return self.fields.lines.get(key, self.fields.line)

    def text(self, key: str) -> str:
        """Text that must be there and not be blank; empty when it is not, and noted."""
        found = self._get(key)
        if found is None:
            return ""
        if not isinstance(found, Text) or not found.value.strip():
            self.wrong(
                "no-text",
                message("{key} must be text.", key=repr(key)),
                message("Write text after {key}.", key=repr(key)),
                self.line(key),
            )
            return ""
        return found.value.strip()

    def code(self, key: str) -> str:
        """A code such as ``glide-kip``."""
        text = self.text(key)
        if text and not _CODE.fullmatch(text):
            self._bad(key, text, _NO_CODE, message("Write small letters, digits, '-' and '.'."))
        return text

    def choice(self, key: str, allowed: tuple[str, ...]) -> str:
        """One of a closed list; its first where the text is none of them, and noted."""
        text = self.text(key)
        if text and text not in allowed:
            self._bad(key, text, _UNKNOWN, message("Write one of {words}.", words=", ".join(allowed)))
        return text if text in allowed else allowed[0]

    def texts(self, key: str, needed: bool = True) -> tuple[str, ...]:
        """A list of text; empty when it may be left out."""
        if not needed and not self.has(key):
            return ()
        found = self._get(key)
        if isinstance(found, Items) and all(isinstance(item, Text) for item in found.values):
            return tuple(item.value.strip() for item in found.values if isinstance(item, Text))
        if found is not None:
            self.wrong(
                "no-list",
                message("{key} must be a list of text.", key=repr(key)),
                message("Write [one, two]."),
                self.line(key),
            )
        return ()

    def records(self, key: str) -> "tuple[Record, ...]":
        """A list of mappings."""
        found = self._get(key)
        if isinstance(found, Items):
            return tuple(record for item in found.values if (record := self._record(key, item)))
        if found is not None:
            self.wrong(
                "no-list",
                message("{key} must be a list.", key=repr(key)),
                message("Begin each entry with '- '."),
                self.line(key),
            )
        return ()

    def names(self, key: str) -> tuple[tuple[str, str], ...]:
        """A mapping of codes to names."""
        found = self._get(key)
        if not isinstance(found, Fields):
            if found is not None:
                self.wrong(
                    "no-names",
                    message("{key} must map codes to names.", key=repr(key)),
                    message("Write code: name."),
                    self.line(key),
                )
            return ()
        inner = self.within(key, found, self.problems)
        return tuple((code, inner.text(code)) for code in found.values)

    def points(self, key: str) -> Points:
        """An amount such as ``0.100 points``: not negative, at most 10."""
        return self._quantity(key, "points", Points, Points(0), _MOST_POINTS)

    def degrees(self, key: str) -> Degrees:
        """An angle such as ``-45 degrees``."""
        return self._quantity(key, "degrees", Degrees, -_MOST_DEGREES, _MOST_DEGREES)

    def number(self, key: str, unit: str) -> int:
        """A whole number with its unit, such as ``5 elements``, from 1 to 9999."""
        text = self.text(key)
        found = re.fullmatch(r"([1-9]\d{0,3}) (\S.*)", text)
        if found and found[2] == unit:
            return int(found[1])
        if text:
            self._bad(key, text, _NO_NUMBER, message("Write such as '2 {unit}'.", unit=unit))
        return 1

    def measure(self, key: str, read: Callable[[str], Measure], such_as: str) -> Measure:
        """A length or a time in the unit the rule states, such as ``9 in``."""
        text = self.text(key)
        try:
            return read(text) if text else read(such_as)
        except ValueError:
            self._bad(key, text, _NO_MEASURE, message("Write such as '{example}'.", example=such_as))
            return read(such_as)

    def flag(self, key: str, yes: str, no: str) -> bool:
        """Which of two words stands there; the first where it is neither, and noted."""
        return self.choice(key, (yes, no)) == yes

    def codes(self, key: str, needed: bool = True) -> tuple[str, ...]:
        """A list of codes, none of them twice."""
        found = self.texts(key, needed)
        for code in {one for one in found if found.count(one) > 1}:
            self.wrong(
                "given-twice",
                message("{key} names {code} twice.", key=repr(key), code=repr(code)),
                message("Name it once."),
                self.line(key),
            )
        return tuple(dict.fromkeys(found))

    def inner(self, key: str) -> "Record":
        """A mapping inside this one; an empty one where there is none, and noted."""
        found = self._get(key)
        if isinstance(found, Fields):
            return self.within(key, found, self.problems)
        if found is not None:
            self.wrong(
                "no-fields",
                message("{key} must have fields.", key=repr(key)),
                message("Write {{field: value}}."),
                self.line(key),
            )
        return self.within(key, Fields({}, {}, self.line(key)), [])

    def several(self, key: str) -> "tuple[Points, ...]":
        """A list of amounts, rising."""
        found = []
        for text in self.texts(key):
            alone = Record(
                self.name, Fields({key: Text(text, self.line(key))}, {}, self.line(key)), self.problems
            )
            found.append(alone.points(key))
        if list(found) != sorted(set(found)):
            self.wrong(
                "not-rising",
                message("{key} must rise.", key=repr(key)),
                message("Write the smallest amount first."),
                self.line(key),
            )
        return tuple(found)

    def day(self, key: str) -> str:
        """A date ``YYYY-MM-DD``."""
        text = self.text(key)
        try:
            return date.fromisoformat(text).isoformat() if text else ""
        except ValueError:
            self._bad(key, text, _NO_DATE, message("Write YYYY-MM-DD."))
            return ""

    def source(self) -> Source:
        """The field ``source``."""
        text = self.text("source")
        try:
            return Source.parse(text) if text else Source("from memory")
        except ValueError:
            self._bad("source", text, _NO_SOURCE, _SOURCES)
            return Source("from memory")

    def within(self, key: str, fields: Fields, problems: list[Problem]) -> "Record":
        """A mapping that lies in this one under a field, read alike."""
        return Record(self.name, fields, problems)

    def finish(self) -> None:
        """Note every field nobody asked for: a slip of the pen must not pass unread."""
        for key in self.fields.values:
            if key not in self._asked:
                self.wrong(
                    "unknown-field",
                    message("{key} is not a field here.", key=repr(key)),
                    message("Take it out."),
                    self.line(key),
                )

    def _get(self, key: str) -> Tree | None:
        if not self.has(key):
            what = message("{key} is missing.", key=repr(key))
            self.wrong(
                f"missing-{key}" if key == "source" else "missing-field",
                what,
                message("Add {key}.", key=repr(key)),
            )
        return self.fields.values.get(key)

    def _record(self, key: str, item: Tree) -> "Record | None":
        if isinstance(item, Fields):
            return self.within(key, item, self.problems)
        self.wrong(
            "no-fields",
            message("This entry must have fields."),
            message("Write 'field: value' lines."),
            item.line,
        )
        return None

    def _quantity(self, key: str, unit: str, kind: type[_Kind], low: _Kind, high: _Kind) -> _Kind:
        text = self.text(key)
        number, _, said = text.partition(" ")
        try:
            value: _Kind | None = kind.parse(number)
        except ValueError:
            value = None
        if value is not None and said == unit and low <= value <= high:
            return value
        if text:
            said = _NO_POINTS if unit == "points" else _NO_DEGREES
            wanted = message(
                "Write between '{low}' and '{high}', such as '{example}'.",
                low=f"{low} {unit}",
                high=f"{high} {unit}",
                example=f"{high} {unit}",
            )
            self._bad(key, text, said, wanted)
        return kind(0)

    def _bad(self, key: str, text: str, said: str, wanted: Message) -> None:
        shown = text if len(text) <= 60 else text[:57] + "..."
        self.wrong("bad-value", message(said, key=repr(key), shown=repr(shown)), wanted, self.line(key))
