"""Joints chased from a clicked frame to one side, frame after frame, until they are lost.

Each joint is looked for where optical flow and where its speed lead, as it looked when it was clicked. It is
lost when it looks otherwise, when it does not lead back to where it came from, when the place looks as it did
before the joint came, when it goes faster than joints do, or when it leaves the picture.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from reviewer.measuring.following import body, limbs
from reviewer.measuring.following.limbs import Found, Look
from reviewer.measuring.following.seeing import Grey, Window, flow
from reviewer.measuring.following.track import APPEARANCE, FLOW, LEFT

Array = NDArray[np.float64]

ALIKE = 0.80
"""Correlation with the clicked frame below which it is another thing (tried out on rendered casts)."""
FAINTEST = 2.1
"""Grey levels a pixel: what changes less from side to side shows no limb (drawn films: limbs from 2.5, what
stood before hidden ones to 1.8)."""
CERTAIN = 0.93
"""Correlation from which no other place is looked at."""
_EQUALLY, _APART = 0.005, 0.05
"""Correlation by which one place must be likelier than another one so far away, in lengths of the line
(tried out: a striped shirt)."""
_SAME = 0.5
"""Pixels within which two places are one."""
LEAST, LATELY = 0.5, 0.95
"""A joint whose background changed: at least so like the clicked frame, if so like the frame before."""
_BACK = 0.012
"""How near a joint must lead back to where it came from, in lengths of the body line; at least in px: 1."""
_BACK_STEPS = 3
_UNCHANGED = 0.96
"""Correlation with the frame before from which a joint leads back without being looked for there."""
_MOVED, _STOOD = 0.09, 0.92
"""Moved so far, in lengths of the line, it must not look as this place did when it was clicked."""


@dataclass(frozen=True, slots=True)
class Chased:
    """A joint on one frame.

    Attributes:
        spot: px of the window.
        turn: of its limb since the clicked frame, radians.
        likeness: correlation with its look on the clicked frame.
        speed: px a second, (2,).
        spin: radians a second.
        look: how its strip looks here.
    """

    spot: Array
    turn: float
    likeness: float
    speed: Array
    spin: float
    look: Look


@dataclass(frozen=True, slots=True)
class Clicked:
    """The clicked frame in pixels of the window: picture, spots and looks by joint, the line's length."""

    grey: Grey
    spots: Mapping[str, Array]
    looks: Mapping[str, Look]
    length: float

    @property
    def faint(self) -> frozenset[str]:
        """Joints where the picture shows no limb, as where something stands before them."""
        return frozenset(name for name, look in self.looks.items() if limbs.edge(look) < FAINTEST)


def clicked_on(grey: Grey, spots: Mapping[str, Array], length: float) -> Clicked:
    """The looks of the clicked joints."""
    looks = {}
    for joint, spot in spots.items():
        towards = (*body.TOWARDS[joint], *(other for other in spots if other != joint))
        along = spots[next(other for other in towards if other in spots)] - spot
        along = along / max(float(np.hypot(*along)), 1e-9)
        strip = limbs.STRIPS.get(joint, limbs.LIMB_END)
        looks[joint] = limbs.look(grey, spot, along, length, strip)
    return Clicked(grey, spots, looks, length)


