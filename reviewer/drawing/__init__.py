"""Readings to shapes in picture coordinates, and shapes to SVG."""

from reviewer.drawing.curve import curve, curve_svg
from reviewer.drawing.palette import PALETTE, Pen
from reviewer.drawing.protractor import protractor
from reviewer.drawing.residuals import residuals
from reviewer.drawing.vector import svg

__all__ = ["PALETTE", "Pen", "curve", "curve_svg", "protractor", "residuals", "svg"]
