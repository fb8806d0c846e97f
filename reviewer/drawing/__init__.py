"""Readings to shapes in picture coordinates, and shapes to SVG."""

from reviewer.drawing.palette import PALETTE, Pen
from reviewer.drawing.protractor import protractor
from reviewer.drawing.vector import svg

__all__ = ["PALETTE", "Pen", "protractor", "svg"]
