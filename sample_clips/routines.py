"""What the girl does in the two clips: key poses, the elements they make, and the faults staged in them.

Element, role and fault codes are those of the edition `demo-bars-2`. Angles as in `figure`: 90 upright,
`arm` from hand to shoulder, `trunk` from hips to shoulders, `hip` and `knee` flexion.
"""

from gym_measures import HIGH, LOW_TOP
from script import Script, feet

STRAIGHT = {"knee": 2.0, "plantar": 74.0}
SUPPORT = {"trunk": 74.0, "elbow": 0.0, "hip": 9.0, "nod": 4.0, "apart": 0.0, "bow": 8.0, **STRAIGHT}
STANDING = 938.0  # height of the hips, standing on the mat


def cast(s: Script, top: dict[str, float], rise: float = 0.42) -> None:
    """From support: pike under the rail, beat the legs back and up, arrive at `top`."""
    s.begin("cast")
    s.key(0.20, "contact", trunk=68.0, hip=24.0, nod=2.0)
    s.key(0.20, "contact", trunk=62.0, hip=46.0, bow=22.0)
    s.key(0.20, "contact", trunk=63.0, hip=4.0, nod=10.0, bow=0.0)
    s.key(rise, "hang", **top)


def back_to_support(s: Script) -> None:
    """From the top of a cast down to the rail, and be still."""
    s.key(0.34, "contact", **(SUPPORT | {"trunk": 70.0, "hip": 6.0}))
    s.end()
    s.key(0.16, "contact", trunk=72.0, hip=16.0)
    s.key(0.20, "contact", **SUPPORT)


def hip_circle(s: Script, apart: float = 0.0) -> None:
    """Backward round the rail from the top of a cast, arms straight, each leg up to `apart` degrees aside."""
    s.key(0.32, "contact", trunk=71.0, elbow=0.0, hip=4.0, nod=0.0, bow=4.0, **STRAIGHT)
    s.end()
    s.begin("back-hip-circle")
    s.key(0.16, "contact", trunk=98.0, nod=-6.0, **legs(32.0, 0.3 * apart))
    s.key(0.16, "contact", trunk=152.0, **legs(42.0, apart))
    s.key(0.20, "contact", trunk=232.0, **legs(42.0, apart))
    s.key(0.20, "contact", trunk=312.0, **legs(36.0, apart))
    s.key(0.24, "contact", trunk=384.0, nod=4.0, **legs(24.0, 0.2 * apart))
    s.key(0.28, "contact", **(SUPPORT | {"trunk": SUPPORT["trunk"] + 360.0}))
    s.end()
    s.turn += 360.0
    if apart:
        s.fault("legs-apart", "0.100", since=1.0, until=0.45)
    s.key(0.10, "contact", **SUPPORT)


def legs(hip: float, apart: float) -> dict[str, float]:
    """Both hips, the legs `apart` degrees each to the side and, less, before and behind."""
    return {"hip_near": hip + 0.7 * apart, "hip_far": hip - 0.7 * apart, "apart": apart}


def over_the_rail(s: Script) -> None:
    """The second half of a pullover: hips at the rail, over into support."""
    s.key(0.30, "contact", trunk=252.0, elbow=96.0, hip=84.0, knee=4.0, nod=22.0, bow=22.0)
    s.key(0.30, "contact", trunk=312.0, elbow=62.0, hip=72.0)
    s.key(0.32, "contact", trunk=378.0, elbow=24.0, hip=40.0, nod=12.0, bow=14.0)
    s.key(0.42, "contact", **(SUPPORT | {"trunk": SUPPORT["trunk"] + 360.0}))
    s.end()
    s.turn += 360.0
    s.key(0.12, "contact", **SUPPORT)


