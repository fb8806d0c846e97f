"""The coach's page from the command line: one routine, several of one athlete, and what is refused."""

import json
import xml.etree.ElementTree as ET
from collections.abc import Callable
from dataclasses import replace
from hashlib import sha256
from pathlib import Path
from typing import Any

import pypdf
import pytest
from jsonschema import Draft202012Validator
from playwright.sync_api import Browser

from reviewer import actions
from reviewer.reports import pictures_in
from reviewer.terms.covers import Cover
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle
from tests.cli.judged_routine import filmed, judged
from tests.reports.browsing import browse, rules_broken

SCHEMAS = Path(__file__).resolve().parents[2] / "annotations" / "schemas"
Run = Callable[..., tuple[int, str, str]]


@pytest.fixture(scope="module")
def recorded(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The demo's case, which consent lets a coach see."""
    folder = tmp_path_factory.mktemp("recorded")
    actions.run_demo(folder)
    case = next(folder.glob("*.case"))
    with actions.open_case(case, author="A") as audit:
        actions.give_consent(audit, ("coach",), None, "2026-11-26")
    return case


def routine(path: Path, *codes: str, athlete: str = "G-07", uses: tuple[str, ...] = ("coach",)) -> Path:
    """A routine of these elements without a recording, arms bent on the second; two judges took it."""
    with actions.start_case(
        path, author="A", athlete_code=athlete, consent="given", rule_book="demo-bars-2", recording=None
    ) as audit:
        for order, code in enumerate(codes, start=1):
            roles = {1: ("mount",), len(codes): ("dismount",)}.get(order, ())
            actions.place_mark(audit, kind="element", code=code, order=order, roles=roles)
        for judge, amount in (("A", "0.100"), ("B", "0.200")):
            points = Points.parse(amount)
            actions.place_mark(
                audit, kind="fault", code="arms-bent", element="m2", amount=points, judge=judge
            )
        if uses:
            actions.give_consent(audit, uses, None, "2026-11-26")
    return path


def checked(name: str, document: dict[str, Any]) -> dict[str, Any]:
    Draft202012Validator(json.loads((SCHEMAS / f"{name}.schema.json").read_text())).validate(document)
    return document


def test_what_comes_back_for_certain_stands_before_what_may(reviewer: Run, tmp_path: Path) -> None:
    case = routine(tmp_path / "a.case", "pullover", "sole-circle", "underswing-dismount")
    code, out, _ = reviewer("coach", case, "-o", tmp_path / "page", "--json")
    found = checked("coach", json.loads(out))
    assert code == 0
    assert [one["points"] for one in found["certain"]] == sorted(
        (one["points"] for one in found["certain"]), reverse=True
    )
    assert found["value_parts"] == {"needed": 5, "earned": 3, "spare": -2}
    (arms,) = found["possible"]
    assert (arms["least"], arms["most"], arms["taken_by"], arms["judges"]) == ("0.100", "0.200", 2, 2)
    html = (tmp_path / "page" / "coach.html").read_text(encoding="utf-8")
    assert html.index("Comes back for certain") < html.index("May come back")
    assert "0.100 to 0.200, by 2 of 2 judges" in html


def test_no_judge_is_named_on_it(reviewer: Run, tmp_path: Path) -> None:
    case = routine(tmp_path / "a.case", "pullover", "sole-circle", "underswing-dismount")
    _, out, _ = reviewer("coach", case, "-o", tmp_path / "page", "--json")
    text = "".join(page.extract_text() for page in pypdf.PdfReader(tmp_path / "page" / "coach.pdf").pages)
    assert '"judge":' not in out
    assert "judge A" not in text
    assert "judge B" not in text
    assert "a qualified coach decides" in text


def test_the_same_case_gives_the_same_bytes(reviewer: Run, recorded: Path, tmp_path: Path) -> None:
    for name in ("first", "second"):
        assert reviewer("coach", recorded, "-o", tmp_path / name)[0] == 0
    names = {one.relative_to(tmp_path / "first") for one in (tmp_path / "first").rglob("*.*")}
    assert {"coach.html", "coach.pdf", "coach.json", "1.mp4"} <= {one.name for one in names}
    for name in names:
        assert (tmp_path / "first" / name).read_bytes() == (tmp_path / "second" / name).read_bytes()


def test_a_cost_leads_to_its_picture(reviewer: Run, recorded: Path, tmp_path: Path) -> None:
    assert reviewer("coach", recorded, "-o", tmp_path / "page")[0] == 0
    found = checked("coach", json.loads((tmp_path / "page" / "coach.json").read_bytes()))
    html = (tmp_path / "page" / "coach.html").read_text(encoding="utf-8")
    assert len(found["stills"]) == len(found["possible"]) == 3
    for still in found["stills"]:
        assert f'href="#{still["id"]}"' in html
        assert f'id="{still["id"]}"' in html


def test_consent_may_be_said_for_one_use_after_another(reviewer: Run, tmp_path: Path) -> None:
    case = routine(tmp_path / "a.case", "pullover", "underswing-dismount", uses=())
    assert reviewer("consent", case, "--for", "coach", "--for", "inquiry,teaching")[0] == 0
    with actions.open_case(case, author=None) as audit:
        assert set(audit.permission.uses) == {"inquiry", "teaching", "coach"}


def test_each_cost_has_a_clip_that_the_page_plays_and_the_case_keeps(
    reviewer: Run, recorded: Path, browser: Browser, tmp_path: Path
) -> None:
    assert reviewer("coach", recorded, "-o", tmp_path / "page")[0] == 0
    page = browser.new_page()
    page.goto((tmp_path / "page" / "coach.html").as_uri())
    assert page.locator("video").count() == 3
    for place in range(3):
        video = page.locator("video").nth(place)
        video.evaluate("one => { one.muted = true; return one.play(); }")
        assert video.evaluate("one => one.videoWidth") == 1280
        assert video.get_attribute("aria-label").startswith("Clip: ")
    page.close()
    with actions.open_case(recorded, author=None) as audit:
        left = [event.payload["sha256"] for event in audit.case.events if event.kind == "clip-written"]
    clips = sorted((tmp_path / "page" / "clips").iterdir())
    assert [sha256(one.read_bytes()).hexdigest() for one in clips] == left[-3:]


def test_what_two_judges_took_on_one_frame_is_shown_once(reviewer: Run, tmp_path: Path) -> None:
    case = judged(tmp_path / "two.case", filmed(tmp_path / "routine.mp4"), ("coach",))
    code, out, _ = reviewer("coach", case, "-o", tmp_path / "page", "--json")
    (arms,) = checked("coach", json.loads(out))["possible"]
    assert code == 0
    assert (arms["taken_by"], len(arms["marks"])) == (2, 1)
    assert (tmp_path / "page" / "coach.html").read_text(encoding="utf-8").count(arms["marks"][0]["clip"]) == 1


@pytest.mark.parametrize("width", [390, 720, 1280])
def test_what_several_judges_took_lies_over_nothing_else(
    reviewer: Run, browser: Browser, tmp_path: Path, width: int
) -> None:
    case = routine(tmp_path / "a.case", "pullover", "sole-circle", "underswing-dismount")
    assert reviewer("coach", case, "-o", tmp_path / "page")[0] == 0
    page = browser.new_page(viewport={"width": width, "height": 900})
    page.goto((tmp_path / "page" / "coach.html").as_uri())
    wide = page.eval_on_selector_all(
        "td", "cells => cells.filter(one => one.scrollWidth > one.clientWidth + 1).map(one => one.innerText)"
    )
    page.close()
    assert wide == []


def test_clips_of_an_earlier_page_go_and_what_is_no_clip_of_the_case_stays(
    reviewer: Run, tmp_path: Path
) -> None:
    case = judged(tmp_path / "two.case", filmed(tmp_path / "routine.mp4"), ("coach",))
    with actions.open_case(case, author="A") as audit:
        legs = {"code": "legs-apart", "element": "m1", "amount": Points.parse("0.100"), "judge": "A"}
        actions.place_mark(audit, kind="fault", at=0, **legs)  # type: ignore[arg-type]
    clips = tmp_path / "page" / "clips"
    assert reviewer("coach", case, "-o", tmp_path / "page")[0] == 0
    first = sorted(one.name for one in clips.iterdir())
    own = clips / "77.mp4"
    own.write_bytes(b"somebody else's")
    with actions.open_case(case, author="A") as audit:
        for mark in [one for one in audit.marks if one.kind == "fault" and one.judge == "A"]:
            actions.withdraw_mark(audit, mark.id)
    assert reviewer("coach", case, "-o", tmp_path / "page")[0] == 0
    assert len(first) > len(sorted(clips.iterdir())) - 1 == 1
    assert own.exists()


def test_on_a_full_disk_no_page_is_left_half_written(
    reviewer: Run, recorded: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    command = ("coach", recorded, "-o", tmp_path / "page", "--no-clips")
    assert reviewer(*command)[0] == 0
    before = {one.name: one.read_bytes() for one in (tmp_path / "page").iterdir()}

    write = Path.write_bytes

    def full(path: Path, content: bytes) -> int:
        if path.parent != tmp_path / "page":
            return write(path, content)
        write(path, content[:100])
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "write_bytes", full)
    code, _, said = reviewer(*command)
    monkeypatch.undo()
    assert code == 2
    assert "coach.html: No space left on device" in said
    assert {one.name: one.read_bytes() for one in (tmp_path / "page").iterdir()} == before


def test_a_cast_called_by_eye_is_told_to_a_tenth(reviewer: Run, tmp_path: Path) -> None:
    case = routine(tmp_path / "a.case", "pullover", "cast", "underswing-dismount")
    with actions.open_case(case, author="A") as audit:
        cast = next(one for one in audit.marks if one.code == "cast")
        actions.change_mark(audit, replace(cast, angle=CastAngle("eye", Degrees.parse("-44"))))
    assert reviewer("coach", case, "-o", tmp_path / "page")[0] == 0
    assert "−44.0° by eye" in (tmp_path / "page" / "coach.html").read_text(encoding="utf-8")


def test_a_page_without_clips_writes_nothing_into_the_case(
    reviewer: Run, recorded: Path, tmp_path: Path
) -> None:
    before = recorded.read_bytes()
    assert reviewer("coach", recorded, "-o", tmp_path / "page", "--no-clips")[0] == 0
    assert recorded.read_bytes() == before
    assert not (tmp_path / "page" / "clips").exists()


def test_heads_that_are_covered_are_so_in_the_pictures_once_somebody_looked_through(
    reviewer: Run, tmp_path: Path
) -> None:
    case = judged(tmp_path / "covered.case", filmed(tmp_path / "routine.mp4"), ("coach",))
    assert reviewer("coach", case, "-o", tmp_path / "bare", "--no-clips")[0] == 0
    with actions.open_case(case, author="A") as audit:
        actions.place_cover(audit, "a", 0, Cover.of_whole(160, 90, 30, 30))
        actions.follow_heads(audit)
    command = ("coach", case, "-o", tmp_path / "page")
    code, out, _ = reviewer(*command, "--json")
    assert code == 2
    assert json.loads(out)["problems"][0]["code"] == "covers-not-reviewed"
    assert not list((tmp_path / "page").rglob("*.*"))
    with actions.open_case(case, author="A") as audit:
        actions.confirm_covers(audit, 0, 59)
    assert reviewer(*command)[0] == 0
    shown, bare = (
        pictures_in((tmp_path / name / "coach.html").read_text(encoding="utf-8")) for name in ("page", "bare")
    )
    assert shown.keys() == bare.keys() != set()
    assert all(shown[name] != bare[name] for name in shown)


@pytest.mark.parametrize("width", [390, 1280])
def test_both_pages_break_no_rule_of_accessibility(
    reviewer: Run, recorded: Path, tmp_path: Path, width: int
) -> None:
    other = routine(tmp_path / "b.case", "pullover", "sole-circle", "underswing-dismount")
    for name, cases in (("one", [recorded]), ("many", [recorded, other])):
        assert reviewer("coach", *cases, "-o", tmp_path / name, "--no-clips")[0] == 0
        html = (tmp_path / name / "coach.html").read_text(encoding="utf-8")
        assert rules_broken(html, tmp_path, width) == []


def test_several_routines_of_one_athlete_are_set_side_by_side(
    reviewer: Run, recorded: Path, tmp_path: Path
) -> None:
    other = routine(tmp_path / "b.case", "pullover", "sole-circle", "underswing-dismount")
    code, out, _ = reviewer("coach", other, recorded, "-o", tmp_path / "page", "--json")
    found = checked("coach-history", json.loads(out))
    assert code == 0
    first, second = found["routines"]
    assert (first["final_score"], second["number"]) == ("9.650", 2), "the earlier one first"
    arms = next(one for one in found["kinds"] if one["name"] == "Arms bent")
    assert arms["points"] == ["0.100", "0.200"]
    circle = next(one for one in found["requirements"] if "cast" in one["name"])
    assert circle["met"] == [True, False]
    assert set(found["charts"]) == {"kinds", "casts"}
    for drawn in found["charts"].values():
        assert ET.fromstring(drawn).tag.endswith("svg")


def test_drawings_on_one_page_share_no_id(reviewer: Run, recorded: Path, tmp_path: Path) -> None:
    other = routine(tmp_path / "b.case", "pullover", "sole-circle", "underswing-dismount")
    assert reviewer("coach", other, recorded, "-o", tmp_path / "page")[0] == 0
    page = browse(tmp_path / "page" / "coach.html")
    names = [part.split('"')[0] for part in page.split(' id="')[1:]]
    assert len(names) == len(set(names))


@pytest.mark.parametrize(
    ("cases", "said"),
    [
        (("mine", "mine"), "doubled"),
        (("mine", "hers"), "another-athlete"),
        (("unasked",), "no-consent"),
        (("mine", "unasked"), "no-consent"),
        (("part",), "part-only"),
    ],
)
def test_what_no_page_is_made_of(reviewer: Run, tmp_path: Path, cases: tuple[str, ...], said: str) -> None:
    codes = ("pullover", "sole-circle", "underswing-dismount")
    made = {
        "mine": routine(tmp_path / "mine.case", *codes),
        "hers": routine(tmp_path / "hers.case", *codes, athlete="G-08"),
        "unasked": routine(tmp_path / "unasked.case", *codes, uses=()),
        "part": routine(tmp_path / "part.case", *codes),
    }
    with actions.open_case(made["part"], author="A") as audit:
        actions.limit_audit(audit, ("execution",))
    code, out, _ = reviewer("coach", *(made[one] for one in cases), "-o", tmp_path / "page", "--json")
    assert code == 2
    assert [one["code"] for one in json.loads(out)["problems"]] == [said]
    assert not (tmp_path / "page").exists(), "nothing is written"
