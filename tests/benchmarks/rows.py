"""What is measured. Each row is a module whose ``figures(setting, about)`` yields its figures."""

from collections.abc import Iterator
from dataclasses import dataclass

LARGE = ("1080p60", "2160p60")


@dataclass(frozen=True, slots=True)
class Row:
    """One kind of measurement.

    Attributes:
        says: what is measured, for the command's help.
        about: what it is measured on, one after the other; empty for the table of formats.
        limit: seconds after which a measurement is given up.
    """

    says: str
    about: tuple[str, ...]
    limit: int


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
}


@dataclass(frozen=True, slots=True)
class Job:
    """One row on one recording; ``about`` its label, or the name of a recipe of the table of formats."""

    row: str
    about: str

    def __str__(self) -> str:
        return f"{self.row}/{self.about}"


def jobs(only: frozenset[str], formats: str | None) -> Iterator[Job]:
    """What to measure: all, or only the rows, or row/recording pairs, that are named.

    ``formats``: ``every`` takes all recipes of the tests; ``few`` one recording a row, and a few formats.
    """
    for row in ROWS:
        listed = ROWS[row].about or _formats(formats)
        for place, about in enumerate(listed):
            job = Job(row, about)
            left_out = formats == "few" and place > 0 and ROWS[row].about
            if str(job) in only or ((not only or row in only) and not left_out):
                yield job


def _formats(formats: str | None) -> tuple[str, ...]:
    from tests.benchmarks.exact import CHOSEN, EVERY

    return {"every": EVERY, "few": CHOSEN[:4]}.get(formats or "", CHOSEN)
