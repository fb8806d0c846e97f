"""What a clip shows, from one moment to the next."""

from dataclasses import dataclass

from reviewer.terms.covers import Cover
from reviewer.terms.pictures import Picture


@dataclass(frozen=True, slots=True)
class Sheet:
    """Something drawn that lies over the pictures.

    Attributes:
        png: its pixels with their opacity, as a PNG file.
        at: left and top pixel of the clip it lies at; both even.
    """

    png: bytes
    at: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Laid:
    """A picture in a clip.

    Attributes:
        picture: one frame of a recording as displayed.
        covers: what hides heads in it, in its own pixels.
        at: left and top pixel of the clip it lies at.
        size: width and height it is shown with.
    """

    picture: Picture
    covers: tuple[Cover, ...]
    at: tuple[int, int]
    size: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Scene:
    """What is on screen for a while, without moving.

    Attributes:
        laid: the pictures.
        sheets: what lies over them, the last on top.
        ticks: how long, in ticks of the clip.
        begins: whether it is a place that a reader of the clip should find quickly.
    """

    laid: tuple[Laid, ...]
    sheets: tuple[Sheet, ...]
    ticks: int
    begins: bool = False