def walk_in(s: Script) -> None:
    """Stand, present to the judge, walk to the low rail and take hold of it."""
    s.key(0.0, "stand", trunk=90.0, x=-1290.0, z=STANDING, shoulder=6.0, elbow=8.0, **feet(-1290.0, -1290.0))
    s.key(0.5, "stand")
    s.key(0.6, "stand", shoulder=168.0, elbow=4.0, trunk=93.0, nod=6.0, x=-1286.0)
    s.key(0.4, "stand")
    s.key(0.5, "stand", shoulder=4.0, elbow=10.0, trunk=89.0, nod=0.0, x=-1280.0)
    s.key(0.26, "stand", x=-1140.0, z=STANDING - 26, swing=18.0, **feet(-1080.0, -1290.0, lift_near=75.0))
    s.key(0.24, "stand", x=-1010.0, z=STANDING - 34, swing=-6.0, **feet(-880.0, -1260.0, lift_far=28.0))
    s.key(0.24, "stand", x=-840.0, z=STANDING - 18, swing=-18.0, **feet(-880.0, -860.0, lift_far=80.0))
    s.key(0.24, "stand", x=-680.0, z=STANDING - 34, swing=4.0, **feet(-850.0, -540.0, lift_near=28.0))
    s.key(
        0.26,
        "stand",
        x=-520.0,
        z=STANDING - 16,
        swing=16.0,
        shoulder=30.0,
        **feet(-560.0, -540.0, lift_near=75.0),
    )
    s.key(
        0.26,
        "stand",
        x=-470.0,
        z=STANDING - 8,
        swing=0.0,
        shoulder=70.0,
        **feet(-450.0, -500.0, lift_far=20.0),
    )
    s.key(
        0.36, "stand", x=-418.0, z=STANDING - 4, trunk=88.0, shoulder=128.0, nod=8.0, **feet(-430.0, -430.0)
    )


def pullover_mount(s: Script) -> None:
    """From standing under the low rail, one leg leading, over into support."""
    s.key(0.10, "perch", x=-415.0, z=STANDING - 4, trunk=88.0, nod=8.0, sole=-15.0)
    s.key(0.35, "perch", x=-400.0, z=STANDING - 6)
    s.begin("pullover", "mount")
    s.key(0.34, "perch", x=-372.0, z=STANDING - 86, trunk=84.0, nod=4.0)
    s.key(
        0.26,
        "perch",
        x=-318.0,
        z=STANDING + 6,
        trunk=97.0,
        sole=-40.0,
        **feet(-395.0, -430.0, lift_near=130.0, lift_far=70.0),
    )
    s.state |= {"plantar_near": 70.0, "plantar_far": 28.0}
    s.key(
        0.22,
        "hang",
        arm=246.0,
        elbow=84.0,
        trunk=116.0,
        hip_near=74.0,
        hip_far=22.0,
        knee_far=44.0,
        knee_near=12.0,
        bow=10.0,
    )
    s.key(
        0.22, "hang", arm=250.0, elbow=98.0, trunk=152.0, hip_near=92.0, hip_far=66.0, knee=6.0, plantar=74.0
    )
    s.key(0.24, "hang", arm=256.0, elbow=102.0, trunk=204.0, hip_near=92.0, hip_far=86.0, nod=16.0)
    over_the_rail(s)


def squat_on_and_jump(s: Script) -> None:
    """Cast, feet onto the low rail between the hands, stand up, jump to the high rail and swing."""
    s.begin("cast-squat-on", conditions=("jump-to-high-bar",))
    s.key(0.20, "contact", trunk=68.0, hip=24.0)
    s.key(0.20, "contact", trunk=62.0, hip=46.0, bow=22.0)
    s.key(0.20, "contact", trunk=62.0, hip=6.0, nod=10.0, bow=0.0)
    s.key(0.38, "hang", arm=64.0, trunk=24.0, hip=14.0, bow=10.0)
    s.key(0.20, "hang", arm=66.0, trunk=12.0, hip=96.0, knee=112.0, plantar=50.0, bow=36.0)
    stood = feet(-62.0, -62.0, LOW_TOP + 8)
    s.key(0.22, "perch", trunk=24.0, x=-236.0, z=2018.0, sole=-34.0, nod=20.0, bow=44.0, **stood)
    s.key(0.35, "perch", trunk=28.0, x=-226.0, z=2030.0, nod=30.0)
    s.key(0.30, "stand", trunk=52.0, x=-96.0, z=2130.0, shoulder=58.0, elbow=14.0, nod=16.0, bow=18.0)
    s.key(
        0.36, "stand", trunk=80.0, x=-40.0, z=2330.0, shoulder=128.0, elbow=6.0, nod=4.0, bow=0.0, sole=-16.0
    )
    s.key(0.30, "stand", trunk=66.0, x=-20.0, z=2230.0, shoulder=112.0)
    s.key(
        0.26,
        "stand",
        trunk=54.0,
        x=176.0,
        z=2392.0,
        shoulder=158.0,
        sole=-54.0,
        **feet(-52.0, -52.0, LOW_TOP + 24),
    )
    s.rail = HIGH
    s.key(0.26, "hang", arm=207.0, elbow=0.0, trunk=32.0, hip=14.0, nod=2.0, **STRAIGHT)


