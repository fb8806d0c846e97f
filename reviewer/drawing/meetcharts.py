"""Charts of a meet as SVG: how far scores lie apart, and figures with their intervals beneath each other."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from reviewer.drawing.charts import COLOURS, MARKERS, drawn
from reviewer.words import Saying

_A_ROW, _AROUND = 0.32, 1.1
"""Inches that a row takes, and that a chart takes around its rows."""
_WIDE = 7.0
COUNTS_HEIGHT = 245
"""Points that a chart of counts is high."""
_MOST_TICKS = 9


@dataclass(frozen=True, slots=True)
class Span:
    """A figure with its interval: what it is called, its value, both ends; None where it has none."""

    name: str
    value: float
    interval: tuple[float, float] | None


def spans_height(rows: int) -> float:
    """Inches of a chart of so many rows."""
    return _AROUND + _A_ROW * rows


def spans_chart(name: str, spans: Sequence[Span], across: str, say: Saying, zero: bool = True) -> str:
    """Figures with their intervals of 95 %, the first on top; ``zero``: a line where nothing is."""
    size = (_WIDE, spans_height(len(spans)))
    with drawn(name, across, "", say, size=size, level=True) as (axes, out):
        for place, one in enumerate(spans):
            low, high = one.interval or (one.value, one.value)
            axes.plot([low, high], [place, place], color=COLOURS[0], linewidth=1.6, solid_capstyle="butt")
            face = COLOURS[0] if one.interval else "#ffffff"
            axes.plot([one.value], [place], MARKERS[0], color=COLOURS[0], markerfacecolor=face)
        axes.set_yticks(range(len(spans)), [one.name for one in spans])
        axes.set_ylim(len(spans) - 0.5, -0.5)
        if zero:
            axes.axvline(0, color="#000000", linewidth=1.0, linestyle=(0, (6, 4)))
    return out[0]


def counts_chart(name: str, counts: Mapping[int, int], width: int, across: str, up: str, say: Saying) -> str:
    """How many lie where: counts by the middle of their class, all so many thousandths wide."""
    with drawn(name, across, up, say) as (axes, out):
        places = sorted(counts)
        axes.bar(
            [place / 1000 for place in places],
            [counts[place] for place in places],
            width=0.9 * width / 1000,
            color=COLOURS[0],
        )
        axes.axvline(0, color="#000000", linewidth=1.0, linestyle=(0, (6, 4)))
        most = max(counts.values(), default=1)
        axes.set_yticks(range(0, most + 1, max(1, most // _MOST_TICKS)))
    return out[0]
