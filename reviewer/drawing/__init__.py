"""Readings to shapes in picture coordinates, and shapes to SVG."""

from reviewer.drawing.curve import curve, curve_svg, frame_across, moment_across
from reviewer.drawing.followed import followed
from reviewer.drawing.lengths import length
from reviewer.drawing.palette import PALETTE, Pen
from reviewer.drawing.protractor import limit_words, protractor
from reviewer.drawing.residuals import around, residuals
from reviewer.drawing.vector import svg

__all__ = [
    "PALETTE",
    "Pen",
    "around",
    "curve",
    "curve_svg",
    "followed",
    "frame_across",
    "length",
    "limit_words",
    "moment_across",
    "protractor",
    "residuals",
    "svg",
]
