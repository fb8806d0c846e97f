"""Shapes and words as pixels, for clips: the same pixels on every machine.

Typst sets both, with letters that travel inside it; no font of the machine is looked at. Shapes go through
the SVG that pages show, so that a clip cannot look otherwise than a report.
"""

import json
from collections.abc import Sequence
from importlib import resources

import typst

from reviewer.drawing.extent import part_of
from reviewer.drawing.vector import svg
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.shapes import Shape

LETTERS = "DejaVu Sans Mono"
_POINTS_AN_INCH = 72.0
"""At which a point of typst is a pixel."""
_LINES = 3.4
"""Lines of a caption's letters that its height has room for."""
_BREAKABLE = 24
"""Letters of a word after which it may be broken, however it is spelt."""


class DrawingError(ReviewerError):
    """Something cannot be drawn, such as words in letters that nothing here has."""


def overlay(
    shapes: Sequence[Shape], picture: tuple[int, int], shown: tuple[int, int]
) -> tuple[bytes, tuple[int, int]]:
    """Shapes of a picture of a size in pixels as shown in another: a PNG with opacity, and where it lies.

    Only the part that anything is drawn in, its left and top even; at least one shape.
    """
    left, top, right, bottom = part_of(shapes, picture, shown)
    sizes = [*shown, left, top, right - left, bottom - top]
    drawn = svg(shapes, picture, "", letters=LETTERS)
    return _set("overlay.typ", {"svg": drawn, "sizes": json.dumps(sizes)}), (left, top)


def caption(lines: Sequence[str], size: tuple[int, int], language: str) -> bytes:
    """Lines of words on a plain ground, set smaller until they fit: PNG."""
    return _words([(line, 1.0) for line in lines], size, size[1] / _LINES, language)


def card(title: str, lines: Sequence[str], size: tuple[int, int], language: str) -> bytes:
    """A title with lines beneath it on a plain ground: PNG."""
    return _words([(title, 1.7), *((line, 1.0) for line in lines)], size, min(size) / 18, language)


def _words(lines: list[tuple[str, float]], size: tuple[int, int], letters: float, language: str) -> bytes:
    said = [{"text": _broken(text), "times": times} for text, times in lines]
    margin = min(size[0] // 24, 48)
    data = {"size": size, "margin": margin, "letters": letters, "language": language, "lines": said}
    return _set("words.typ", {"data": json.dumps(data)})


def _broken(text: str) -> str:
    """The text on one line, its longest words with places to break at."""
    words = ("".join(one for one in word if one.isprintable()) for word in text.split())
    return " ".join(
        "\u200b".join(word[at : at + _BREAKABLE] for at in range(0, len(word), _BREAKABLE)) for word in words
    )


def _set(template: str, inputs: dict[str, str]) -> bytes:
    text = resources.files("reviewer.drawing").joinpath("templates", template).read_bytes()
    try:
        found = typst.compile(
            text, format="png", ppi=_POINTS_AN_INCH, sys_inputs=inputs, ignore_system_fonts=True
        )
    except typst.TypstError as fault:
        said = message("This cannot be drawn: {message}.", message=fault.message)
        remedy = message("Write its words otherwise.")
        raise DrawingError(Problem("not-drawn", template, said, remedy)) from None
    assert isinstance(found, bytes)
    return found
