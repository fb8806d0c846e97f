"""The protractor as drawn: the same shapes for desk and report."""

import xml.etree.ElementTree as ET
from itertools import pairwise
from math import atan2, degrees

import pytest

from reviewer.drawing import PALETTE, protractor, svg
from reviewer.measuring import measure
from reviewer.terms.exact import Degrees, Pixels
from reviewer.terms.readings import Clicks, Requirement
from reviewer.terms.shapes import STYLES, Label, Path, Ring, Segment, Spot

LIMIT = Requirement(Degrees.parse("-45"), Degrees.parse("10"))
OKABE_ITO = {"000000", "E69F00", "56B4E9", "009E73", "F0E442", "0072B2", "D55E00", "CC79A7"}


def spot(x: int, y: int) -> Spot:
    return Spot(Pixels(x * 1000), Pixels(y * 1000))


def shapes(elevation_legs: tuple[int, int] = (100, 100)) -> tuple[object, ...]:
    across, down = elevation_legs
    body = (("ankle", (spot(600 + across, 300 + down),)), ("shoulder", (spot(600, 300),)))
    return protractor(measure(Clicks(0, (1280, 720), "shoulder-ankle", body)), LIMIT)


def test_the_body_line_runs_through_the_clicked_joints() -> None:
    (line,) = [one for one in shapes() if isinstance(one, Segment) and one.style == "body-line"]
    assert {line.start, line.end} == {spot(600, 300), spot(700, 400)}


def test_each_clicked_joint_has_a_ring() -> None:
    centres = {one.centre for one in shapes() if isinstance(one, Ring)}
    assert {spot(600, 300), spot(700, 400)} <= centres


def test_the_number_drawn_is_the_reading() -> None:
    words = [one.words for one in shapes() if isinstance(one, Label)]
    assert any(word.startswith(("-45.0", "−45.0")) for word in words)


def test_the_wedge_of_doubt_ends_where_the_interval_of_95_percent_does() -> None:
    """The cast is to the right, so elevations count anticlockwise from the picture's right."""
    body = (("ankle", (spot(700, 400),)), ("shoulder", (spot(600, 300),)))
    reading = measure(Clicks(0, (1280, 720), "shoulder-ankle", body))
    (wedge,) = [one for one in protractor(reading, LIMIT) if isinstance(one, Path) and one.style == "doubt"]
    assert wedge.spots[0] == wedge.spots[-1] == spot(600, 300)
    ends = [(one.x - spot(600, 0).x, spot(0, 300).y - one.y) for one in (wedge.spots[1], wedge.spots[-2])]
    seen = [degrees(atan2(up.thousandths, across.thousandths)) for across, up in ends]
    assert seen == pytest.approx([end.thousandths / 1000 for end in reading.interval], abs=0.05)


def test_a_path_runs_through_its_spots_and_a_fill_tints_what_it_encloses() -> None:
    path = Path((spot(0, 0), spot(10, 0), spot(10, 5)), "doubt")
    lines = [one for one in ET.fromstring(svg((path,), (20, 10), "path")).iter() if "polyline" in one.tag]
    assert {one.attrib["points"] for one in lines} == {"0.000,0.000 10.000,0.000 10.000,5.000"}
    assert [one.attrib["fill"] for one in lines if "fill" in one.attrib] == [PALETTE["doubt"].colour]


def test_a_picture_point_is_half_a_pixel_from_the_corner_that_svg_counts_from() -> None:
    """Reference: SVG 2, section 8.1, initial coordinate system: the origin is the corner of the canvas."""
    text = svg((Segment(spot(0, 0), spot(10, 0), "body-line"),), (20, 10), "one line")
    group = next(node for node in ET.fromstring(text).iter() if node.tag.endswith("}g"))
    shift = group.attrib["transform"].removeprefix("translate(").removesuffix(")").replace(",", " ").split()
    assert [number.rstrip("0") for number in shift] == ["0.5", "0.5"]


def test_a_part_of_a_picture_keeps_its_coordinates_and_its_words_inside() -> None:
    text = svg((Label(spot(0, 0), "ab", "number"),), (200, 100), "part", 20, (300, 50))
    root = ET.fromstring(text)
    (label,) = [one for one in root.iter() if one.tag.endswith("}text")]
    (letters,) = [one for one in root.iter() if one.tag.endswith("}g")]
    assert root.attrib["viewBox"] == "300 50 200 100"
    assert (label.attrib["x"], label.attrib["y"], letters.attrib["font-size"]) == (
        "300.000",
        "70.000",
        "20.000",
    )


