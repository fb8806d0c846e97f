"""What is measured. Each row is a module whose ``figures(setting, about)`` yields its figures."""

from collections.abc import Iterator
from dataclasses import dataclass

from tests.benchmarks.clips import CHOSEN, EVERY

LARGE = ("1080p60", "2160p60")
EDITIONS = ("demo-bars-2", "international-bars")


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of measurement.

    Attributes:
        says: what is measured, for the command's help.
        about: what it is measured on, one after the other; empty for the table of formats.
        limit: seconds after which a measurement is given up.
        recorded: whether these are labels of large recordings; else the row's module knows what they are.
    """

    says: str
    about: tuple[str, ...]
    limit: int
    recorded: bool = True


ROWS = {
    "exact": Row("share of exact frames, format by format", (), 120),
    "sequential": Row("decoding every frame", LARGE, 900),
    "random_access": Row("decoding any frame", (*LARGE, "1080p60-ts"), 900),
    "indexing": Row("listing the frames", (*LARGE, "1080p60-ts"), 300),
    "background": Row("making the small pictures", LARGE, 900),
    "painting": Row("from a decoded frame to the screen", LARGE, 300),
    "stepping": Row("stepping backward, inside a group and across its border", LARGE, 900),
    "dragging": Row("dragging along the routine strip", LARGE, 900),
    "memory": Row("growth of resident memory", LARGE, 900),
    "playing": Row("share of frames shown while playing", LARGE, 900),
    "starting": Row("from the command to the first picture", LARGE[:1], 600),
    "marking": Row("from a call to the repainted sheet, by edition", EDITIONS, 600, recorded=False),
    "protractor": Row("the protractor against known cameras", ("cameras",), 2400, recorded=False),
    "following": Row(
        "casts followed to their top on drawn films",
        ("near-the-top", "whole-casts", "effects", "cost"),
        2400,
        recorded=False,
    ),
    "bags": Row(
        "a bag derived again, and a case of many events opened", ("verify", "opening"), 600, recorded=False
    ),
    "shelf": Row("cases indexed and passages found", ("indexing", "searching"), 900, recorded=False),
    "comparing": Row(
        "sheets of ten judges on two hundred routines, by edition", EDITIONS, 300, recorded=False
    ),
    "clipping": Row("a clip of pictures that are drawn over", LARGE[:1], 900),
    "reporting": Row("a report of forty stills", LARGE[:1], 600),
    "covered_heads": Row(
        "heads left in exported clips, and stretches listed",
        ("square-on", "off-axis-fall"),
        1800,
        recorded=False,
    ),
    "meet": Row(
        "many routines after a meet", ("indexing", "scoring", "figures", "coverage"), 1800, recorded=False
    ),
    "scoring": Row("scoring routines, by edition of the rule book", EDITIONS, 300, recorded=False),
}


@dataclass(frozen=True, slots=True)
class Job:
    """One row on one recording; ``about`` its label, or the name of a recipe of the table of formats."""

    row: str
    about: str

    def __str__(self) -> str:
        return f"{self.row}/{self.about}"


def jobs(only: frozenset[str], formats: str | None) -> tuple[Job, ...]:
    """What to measure: all, or only the rows, or row/recording pairs, that are named; LookupError for others.

    ``formats``: ``every`` takes all recipes of the tests; ``few`` one recording a row, and a few formats.
    What is named as a pair is measured in any case.
    """
    unknown = only - {*ROWS, *(str(job) for row in ROWS for job in _jobs_of(row, "every"))}
    if unknown:
        raise LookupError(f"there is nothing to measure of this name: {', '.join(sorted(unknown))}")
    usual = [job for row in ROWS if not only or row in only for job in _jobs_of(row, formats)]
    named = [job for row in ROWS for job in _jobs_of(row, "every") if str(job) in only]
    return tuple(dict.fromkeys([*usual, *named]))


def _jobs_of(row: str, formats: str | None) -> Iterator[Job]:
    about = ROWS[row].about
    if about:
        listed = about[:1] if formats == "few" else about
    else:
        listed = {"every": EVERY, "few": CHOSEN[:4]}.get(formats or "", CHOSEN)
    return (Job(row, about) for about in listed)