def swing_and_pullover(s: Script) -> None:
    """Tap swing on the high rail, then the long-hang pullover."""
    s.end()
    s.begin("tap-swing")
    s.key(0.26, "hang", arm=228.0, trunk=46.0, hip=4.0)
    s.key(0.30, "hang", arm=268.0, trunk=84.0, hip=-14.0, bow=-6.0)
    s.key(0.24, "hang", arm=303.0, trunk=124.0, hip=14.0, bow=14.0)
    s.key(0.34, "hang", arm=323.0, trunk=146.0, hip=22.0, nod=6.0)
    s.key(0.34, "hang", arm=304.0, trunk=125.0, hip=8.0)
    s.key(0.28, "hang", arm=270.0, trunk=92.0, hip=2.0, nod=0.0)
    s.key(0.28, "hang", arm=240.0, trunk=58.0, hip=8.0, bow=10.0)
    s.key(0.26, "hang", arm=232.0, trunk=48.0, hip=14.0)
    s.end()
    s.begin("long-hang-pullover")
    s.key(0.26, "hang", arm=242.0, trunk=60.0, hip=4.0)
    s.key(0.26, "hang", arm=270.0, trunk=86.0, hip=-12.0, bow=-4.0)
    s.key(0.22, "hang", arm=297.0, trunk=122.0, hip=36.0, elbow=8.0, bow=14.0)
    s.key(0.20, "hang", arm=299.0, trunk=154.0, hip=84.0, elbow=50.0, nod=8.0)
    s.key(0.22, "hang", arm=276.0, trunk=196.0, hip=98.0, elbow=92.0, nod=16.0, bow=22.0)
    over_the_rail(s)


def underswing(s: Script) -> None:
    """From the return of a cast: drop back under the high rail, shoot out, fly and land with a step."""
    s.key(0.32, "contact", trunk=72.0, elbow=0.0, hip=4.0, nod=0.0, bow=4.0, **STRAIGHT)
    s.end()
    s.begin("underswing-dismount", "dismount")
    s.key(0.18, "contact", trunk=94.0, hip=40.0)
    s.key(0.22, "hang", arm=158.0, trunk=136.0, hip=78.0, bow=14.0, nod=12.0)
    s.key(0.18, "hang", arm=210.0, trunk=160.0, hip=88.0)
    s.key(0.18, "hang", arm=260.0, trunk=168.0, hip=76.0)
    s.key(0.16, "hang", arm=298.0, trunk=166.0, hip=34.0, bow=4.0)
    s.key(0.10, "hang", arm=322.0, trunk=158.0, hip=14.0, bow=-4.0)
    s.key(0.20, "free", trunk=138.0, hip=-6.0, shoulder=188.0, elbow=6.0, bow=-14.0, nod=0.0)
    s.key(0.20, "free", trunk=112.0, hip=0.0, shoulder=160.0, knee=4.0, plantar=60.0, bow=0.0)
    land(s)


def land(s: Script) -> None:
    """Feet together, knees give, a medium step forward, stand, present."""
    x = 3060.0
    s.key(0.15, "stand", trunk=90.0, shoulder=104.0, x=x - 66.0, z=STANDING - 40.0, sole=-15.0, **feet(x, x))
    s.key(0.20, "stand", trunk=70.0, shoulder=70.0, x=x - 30.0, z=STANDING - 190.0, nod=14.0)
    s.key(
        0.24,
        "stand",
        trunk=72.0,
        shoulder=60.0,
        x=x + 110.0,
        z=STANDING - 110.0,
        **feet(x, x + 190.0, lift_far=60.0),
    )
    s.key(
        0.18, "stand", trunk=78.0, x=x + 210.0, z=STANDING - 60.0, **feet(x + 20.0, x + 360.0, lift_near=14.0)
    )
    s.fault("medium-step", "0.100", since=0.42)
    s.key(
        0.34,
        "stand",
        trunk=86.0,
        x=x + 330.0,
        z=STANDING - 22.0,
        **feet(x + 330.0, x + 360.0, lift_near=40.0),
    )
    s.key(
        0.22,
        "stand",
        trunk=90.0,
        shoulder=70.0,
        x=x + 358.0,
        z=STANDING - 4.0,
        nod=0.0,
        **feet(x + 360.0, x + 360.0),
    )
    s.end()
    s.key(0.60, "stand", trunk=93.0, shoulder=168.0, nod=6.0)
    s.key(0.60, "stand")
    s.key(0.60, "stand", trunk=90.0, shoulder=6.0, elbow=8.0, nod=0.0)
    s.key(0.50, "stand")


