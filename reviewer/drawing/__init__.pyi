from .charts import Measured, Series, drawn_by, measured_chart, values_chart
from .curve import curve, curve_svg, frame_across, moment_across
from .followed import followed
from .lengths import length
from .meetcharts import COUNTS_HEIGHT, Span, counts_chart, spans_chart, spans_height
from .palette import PALETTE, Pen
from .protractor import limit_words, protractor
from .raster import DrawingError, caption, card, overlay
from .residuals import around, residuals
from .vector import svg

__all__ = [
    "COUNTS_HEIGHT",
    "PALETTE",
    "DrawingError",
    "Measured",
    "Pen",
    "Series",
    "Span",
    "around",
    "caption",
    "card",
    "counts_chart",
    "curve",
    "curve_svg",
    "drawn_by",
    "followed",
    "frame_across",
    "length",
    "limit_words",
    "measured_chart",
    "moment_across",
    "overlay",
    "protractor",
    "residuals",
    "spans_chart",
    "spans_height",
    "svg",
    "values_chart",
]
