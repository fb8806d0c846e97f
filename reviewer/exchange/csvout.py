"""Tables that others open in a spreadsheet: text cells cannot become formulas, numbers stay numbers."""

import csv
import io
from collections.abc import Iterable, Sequence

from reviewer.exchange.wording import plain
from reviewer.terms.exact import Thousandths

Cell = str | int | Thousandths | None
"""Text, a whole number, an exact quantity, or nothing."""

_BEGINNINGS = "=+-@\t\r\n＝＋－＠"
"""What a spreadsheet may take for the beginning of a formula (common practice, no source)."""


def table(columns: Sequence[str], rows: Iterable[Sequence[Cell]]) -> bytes:
    """A CSV file in UTF-8 (RFC 4180), its first row the columns."""
    written = io.StringIO(newline="")
    writer = csv.writer(written, lineterminator="\r\n")
    writer.writerow(columns)
    writer.writerows([_cell(one) for one in row] for row in rows)
    return written.getvalue().encode()


def _cell(value: Cell) -> str:
    if value is None:
        return ""
    return guarded(value) if isinstance(value, str) else str(value)


def guarded(text: str) -> str:
    """Text in one line, with an apostrophe before what might be a formula."""
    begins = text.lstrip(" ")[:1]
    return f"'{plain(text)}" if begins and begins in _BEGINNINGS else plain(text)