def whole_routine() -> Script:
    """Pullover mount, casts, hip circle, bar change, long-hang pullover, underswing dismount."""
    s = Script()
    walk_in(s)
    pullover_mount(s)
    s.key(0.45, "contact")
    cast(s, {"arm": 66.0, "trunk": 34.6, "hip": 6.0, "elbow": 0.0, "nod": 12.0, "bow": 6.0})
    hip_circle(s, apart=10.0)
    s.key(0.40, "contact")
    cast(s, {"arm": 66.0, "trunk": 48.0, "hip": 4.0, "elbow": 40.0, "nod": 12.0, "bow": 6.0}, rise=0.40)
    s.key(0.04, "hang")
    s.fault("arms-bent", "0.100", since=0.34)
    back_to_support(s)
    s.key(0.30, "contact")
    squat_on_and_jump(s)
    swing_and_pullover(s)
    s.key(0.40, "contact")
    cast(s, {"arm": 67.0, "trunk": 36.0, "hip": 6.0, "elbow": 0.0, "nod": 12.0, "bow": 6.0})
    underswing(s)
    return s


def short_cast_and_fall() -> Script:
    """Support, a cast short of 45 below horizontal, a hip circle that comes off the rail, seat, stand."""
    s = Script()
    s.key(0.0, "contact", **SUPPORT)
    s.key(0.7, "contact")
    cast(s, {"arm": 68.0, "trunk": 49.2, "hip": 4.0, "elbow": 0.0, "nod": 12.0, "bow": 6.0}, rise=0.38)
    fall_out_of_circle(s)
    sit_and_stand(s)
    return s


def fall_out_of_circle(s: Script) -> None:
    """The hips come away from the rail half-way round; she drops to her feet."""
    s.key(0.30, "contact", trunk=71.0, elbow=0.0, hip=4.0, nod=0.0, bow=4.0, **STRAIGHT)
    s.end()
    s.begin("back-hip-circle", conditions=("fell-before-completion",))
    s.key(0.18, "contact", trunk=100.0, hip=34.0, nod=-6.0)
    s.key(0.20, "contact", trunk=150.0, hip=44.0)
    s.key(0.20, "contact", trunk=196.0, hip=62.0, bow=16.0, nod=10.0)
    s.key(0.24, "hang", arm=252.0, elbow=14.0, trunk=176.0, hip=88.0, knee=16.0, bow=20.0)
    s.key(0.22, "hang", arm=270.0, elbow=6.0, trunk=136.0, hip=86.0, knee=42.0, plantar=40.0)


def sit_and_stand(s: Script) -> None:
    """Feet, seat, a moment, up again, step clear and stand."""
    x = 560.0
    s.key(0.16, "stand", trunk=112.0, x=x - 455.0, z=650.0, shoulder=116.0, elbow=20.0, **feet(x, x + 10.0))
    s.key(0.34, "stand", trunk=112.0, x=x - 430.0, z=292.0, shoulder=-52.0, elbow=62.0, nod=-10.0, bow=30.0)
    s.fault("fall", "0.500", since=0.5)
    s.end()
    s.key(0.30, "stand", trunk=104.0, x=x - 424.0, z=286.0, shoulder=-50.0, nod=-20.0)
    s.key(0.80, "stand", trunk=98.0, nod=-6.0, shoulder=-48.0)
    s.key(0.45, "stand", trunk=52.0, x=x - 300.0, z=400.0, shoulder=52.0, elbow=26.0, nod=10.0)
    s.key(0.50, "stand", trunk=48.0, x=x - 60.0, z=640.0, shoulder=48.0, bow=20.0)
    s.key(0.55, "stand", trunk=84.0, x=x, z=STANDING - 16.0, shoulder=16.0, nod=0.0, bow=0.0)
    s.key(0.30, "stand", trunk=89.0, x=x + 5.0, z=STANDING - 4.0, shoulder=8.0, elbow=12.0, **feet(x, x))
    s.key(1.00, "stand", nod=-6.0)
    s.key(0.50, "stand", shoulder=20.0, trunk=88.0, nod=-12.0)
    s.key(0.60, "stand", shoulder=8.0, trunk=90.0, nod=0.0)
