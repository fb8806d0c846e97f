"""What a reader of the report sees drawn: residuals and curves, and that neither is needed."""

import json
import re
import xml.etree.ElementTree as ET
from typing import Any

import pytest

from reviewer import actions
from reviewer.drawing import curve_svg
from reviewer.reports import page
from tests.drawing.test_curve_shapes import LIMIT, SIZE, TICK, track

FIGURE = re.compile(r"<figure.*?</figure>", re.DOTALL)


@pytest.fixture(scope="module")
def found(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """The finding of the demo: three readings on eight points each, no track."""
    folder = tmp_path_factory.mktemp("demo")
    actions.run_demo(folder)
    document: dict[str, Any] = json.loads((folder / "report" / "report.json").read_bytes())
    return document


def figures(html: str, kind: str) -> list[ET.Element]:
    found = (ET.fromstring(one) for one in FIGURE.findall(html) if f'class="{kind}"' in one.split(">")[0])
    return list(found)


def followed(document: dict[str, Any]) -> dict[str, Any]:
    """A track as a finding tells of it."""
    return {
        "id": "r9",
        "recording_number": 1,
        "line": "shoulder-ankle",
        "clicked_frames": [60],
        "frames": len(document["frames"]),
        "top": document["top"],
        "why_no_top": document["why_no_top"],
        "lost": document["lost"],
        "check": "good",
        "camera": "still",
        "curve": curve_svg(document, LIMIT, SIZE, TICK, "Elevation over time"),
    }


def test_each_calibration_shows_its_residuals_over_the_still_it_was_clicked_on(found: dict[str, Any]) -> None:
    shown = figures(page(found, {}), "residuals")
    assert len(shown) == len(found["readings"]) == 3
    for figure, reading in zip(shown, found["readings"], strict=True):
        (still,) = [one for one in figure.iter() if one.tag.endswith("use")]
        assert still.attrib["href"] == f"#frame-{reading['frame']}-picture"
        assert "arrows drawn 10 times as long" in "".join(figure.itertext())
        rings = {(one.attrib["cx"], one.attrib["cy"]) for one in figure.iter() if one.tag.endswith("circle")}
        assert len(rings) == len(reading["calibration"]["residuals_px"]) == 8


def test_without_a_camera_there_is_no_figure_of_residuals(found: dict[str, Any]) -> None:
    bare = [one | {"residuals_drawn": None} for one in found["readings"]]
    assert not figures(page(found | {"readings": bare}, {}), "residuals")


def test_without_stills_residuals_stand_on_an_empty_ground(found: dict[str, Any]) -> None:
    shown = figures(page(found | {"stills": []}, {}), "residuals")
    assert len(shown) == 3
    assert not [one for figure in shown for one in figure.iter() if one.tag.endswith("use")]


def test_a_followed_cast_shows_its_curve_and_its_loss_in_words(found: dict[str, Any]) -> None:
    html = page(found | {"tracks": [followed(track())]}, {})
    (curve,) = figures(html, "curve")
    assert "top 1.108 s: −50.0° ± 1.4° (95 %)" in "".join(curve.itertext())
    assert "Lost on frames 64 to 65: the joint moved otherwise than a body does." in html


def test_a_followed_cast_without_a_top_says_why(found: dict[str, Any]) -> None:
    html = page(found | {"tracks": [followed(track(top=None, why_no_top="it still rises"))]}, {})
    assert "No top is given: it still rises." in html


def test_a_case_without_followed_casts_does_not_speak_of_them(found: dict[str, Any]) -> None:
    assert "Casts that were followed" not in page(found, {})
