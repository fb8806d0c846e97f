"""Readings to shapes in picture coordinates, and shapes to SVG."""

from reviewer.drawing.curve import curve, curve_svg
from reviewer.drawing.palette import PALETTE, Pen
from reviewer.drawing.protractor import protractor
from reviewer.drawing.residuals import around, residuals
from reviewer.drawing.vector import svg

__all__ = ["PALETTE", "Pen", "around", "curve", "curve_svg", "protractor", "residuals", "svg"]
