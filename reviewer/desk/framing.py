"""Where a picture lies in its view: exact conversion between the two, and zoom and pan that keep it."""

from dataclasses import dataclass
from typing import Self

from reviewer.terms.exact import Pixels
from reviewer.terms.shapes import Spot

CLOSEST, FARTHEST = 40.0, 0.05
"""Greatest and least size of a picture's pixel on the screen."""


@dataclass(frozen=True, slots=True)
class Framing:
    """How a view shows a picture.

    View coordinates count from the view's corner; picture coordinates from the centre of the top-left pixel,
    so half a picture's pixel lies between them: it is added here and nowhere else.

    Attributes:
        scale: view pixels to one picture pixel.
        left, top: where the picture's corner lies in the view.
    """

    scale: float
    left: float
    top: float

    @classmethod
    def whole(cls, picture: tuple[int, int], view: tuple[int, int]) -> Self:
        """The whole picture, as large as the view allows, in its middle."""
        scale = max(FARTHEST, min(view[0] / picture[0], view[1] / picture[1]))
        return cls(scale, (view[0] - picture[0] * scale) / 2, (view[1] - picture[1] * scale) / 2)

    def to_picture(self, x: float, y: float) -> tuple[float, float]:
        """Picture coordinates of a place in the view."""
        return (x - self.left) / self.scale - 0.5, (y - self.top) / self.scale - 0.5

    def to_view(self, x: float, y: float) -> tuple[float, float]:
        """The place in the view of picture coordinates."""
        return (x + 0.5) * self.scale + self.left, (y + 0.5) * self.scale + self.top

    def zoomed(self, factor: float, x: float, y: float) -> "Framing":
        """Closer by a factor, with what is at this place of the view staying there."""
        scale = min(CLOSEST, max(FARTHEST, self.scale * factor))
        kept = scale / self.scale
        return Framing(scale, x - (x - self.left) * kept, y - (y - self.top) * kept)

    def moved(self, right: float, down: float) -> "Framing":
        """Shifted by view pixels."""
        return Framing(self.scale, self.left + right, self.top + down)


def spot_at(x: float, y: float) -> Spot:
    """A point of the picture, rounded once to thousandths of a pixel."""
    return Spot(Pixels(round(x * 1000)), Pixels(round(y * 1000)))


def place_of(spot: Spot) -> tuple[float, float]:
    """A spot's picture coordinates, for painting."""
    return spot.x.thousandths / 1000, spot.y.thousandths / 1000
