"""The notation in which a routine is written: key poses one after the other, elements and staged faults."""

from dataclasses import dataclass, field

from gym_measures import LOW, MAT_TOP
from motion import CHANNELS, Key, on_mat

PAIRS = ("hip", "knee", "plantar")


@dataclass
class Element:
    """An element and when it starts and ends (s); a cast has a top in between, found from the motion."""

    code: str
    start: float
    end: float = 0.0
    roles: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()


@dataclass
class Fault:
    """A fault staged on purpose: its amount as a judge would write it, and when it is to be seen (s)."""

    code: str
    amount: str
    element: int
    start: float
    end: float


@dataclass
class Script:
    """Key poses one after the other; each takes over what it does not say from the one before."""

    now: float = 0.0
    rail: tuple[float, float] = LOW
    turn: float = 0.0
    keys: list[Key] = field(default_factory=list)
    elements: list[Element] = field(default_factory=list)
    faults: list[Fault] = field(default_factory=list)
    state: dict[str, float] = field(default_factory=lambda: dict(CHANNELS))

    def key(self, after: float, by: str, **given: float) -> "Script":
        """Add a key pose `after` seconds; `hip`, `knee`, `plantar` set both legs."""
        self.now = round(self.now + after, 6)
        for name, value in given.items():
            both = [f"{name}_near", f"{name}_far"] if name in PAIRS else [name]
            self.state |= dict.fromkeys(both, value)
        placed = dict(self.state)
        placed["trunk"] += self.turn
        placed["arm"] += self.turn
        rail = self.rail if by in {"hang", "contact", "perch"} else None
        self.keys.append(Key(self.now, by, rail, placed))
        return self

    def begin(self, code: str, *roles: str, conditions: tuple[str, ...] = ()) -> None:
        """An element starts now."""
        self.elements.append(Element(code, self.now, roles=roles, conditions=conditions))

    def end(self) -> None:
        """The element begun last ends now."""
        self.elements[-1].end = self.now

    def fault(self, code: str, amount: str, since: float, until: float = 0.0) -> None:
        """A fault of the element begun last was to be seen from `since` to `until` seconds ago."""
        seen = round(self.now - since, 6), round(self.now - until, 6)
        self.faults.append(Fault(code, amount, len(self.elements) - 1, *seen))


def feet(
    near: float, far: float, top: float = MAT_TOP, lift_near: float = 0.0, lift_far: float = 0.0
) -> dict[str, float]:
    """Where the two ankles are, standing at `near` and `far` on something `top` high."""
    (nx, nz), (fx, fz) = on_mat(near, top, lift_near), on_mat(far, top, lift_far)
    return {"near_x": nx, "near_z": nz, "far_x": fx, "far_z": fz}
