"""What a panel posted, read from a table: a row for each judge, or a row for each written deduction."""

from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from reviewer.actions.audit import Audit
from reviewer.actions.panelposted import strange
from reviewer.actions.panels import no_scores
from reviewer.exchange.tables import Table, TableRow, read_table
from reviewer.terms.codes import no_code
from reviewer.terms.exact import Points
from reviewer.terms.messages import Message, message
from reviewer.terms.posted import PostedSheet, WrittenDeduction
from reviewer.terms.problems import DocumentError, Problem


def read_posted(audit: Audit, path: Path) -> PostedSheet:
    """The part of a posted sheet that a table holds; a DocumentError names every fault by line and column.

    Columns judge, score, start_value, neutral, average and final; or judge, element, code and amount. Others
    are not looked at. A figure may stand in any row, and in several if it is the same.
    """
    reading = _Reading(read_table(path), audit)
    written = {"code", "amount"} & set(reading.table.columns)
    sheet = reading.deductions() if written else reading.scores()
    problems = [*reading.table.problems, *reading.problems]
    if problems:
        raise DocumentError(problems)
    return sheet


@dataclass
class _Reading:
    table: Table
    audit: Audit
    problems: list[Problem] = field(default_factory=list)

    def scores(self) -> PostedSheet:
        """The judges' scores and the figures beside them."""
        self._needs("judge", "score")
        judges = tuple(self._judges())
        start, neutral, average, final = map(self._figure, ("start_value", "neutral", "average", "final"))
        return PostedSheet(start, judges, neutral, average, final)

    def deductions(self) -> PostedSheet:
        """What the judges wrote down."""
        self._needs("judge", "code", "amount")
        return PostedSheet(deductions=tuple(self._written()))

    def _needs(self, *columns: str) -> None:
        for name in columns:
            if name not in self.table.columns:
                where, remedy = f"{self.table.name}:{self.table.line}", message("Add it to the header.")
                said = message("The column {name} is missing.", name=name)
                self.problems.append(Problem("missing-column", where, said, remedy))

    def _judges(self) -> Iterator[tuple[str, Points]]:
        seen: set[str] = set()
        for row in self.table.rows:
            judge, score = self._cell(row, "judge"), self._cell(row, "score")
            if not judge and not score:
                continue  # a row of figures alone
            lettered, points = self._lettered(row), self._points(row, "score")
            if lettered and judge in seen:
                self._wrong(
                    row,
                    "judge",
                    "judge-twice",
                    message("Judge {judge} stands twice.", judge=judge),
                    message("Keep one row each."),
                )
            seen.add(judge)
            if lettered and points is not None:
                for one in no_scores({judge: points}, self.audit.book):
                    self._wrong(row, "score", one.code, one.message, one.remedy)
                yield judge, points

    def _written(self) -> Iterator[WrittenDeduction]:
        for row in self.table.rows:
            code, amount = self._cell(row, "code"), self._points(row, "amount")
            if not code:
                remedy = message("Name the fault by its code in the rule book.")
                self._wrong(row, "code", "no-code", message("No fault is named."), remedy)
            elif self._lettered(row) and amount is not None:
                element = self._cell(row, "element") or None
                one = WrittenDeduction(self._cell(row, "judge"), element, code, amount)
                for problem in strange(one, self.audit):
                    self._wrong(row, *problem)
                yield one

    def _figure(self, name: str) -> Points | None:
        found: Points | None = None
        for row in self.table.rows if name in self.table.columns else ():
            points = self._points(row, name) if self._cell(row, name) else None
            if points is not None and found is not None and points != found:
                said = message(
                    "{column} is {points} here and {found} before.", column=name, points=points, found=found
                )
                self._wrong(
                    row, name, "two-values", said, message("One panel posts one; keep the right one.")
                )
            found = points if found is None else found
        return found

    def _lettered(self, row: TableRow) -> bool:
        problem = no_code(self._cell(row, "judge"), self.table.name)
        if problem is not None:
            self._wrong(row, "judge", problem.code, problem.message, problem.remedy)
        return problem is None

    def _cell(self, row: TableRow, column: str) -> str:
        place = self.table.columns.get(column, len(row.cells))
        return row.cells[place].strip() if place < len(row.cells) else ""

    def _points(self, row: TableRow, column: str) -> Points | None:
        text = self._cell(row, column)
        try:
            found = Points.parse(text.replace(",", ".") if self.table.comma else text)
        except ValueError:
            found = None
        if found is None or found < Points(0):
            said = (
                message("{column} is {text}.", column=column, text=repr(text[:40]))
                if text
                else message("{column} is blank.", column=column)
            )
            remedy = message(
                "Write a decimal number, not below nought and with at most three places, such as 8.900."
            )
            self._wrong(row, column, "bad-value", said, remedy)
            return None
        return found

    def _wrong(self, row: TableRow, column: str, code: str, said: Message, remedy: Message) -> None:
        if column in self.table.columns:
            where = f"{self.table.name}:{row.line}: {column}"
            self.problems.append(Problem(code, where, said, remedy))
