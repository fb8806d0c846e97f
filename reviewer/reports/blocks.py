"""What a report is made of: sections of blocks, said once and set twice, as HTML and on paper."""

from collections.abc import Iterable
from dataclasses import dataclass
from typing import Literal, TypeAlias

Style: TypeAlias = Literal["plain", "strong", "soft", "code"]


@dataclass(frozen=True, slots=True)
class Run:
    """Words of one kind. ``to``: the anchor they lead to."""

    text: str
    style: Style = "plain"
    to: str | None = None


Words: TypeAlias = tuple[Run, ...]


def words(*parts: "str | Run | Words") -> Words:
    """Runs from text, runs and runs of runs, one after the other."""
    found: list[Run] = []
    for part in parts:
        if isinstance(part, tuple):
            found.extend(part)
        else:
            found.append(Run(part) if isinstance(part, str) else part)
    return tuple(found)


def joined(parts: Iterable["str | Run | Words"], by: str = ", ") -> Words:
    """Runs with something between them."""
    found: list[Run] = []
    for part in parts:
        found.extend(words(by, part) if found else words(part))
    return tuple(found)


@dataclass(frozen=True, slots=True)
class Paragraph:
    """A paragraph. ``warns``: it is something to be careful about; ``anchor``: what links lead to."""

    words: Words
    warns: bool = False
    anchor: str | None = None


@dataclass(frozen=True, slots=True)
class Listed:
    """A list in no order."""

    points: tuple[Words, ...]
    warns: bool = False


@dataclass(frozen=True, slots=True)
class Amounts:
    """A few numbers that are the answer, the first of them the largest: pairs of name and number."""

    amounts: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One row of a table. ``total``: it sums up what stands above."""

    cells: tuple[Words, ...]
    anchor: str | None = None
    total: bool = False


@dataclass(frozen=True, slots=True)
class Column:
    """A column. ``number``: its figures stand under each other; ``share``: of the width, on paper."""

    name: str
    share: int = 1
    number: bool = False


@dataclass(frozen=True, slots=True)
class Table:
    """A table. ``caption``: what it shows; ``narrow``: its columns stand near each other."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    narrow: bool = False


@dataclass(frozen=True, slots=True)
class Figure:
    """A picture with what is drawn over it.

    Attributes:
        anchor: what links lead to.
        look: how large it is shown: ``still``, ``residuals`` or ``curve``.
        part: left, top, width and height of what is shown, in px of the still.
        still: id of the still beneath, or None for a drawing alone.
        shapes: SVG over that part, made by ``drawing``; empty for nothing.
        alt: what is to be seen, for those who do not see it.
        caption: beneath.
    """

    anchor: str
    look: Literal["still", "residuals", "curve"]
    part: tuple[int, int, int, int]
    still: str | None
    shapes: str
    alt: str
    caption: Words


@dataclass(frozen=True, slots=True)
class Film:
    """A clip that lies in a file beside the page; paper has none.

    Attributes:
        file: where it lies, from the page on.
        label: what is to be seen, for those who do not see it.
        caption: beneath.
    """

    file: str
    label: str
    caption: Words


@dataclass(frozen=True, slots=True)
class Signed:
    """A place to sign: what stands beneath each line."""

    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Beside:
    """A table and a figure that stand beside each other where there is room."""

    parts: tuple[Table, Figure]


Block: TypeAlias = Paragraph | Listed | Amounts | Table | Figure | Film | Signed | Beside


@dataclass(frozen=True, slots=True)
class Section:
    """A heading and what stands beneath it."""

    anchor: str
    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A whole report in one language.

    Attributes:
        language: its tag.
        title: what it is.
        headline: what it came to, in short.
        notice: what is to be known of the language itself, or empty.
        opening: what stands before all sections.
        sections: the rest.
    """

    language: str
    title: str
    headline: str
    notice: str
    opening: tuple[Block, ...]
    sections: tuple[Section, ...]