def test_hostile_words_stay_words() -> None:
    text = svg((Label(spot(5, 5), "<script>&\"'", "number"),), (100, 100), "</title><b>")
    root = ET.fromstring(text)
    assert "<script>&\"'" in "".join(root.itertext())
    assert not [node for node in root.iter() if node.tag.endswith(("script", "}b"))]


def test_the_same_shapes_give_the_same_bytes() -> None:
    drawn = [svg(shapes(), (1280, 720), "again") for _ in range(3)]  # type: ignore[arg-type]
    assert all(first == second for first, second in pairwise(drawn))


@pytest.mark.parametrize("style", STYLES)
def test_each_style_has_a_published_colour(style: str) -> None:
    """Okabe and Ito's palette for colour-blind readers."""
    assert PALETTE[style].colour.lstrip("#").upper() in OKABE_ITO | {"FFFFFF"}


def test_no_two_lines_differ_by_colour_alone() -> None:
    lines = set(STYLES) - {"number", "joint"}  # words and rings are no lines
    looks = [(PALETTE[style].width, PALETTE[style].dash) for style in lines]
    assert len(set(looks)) == len(looks)


def body_of(**joints: tuple[int, int]) -> tuple[tuple[str, tuple[Spot, ...]], ...]:
    return tuple((name, (spot(*at),)) for name, at in sorted(joints.items()))


def test_against_the_vertical_the_reference_stands_upright_and_no_limit_is_drawn() -> None:
    """Worked by hand: up and to the right with legs of 3 and 4 is atan(3/4) = 36.870 degrees off upright."""
    body = body_of(hand=(600, 400), ankle=(675, 300))
    reading = measure(Clicks(0, (1280, 720), "hand-ankle", body, against="vertical"))
    assert str(reading.value) == "36.870"
    found = protractor(reading, LIMIT)
    (reference,) = [one for one in found if isinstance(one, Segment) and one.style == "level"]
    assert reference.start.x == reference.end.x == spot(600, 0).x
    assert reference.end.y < spot(0, 400).y < reference.start.y
    assert not [one for one in found if isinstance(one, Segment) and one.style in ("limit", "tolerance")]
    (arc,) = [one for one in found if isinstance(one, Path) and one.style == "body-line"]
    reach = [
        ((one.x - spot(600, 0).x).thousandths, (spot(0, 400).y - one.y).thousandths) for one in arc.spots
    ]
    assert [degrees(atan2(up, across)) for across, up in (reach[0], reach[-1])] == pytest.approx(
        [90 - 36.870, 90], abs=0.05
    )


def test_a_bend_is_drawn_along_both_limbs() -> None:
    body = body_of(shoulder=(600, 300), elbow=(600, 400), hand=(700, 400))
    found = protractor(measure(Clicks(0, (1280, 720), "elbow-bend", body)), LIMIT)
    lines = [one for one in found if isinstance(one, Segment)]
    assert {(one.start, one.end, one.style) for one in lines} == {
        (spot(600, 300), spot(600, 400), "body-line"),
        (spot(600, 400), spot(700, 400), "body-line"),
    }
    assert any("90.0°" in one.words for one in found if isinstance(one, Label))


def test_an_angle_between_two_lines_shows_both() -> None:
    body = body_of(shoulder=(600, 300), hip=(650, 300), ankle=(700, 400), hand=(600, 200))
    found = protractor(measure(Clicks(0, (1280, 720), "hip-ankle", body, against="shoulder-hand")), LIMIT)
    looks = {one.style: (one.start, one.end) for one in found if isinstance(one, Segment)}
    assert looks["body-line"] == (spot(650, 300), spot(700, 400))
    assert looks["level"] == (spot(600, 300), spot(600, 200))


def test_a_line_to_the_lowest_part_is_drawn_to_the_part_that_was_found() -> None:
    body = body_of(hand=(600, 300), shoulder=(640, 300), hip=(700, 360), ankle=(760, 300))
    reading = measure(Clicks(0, (1280, 720), "shoulder-lowest", body))
    (line,) = [
        one for one in protractor(reading, LIMIT) if isinstance(one, Segment) and one.style == "body-line"
    ]
    assert reading.through == "shoulder-hip"
    assert (line.start, line.end) == (spot(640, 300), spot(700, 360))
