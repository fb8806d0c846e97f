"""Angles of elevation as judges say them: so many degrees below or above horizontal."""

from reviewer.terms.exact import Degrees
from reviewer.terms.messages import Message, message


def elevation(angle: Degrees) -> Message:
    """Such as ``45 degrees below horizontal``."""
    number = str(angle).lstrip("-").rstrip("0").rstrip(".")
    if angle == Degrees(0):
        return message("horizontal")
    if angle < Degrees(0):
        return message("{number} degrees below horizontal", number=number)
    return message("{number} degrees above horizontal", number=number)
