"""Charts of many routines: names that are long leave the chart readable, and nobody is warned."""

import warnings

from reviewer.drawing import Series, values_chart
from reviewer.drawing.charts import LETTERS, LINES
from reviewer.words import saying

LONG = "The best cast lies within the tolerance below the limit, 45 degrees below horizontal"


def chart(*names: str) -> str:
    series = [Series(name, (0.1, 0.0, 0.3)) for name in names]
    return values_chart("kinds", series, "Routine", "Points", saying("en"))


def test_five_long_names_of_faults_leave_room_for_the_lines() -> None:
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        drawn = chart(*(f"{at} {LONG}" for at in range(5)))
    assert drawn == chart(*(f"{at} {LONG}" for at in range(5)))
    assert len(LONG) > LETTERS * LINES