class Chase:
    """The joints of one clicked frame, chased to one side.

    Attributes:
        joints: those not lost, where they are.
        begun: px a second of those found beside the clicked frame, (2,).
    """

    def __init__(self, clicked: Clicked, window: Window, other: "Chase | None" = None) -> None:
        """``other`` went to the other side: as the joints went on there, they came from here."""
        self.clicked, self.window = clicked, window
        came = other.begun if other else {}
        self.joints = {
            name: Chased(spot, 0.0, 1.0, -came.get(name, np.zeros(2)), 0.0, clicked.looks[name])
            for name, spot in clicked.spots.items()
            if name not in clicked.faint
        }
        self.begun: dict[str, Array] = {}
        self._before = clicked.grey

    def on(self, grey: Grey, seconds: float) -> dict[str, str]:
        """The joints on the next picture, ``seconds`` away; why some are lost, and not looked for again."""
        found: dict[str, Chased] = {}
        lost: dict[str, str] = {}
        for name, was in self.joints.items():
            now, why = self._told(name, was, grey, seconds)
            if why:
                lost[name] = why
            else:
                found[name] = now
        if self._before is self.clicked.grey:
            self.begun = {name: one.speed for name, one in found.items()}
        self.joints, self._before = found, grey
        return lost

    def drop(self, name: str) -> None:
        """Do not follow a joint any more."""
        self.joints.pop(name, None)

    def _told(self, name: str, was: Chased, grey: Grey, seconds: float) -> tuple[Chased, str]:
        """The likeliest place that nothing speaks against; else the likeliest, and what does.

        What is certain, or found again from elsewhere, is not looked for further. Beside the clicked frame
        nothing leads the way: there it must not lie elsewhere as well.
        """
        enough = 1 if np.any(was.speed) else 2
        tried: list[tuple[Chased, str]] = []
        for found in self._places(name, was, grey, seconds):
            good = [one.spot for one, why in tried if not why]
            if any(np.hypot(*(found.spot - spot)) < _SAME for spot in good):
                break
            moved, turned = (found.spot - was.spot) / seconds, (found.turn - was.turn) / seconds
            look = limbs.taken(self.clicked.looks[name], grey, found.spot, found.turn)
            now = Chased(found.spot, found.turn, found.likeness, moved, turned, look)
            tried.append((now, self._doubt(name, was, now, seconds)))
            certain = found.likeness >= CERTAIN and not tried[-1][1]
            if certain and len(tried) >= enough:
                break
        best, why = max(tried, key=lambda one: (not one[1], one[0].likeness))
        return best, why or self._elsewhere(best, tried)

    def _elsewhere(self, best: Chased, tried: Sequence[tuple[Chased, str]]) -> str:
        """Why a place is not the only one: stripes look alike wherever they are."""
        near = _APART * self.clicked.length
        others = (one for one, why in tried if not why and best.likeness - one.likeness < _EQUALLY)
        return APPEARANCE if any(np.hypot(*(one.spot - best.spot)) > near for one in others) else ""

    def _places(self, name: str, was: Chased, grey: Grey, seconds: float) -> Iterator[Found]:
        """Where the joint may be: as its speed has it, as flow has it, aside, as it looked lately.

        Beside the clicked frame no speed is known yet, and flow comes first.
        """
        wanted = self.clicked.looks[name]
        ahead, turn = was.spot + was.speed * seconds, was.turn + was.spin * seconds
        if np.any(was.speed):
            yield limbs.find(wanted, grey, ahead, turn)
        yield limbs.find(wanted, grey, flow(self._before, grey, was.spot[None])[0], turn)
        if not np.any(was.speed):
            yield limbs.find(wanted, grey, ahead, turn)
        yield limbs.find(wanted, grey, *limbs.swept(wanted, grey, was.spot, was.turn, self.clicked.length))
        yield from self._as_lately(name, was, ahead, turn, grey)

    def _as_lately(self, name: str, was: Chased, ahead: Array, turn: float, grey: Grey) -> Iterator[Found]:
        """Where the joint is as it looked on the frame before, if it must be the same thing."""
        now = limbs.find(was.look, grey, ahead, turn)
        still = limbs.likeness(self.clicked.looks[name], grey, now.spot, now.turn)
        if now.likeness >= LATELY and still >= LEAST:
            yield Found(now.spot, now.turn, ALIKE)

    def _doubt(self, name: str, was: Chased, now: Chased, seconds: float) -> str:
        """Why this is not the joint; empty where nothing speaks against it."""
        if not self.window.holds(now.spot):
            return LEFT
        if now.likeness < ALIKE or self._stood_there(name, now):
            return APPEARANCE
        if self._too_fast(was, now, seconds) or not self._leads_back(was, now):
            return FLOW
        return ""

    def _stood_there(self, name: str, now: Chased) -> bool:
        """Whether the clicked frame showed the same at this place, which is not the joint's then."""
        if np.hypot(*(now.spot - self.clicked.spots[name])) < _MOVED * self.clicked.length:
            return False
        return limbs.likeness(now.look, self.clicked.grey, now.spot, now.turn) > _STOOD

    def _too_fast(self, was: Chased, now: Chased, seconds: float) -> bool:
        metre = self.clicked.length / (body.LINE_OF_STATURE * 1.4)
        if np.hypot(*now.speed) > body.FASTEST * metre:
            return True
        if not np.any(was.speed):
            return False
        sharp = float(np.hypot(*(now.speed - was.speed))) / seconds
        return sharp > (body.SHARPEST + 0.03 / seconds**2) * metre

    def _leads_back(self, was: Chased, now: Chased) -> bool:
        if limbs.alike(now.look, was.look.shades) >= _UNCHANGED:
            return True
        back = limbs.find(now.look, self._before, was.spot, was.turn, steps=_BACK_STEPS)
        return bool(np.hypot(*(back.spot - was.spot)) <= max(_BACK * self.clicked.length, 1.0))
