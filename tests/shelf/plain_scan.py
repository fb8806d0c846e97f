"""The same search without an index: every case opened, every mark held against what is wanted.

Written from what `Wanted` promises and from a case's sheet, not from the shelf.
"""

import re
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from reviewer import actions
from reviewer.actions import Audit
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark
from reviewer.terms.shelving import Wanted
from reviewer.words import saying


@dataclass(frozen=True)
class Seen:
    """One mark of one case, as a reader with the case open sees it."""

    path: str
    place: int
    day: str
    edition: str
    division: str
    mark: Mark
    name: str
    on_code: str
    on_name: str
    clauses: frozenset[str]
    amount: Points | None
    verdict: str | None
    settled: bool
    words: frozenset[str]

    @property
    def key(self) -> tuple[str, str]:
        """Case and mark."""
        return self.path, self.mark.id


def everything(folder: Path) -> tuple[Seen, ...]:
    """Every mark of every case, in no order."""
    found: list[Seen] = []
    for path in folder.rglob("*.case"):
        with actions.open_case(path, author=None) as audit:
            found += _of(audit, path.relative_to(folder).as_posix())
    return tuple(found)


def scan(seen: tuple[Seen, ...], wanted: Wanted) -> list[tuple[str, str]]:
    """Case and mark of all that fits: the newest case first, each in routine order."""
    fitting = [one for one in seen if all(_fits(one, wanted))]
    by_place = sorted(fitting, key=lambda one: (one.path, one.place))
    return [one.key for one in sorted(by_place, key=lambda one: one.day, reverse=True)]


def _fits(one: Seen, wanted: Wanted) -> Iterator[bool]:
    mark = one.mark
    if wanted.fault:
        yield mark.kind == "fault" and _named(wanted.fault, mark.code, one.name)
        yield not wanted.element or _named(wanted.element, one.on_code, one.on_name)
    elif wanted.element:
        yield mark.kind == "element" and _named(wanted.element, mark.code, one.name)
    yield not wanted.clause or _named(wanted.clause, *one.clauses)
    if wanted.amount is not None:
        low, high = wanted.amount
        yield one.amount is not None and low <= one.amount <= high
    if wanted.angle is not None:
        value = mark.angle.value if mark.kind == "element" and mark.angle else None
        yield value is not None and wanted.angle[0] <= value <= wanted.angle[1]
    yield not wanted.verdict or one.verdict == wanted.verdict
    yield wanted.settled is None or one.settled == wanted.settled
    yield not wanted.edition or _named(wanted.edition, one.edition)
    yield not wanted.division or _named(wanted.division, one.division)
    yield (wanted.since or one.day) <= one.day <= (wanted.until or one.day)
    for typed in _words(wanted.words):
        yield any(word.startswith(typed) for word in one.words)


def _named(pattern: str, *names: str) -> bool:
    wanted = ".*".join(map(re.escape, pattern.lower().split("*")))
    return any(re.fullmatch(wanted, name.lower()) for name in names)


def _words(text: str) -> set[str]:
    return set(re.findall(r"[^\W_]+", text.lower()))


def _of(audit: Audit, path: str) -> Iterator[Seen]:
    book, sheet, day = audit.book, audit.sheet, audit.case.events[0].at[:10]
    casts = {one.mark: one for one in sheet.casts}
    for place, mark in enumerate(audit.marks):
        own, on = (
            book.named(mark.kind, mark.code),
            next((m for m in audit.marks if m.id == mark.element), None),
        )
        on_own = book.element(on.code) if on else None
        citing = [*sheet.lines, *sheet.not_earned, *sheet.not_taken]
        clauses = {one.clause for one in citing if mark.id in one.marks} | ({own.clause} if own else set())
        lines = [-one.points for one in sheet.lines if mark.id in one.marks and one.points < Points(0)]
        amount = mark.amount if mark.kind == "fault" else max(lines, default=None)
        verdict = _verdict(casts[mark.id].left_open) if mark.id in casts else None
        several = [one for one in book.fault(mark.code).amounts if one] if mark.kind == "fault" else []
        flat = mark.kind == "fault" and book.fault(mark.code).flat
        open_amount = len(several) > 1 and mark.arguable and not flat
        name, on_name = own.name if own else mark.code, on_own.name if on_own else ""
        said = [one.name for one in book.conditions if one.code in mark.conditions]
        plain = [name, on_name, *said, *mark.roles, *mark.conditions, verdict or ""]
        told = [saying(language).word(word) for language in ("en", "de") for word in plain if word]
        codes = [mark.code, on.code if on else "", *clauses, mark.called or ""]
        settled = (
            not open_amount and verdict != "cannot tell" and mark.id not in {p.where for p in sheet.problems}
        )
        yield Seen(path, place, day, book.id, book.division, mark, name, on.code if on else "", on_name,
                   frozenset(clauses), amount, verdict, settled,
                   frozenset(_words(" ".join([*told, *codes]))))  # fmt: skip


def _verdict(left_open: tuple[str, ...]) -> str:
    if len(left_open) > 1:
        return "cannot tell"
    return {"within": "within tolerance", "short": "not met"}.get(left_open[0], left_open[0])
