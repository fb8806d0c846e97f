"""Charts of many routines as SVG, by Matplotlib: the same text each time with one version of it.

Letters are outlines of the font that Matplotlib brings along, so a chart looks alike on every machine. Series
differ by marker and by their name at the end, never by colour alone; colours are of the Okabe-Ito palette.
"""

import re
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass
from importlib.metadata import version
from io import StringIO
from textwrap import wrap
from typing import TYPE_CHECKING

from reviewer.words import Saying

if TYPE_CHECKING:
    from matplotlib.axes import Axes

SIZE = (7.0, 3.4)
"""Inches; a chart is 504 by 244.8 points."""
COLOURS = ("#0072B2", "#D55E00", "#009E73", "#CC79A7", "#000000", "#56B4E9")
MARKERS = ("o", "s", "^", "D", "v", "P")
LETTERS, LINES = 26, 3
"""Room for the name of a series beside a chart; tables beneath it have the whole."""
_NAME = re.compile(r'(id="|"#|url\(#)')
_OWN_SIZE = re.compile(r' (?:width|height)="[0-9.]+pt"')


def drawn_by() -> str:
    """What draws charts; another version draws other lines."""
    return f"matplotlib {version('matplotlib')}"


@dataclass(frozen=True, slots=True)
class Measured:
    """A measured value: where it lies across, counted from 1, the value, and half of its 95 % interval."""

    at: int
    value: float
    half: float | None


@dataclass(frozen=True, slots=True)
class Series:
    """A line of a chart: its name, and its values in order; None where there is none."""

    name: str
    values: tuple[float | None, ...]


def values_chart(name: str, series: Sequence[Series], across: str, up: str, say: Saying) -> str:
    """Values of several series over what is counted across from 1. ``name``: sets its ids apart on a page."""
    with drawn(name, across, up, say) as (axes, out):
        for place, one in enumerate(series):
            known = [(at, value) for at, value in enumerate(one.values, start=1) if value is not None]
            colour, marker = COLOURS[place % len(COLOURS)], MARKERS[place % len(MARKERS)]
            axes.plot(
                [at for at, _ in known],
                [value for _, value in known],
                color=colour,
                marker=marker,
                linewidth=1.2,
                label=_broken(one.name),
            )
        _whole_numbers(axes, max((len(one.values) for one in series), default=1))
        axes.set_ylim(bottom=0)
        axes.legend(loc="upper left", bbox_to_anchor=(1.01, 1.0), frameon=False)
    return out[0]


def _broken(name: str) -> str:
    """The name of a series in lines that leave the larger part of a chart to its lines."""
    return "\n".join(wrap(name, LETTERS, max_lines=LINES, placeholder=" …"))


def measured_chart(
    name: str, points: Sequence[Measured], limits: Sequence[float], across: str, up: str, say: Saying
) -> str:
    """Measured values with their 95 % intervals, and limits as lines across."""
    with drawn(name, across, up, say) as (axes, out):
        for place, one in enumerate(points):
            half = 0.0 if one.half is None else one.half
            shift = 0.06 * (place - sum(other.at < one.at for other in points))  # several of one routine
            axes.errorbar(
                one.at + shift, one.value, half, fmt=MARKERS[0], color=COLOURS[0], capsize=3, markersize=5
            )
        for limit in limits:
            axes.axhline(limit, color="#000000", linewidth=1.0, linestyle=(0, (6, 4)))
        _whole_numbers(axes, max((one.at for one in points), default=1))
    return out[0]


def _whole_numbers(axes: "Axes", last: int) -> None:
    axes.set_xlim(0.5, last + 0.5)
    axes.set_xticks(range(1, last + 1, max(1, last // 12)))


@contextmanager
def drawn(
    name: str,
    across: str,
    up: str,
    say: Saying,
    size: tuple[float, float] = SIZE,
    level: bool = False,
) -> Iterator[tuple["Axes", list[str]]]:
    """Axes to draw on; the text stands in the list afterwards. ``level``: values lie across, not upwards."""
    import matplotlib as mpl
    from matplotlib.figure import Figure

    written: list[str] = []
    with mpl.rc_context({"svg.hashsalt": name, "svg.fonttype": "path", "font.size": 10}):
        figure = Figure(figsize=size, layout="constrained")
        axes = figure.add_subplot()
        axes.set_xlabel(across)
        axes.set_ylabel(up)
        for axis in (axes.xaxis, axes.yaxis):
            axis.set_major_formatter(lambda size, _: say.numbers(f"{size:g}".replace("-", "−")))
        axes.grid(axis="x" if level else "y", color="#c9d0d4", linewidth=0.6)
        axes.set_axisbelow(True)
        for side in ("top", "right"):
            axes.spines[side].set_visible(False)
        yield axes, written
        out = StringIO()
        figure.savefig(out, format="svg", metadata={"Date": None, "Creator": None})
    written.append(_within_a_page(out.getvalue(), name))


def _within_a_page(svg: str, name: str) -> str:
    """The drawing without its prolog, its ids apart from those of other drawings."""
    begin, end = svg.index("<svg"), svg.index(">", svg.index("<svg"))
    return _NAME.sub(rf"\g<1>{name}-", _OWN_SIZE.sub("", svg[begin:end]) + svg[end:])
