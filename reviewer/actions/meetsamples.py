"""Which routines of a meet to audit: how many, and which by lot, with a seed that anybody can draw again."""

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

from reviewer.auditing import lots, samplesizes
from reviewer.exchange.tables import Table, TableRow, read_table
from reviewer.terms.messages import Message, message, noted
from reviewer.terms.problems import DocumentError, Problem

_Document = dict[str, Any]
START = "start"
"""The column that names a routine."""
_HUNDRED = 100

_OF_A_HALF = noted(
    "Worked out for a share of one half, of which it takes the most; of any other the interval is narrower."
)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a sample shall tell, in hundredths: a share to within ``within``, or that faults are rarer than
    ``rarer_than``; with this confidence, of ``population`` routines or of no end of them."""

    confidence: int
    within: int | None = None
    rarer_than: int | None = None
    population: int | None = None


def sample_size(wanted: Wanted) -> _Document:
    """``reviewer.sample-size/1``: how many routines to audit, and what that means in words."""
    confidence = Fraction(wanted.confidence, _HUNDRED)
    try:
        number, says, why = _number(wanted, confidence)
    except ValueError:
        said = message("Nothing can be worked out from these figures.")
        remedy = message("Give percentages between 0 and 100, and a number of routines above 0.")
        raise DocumentError(Problem("no-size", "size", said, remedy)) from None
    return {
        "format": "reviewer.sample-size/1",
        "number": number,
        "of": wanted.population,
        "confidence_percent": wanted.confidence,
        "says": says.words(),
        "why": why.words(),
    }


def _number(wanted: Wanted, confidence: Fraction) -> tuple[int, Message, Message]:
    """How many, what that says, and how it comes about."""
    if wanted.within is not None:
        half = Fraction(wanted.within, _HUNDRED)
        number = samplesizes.for_share(half, confidence, wanted.population)
        says = message(
            "A sample of {number} tells any share to within {within} points of a hundred to either side, "
            "with {confidence} % confidence.",
            number=number,
            within=wanted.within,
            confidence=wanted.confidence,
        )
        return number, says, message(_OF_A_HALF)
    rare = Fraction(wanted.rarer_than or 0, _HUNDRED)
    if wanted.population is None:
        number = samplesizes.to_find_share(rare, confidence)
        left, many = (1 - rare) ** number, message("{rare} %", rare=wanted.rarer_than)
    else:
        faulty = max(1, -(-wanted.population * rare.numerator // rare.denominator))
        number = samplesizes.to_find(faulty, confidence, wanted.population)
        left = samplesizes.none_found(number, faulty, wanted.population)
        many = message("{faulty} of the {of}", faulty=faulty, of=wanted.population)
    says = message(
        "If none of {number} routines has the fault, fewer than {rare} % of all have it, with {confidence} % "
        "confidence.",
        number=number,
        rare=wanted.rarer_than,
        confidence=wanted.confidence,
    )
    why = message(
        "Were {many} faulty, a lot of {number} would hold none of them {chance} times in a hundred.",
        many=many,
        number=number,
        chance=f"{float(100 * left):.1f}",
    )
    return number, says, why


def draw_sample(path: Path, number: int, seed: str, by: str | None = None) -> _Document:
    """``reviewer.sample/1`` of a table's routines; ``by``: a column whose values are strata.

    A DocumentError names every fault of the table by its line.
    """
    table, seed = read_table(path), seeded(seed)
    starts = _starts(table)
    try:
        if by is None:
            drawn = lots.simple(list(starts), number, seed)
        else:
            drawn = lots.stratified(_strata(table, starts, by), number, seed)
    except ValueError:
        said = message(
            "A sample of {number} cannot be drawn from {count} routines.", number=number, count=len(starts)
        )
        raise DocumentError(Problem("no-sample", table.name, said, message("Ask for fewer."))) from None
    return {
        "format": "reviewer.sample/1",
        "seed": seed,
        "by": by,
        "of": len(starts),
        "drawn": [{"start": name, "line": starts[name].line, "lot": lots.lot(seed, name)} for name in drawn],
    }


def seeded(seed: str) -> str:
    """A seed without blanks around it, which nobody sees; a DocumentError where nothing is left."""
    if seed.strip():
        return seed.strip()
    said = message("The seed is blank.")
    remedy = message("Choose words or digits before anybody looks, such as the day of the meet.")
    raise DocumentError(Problem("no-seed", "--seed", said, remedy))


def _starts(table: Table) -> dict[str, TableRow]:
    """The routines by name; a DocumentError where one has none, or stands twice."""
    problems = list(table.problems)
    if START not in table.columns:
        said = message("The column {name} is missing.", name=START)
        where = f"{table.name}:{table.line}"
        raise DocumentError(
            [*problems, Problem("missing-column", where, said, message("Add it to the header."))]
        )
    found: dict[str, TableRow] = {}
    for row in table.rows:
        name, where = _cell(table, row, START), f"{table.name}:{row.line}"
        if not name:
            problems.append(
                Problem("no-start", where, message("This row names no start."), message("Name it."))
            )
        elif name in found:
            said = message("Start {name} stands in line {line} too.", name=name, line=found[name].line)
            problems.append(Problem("start-twice", where, said, message("Keep one row for each routine.")))
        else:
            found[name] = row
    if problems:
        raise DocumentError(problems)
    return found


def _strata(table: Table, starts: dict[str, TableRow], by: str) -> dict[str, Sequence[str]]:
    column = by.strip().casefold()
    if column not in table.columns:
        said = message("The column {name} is missing.", name=by)
        remedy = message("Name one of: {columns}.", columns=", ".join(table.columns))
        raise DocumentError(Problem("missing-column", f"{table.name}:{table.line}", said, remedy))
    strata: dict[str, list[str]] = {}
    for name, row in starts.items():
        strata.setdefault(_cell(table, row, column), []).append(name)
    return {name: tuple(members) for name, members in strata.items()}


def _cell(table: Table, row: TableRow, column: str) -> str:
    place = table.columns[column]
    return row.cells[place].strip() if place < len(row.cells) else ""
