"""The highest moment of a curve of angles, against curves whose top is worked by hand."""

from collections.abc import Callable, Sequence
from fractions import Fraction

import numpy as np
import pytest

from reviewer.measuring.following.sight import Angle
from reviewer.measuring.following.topping import top_of
from reviewer.measuring.following.track import Frame, Top
from reviewer.terms.times import TimeBase

TICKS = TimeBase(1, 30_000)


def frames(
    curve: Callable[[float], float], pts: Sequence[int], *, of_clicks: float = 0.5, bent: float | None = None
) -> list[Frame]:
    return [
        Frame(n, tick, angle=Angle(curve(tick / 30_000), 0.6, of_clicks), flexion=bent)
        for n, tick in enumerate(pts)
    ]


def parabola(second: float) -> float:
    """Highest at 0.512 s, where it is -40."""
    return -40.0 - 300.0 * (second - 0.512) ** 2


def found(among: list[Frame]) -> Top:
    top, why = top_of(among, TICKS)
    assert top is not None, why
    return top


@pytest.mark.parametrize("step", [1000, 1001, 500, 250])
def test_a_parabola_gives_its_own_top_exactly(step: int) -> None:
    top = found(frames(parabola, range(0, 30_000, step)))
    assert float(top.seconds) == pytest.approx(0.512, abs=1e-6)
    assert top.degrees == pytest.approx(-40.0, abs=1e-6)
    assert top.frame == round(0.512 * 30_000 / step)


def test_times_far_from_nought_are_kept_exact() -> None:
    """A recording that begins after days of ticks: the same top, so much later, to the millionth."""
    late = 30_000 * 1_000_000
    early = frames(parabola, range(0, 30_000, 1000))
    shifted = [Frame(one.frame, one.pts + late, angle=one.angle) for one in early]
    assert found(shifted).seconds - found(early).seconds == Fraction(1_000_000)


def test_the_interval_holds_the_top_19_times_in_20_when_angles_scatter() -> None:
    """Reference: Monte Carlo, JCGM 101, with numpy's generator; angles scatter by 0.15 degrees."""
    chance, held = np.random.default_rng(11), 0
    for _ in range(400):
        noisy = frames(lambda s: parabola(s) + float(chance.normal(0, 0.15)), range(0, 30_000, 1000))
        top = found(noisy)
        held += abs(float(top.seconds) - 0.512) <= top.half
    assert held >= 0.94 * 400


def test_a_curve_that_falls_faster_than_it_rose_stays_inside_the_interval() -> None:
    """Rising as a cast does, falling twice as fast: no parabola; its top is at 0.512 s."""
    top = found(frames(lambda s: parabola(s) if s < 0.512 else 2 * parabola(s) + 40, range(0, 30_000, 1000)))
    assert float(top.seconds) == pytest.approx(0.512, abs=top.half)


def test_a_lost_frame_beside_the_highest_leaves_no_top() -> None:
    curve = frames(parabola, range(0, 30_000, 1000))
    curve[16] = Frame(16, curve[16].pts, why="appearance")
    assert top_of(curve, TICKS)[0] is None


def test_bent_hips_make_no_top_of_a_cast() -> None:
    """Up to 30 degrees counts as extended (from memory)."""
    assert top_of(frames(parabola, range(0, 30_000, 1000), bent=29.0), TICKS)[0] is not None
    top, why = top_of(frames(parabola, range(0, 30_000, 1000), bent=31.0), TICKS)
    assert top is None
    assert "hips" in why


def test_clicks_too_uncertain_give_no_top() -> None:
    top, why = top_of(frames(parabola, range(0, 30_000, 1000), of_clicks=2.5), TICKS)
    assert top is None
    assert "2.5 degrees" in why


def test_a_line_beyond_the_vertical_does_not_jump() -> None:
    """Angles beyond 180 are written from -180 again; the curve runs through."""
    wrapped = frames(lambda s: (185 - 300 * (s - 0.512) ** 2 + 180) % 360 - 180, range(9000, 22_000, 1000))
    assert found(wrapped).degrees % 360 == pytest.approx(185.0, abs=1e-6)


def test_nothing_followed_is_said() -> None:
    assert top_of([Frame(0, 0, why="damaged")], TICKS) == (None, "nothing could be followed")
