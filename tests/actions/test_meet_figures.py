"""What audited routines say of a meet, from its cases; and its report."""

import json
import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator
from referencing import Registry, Resource

from reviewer import actions, casefile
from reviewer.actions.meetfigures import meet_figures, speaking
from reviewer.actions.meetreporting import meet_report_document, write_meet_report
from reviewer.exchange.meets import read_meet, write_meet
from reviewer.terms.canonical import readable
from reviewer.terms.exact import Points
from reviewer.terms.meets import BY_LOT, Choice, Meet
from reviewer.words import saying
from tests.actions.drawn_meet import LEANS, draw_meet
from tests.actions.small_meet import back, begun, given, mark, out

ROOT = Path(__file__).resolve().parents[2]
SCHEMAS = ROOT / "annotations" / "schemas"
ROUTINES, DRAWN = 60, 25


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("drawn") / "meet"
    draw_meet(folder, ROUTINES, DRAWN, by="division")
    return folder


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    draw_meet(tmp_path / "meet", 12, 6)
    return tmp_path / "meet"


def valid(document: dict[str, Any]) -> None:
    own = {path.name: json.loads(path.read_bytes()) for path in SCHEMAS.glob("*.json")}
    found = [(name, Resource.from_contents(schema)) for name, schema in own.items()]
    registry: Registry[Any] = Registry().with_resources(found)
    Draft202012Validator(own["meet-report.schema.json"], registry=registry).validate(document)


def changed(meet: Path, **said: Any) -> Meet:
    found = replace(read_meet(meet), **said)
    write_meet(meet, found)
    return found


def test_the_lot_speaks_and_what_was_chosen_otherwise_stands_apart(drawn: Path) -> None:
    found = meet_figures(drawn)
    valid(found | {"language": "en", "charts": {}})
    assert (found["by_lot"]["audited"], found["by_lot"]["of"]) == (DRAWN, ROUTINES)
    assert (found["others"]["audited"], found["others"]["by_lot"]) == (2, False)
    assert [one["start"] for one in found["routines"]] == [str(at) for at in range(1, DRAWN + 3)]
    assert sum(one["of"] for one in found["by_lot"]["strata"]) == ROUTINES


def test_a_routine_stands_as_its_case_scores_it(drawn: Path) -> None:
    for one in meet_figures(drawn)["routines"][:5]:
        sheet = actions.score_document(drawn / one["case"])
        assert one["final"]["audited"] == sheet["final_score"]
        assert one["start_value"]["audited"] == sheet["start_value"]
        assert one["audited"] == sheet["panel_average"]
        seen = sheet["full_speed"]
        assert one["final_at_full_speed"] == (seen or sheet)["final_score"]


def test_wrong_start_values_lead_to_the_routines_that_have_them(drawn: Path) -> None:
    found = meet_figures(drawn)
    wrong = [
        one["start"]
        for one in found["routines"]
        if one["by_lot"] and one["start_value"]["posted"] != one["start_value"]["audited"]
    ]
    assert found["by_lot"]["wrong_start"]["routines"] == wrong
    clauses = {clause["clause"] for one in found["routines"] for clause in one["misapplied"]}
    assert clauses == {one["clause"] for one in found["by_lot"]["clauses"]}


def test_judges_lean_as_they_were_drawn(drawn: Path) -> None:
    """The meet's own leanings are the reference: each within three standard errors of what was drawn."""
    for one in meet_figures(drawn)["by_lot"]["judges"]:
        bias = float(one["audited"]["mean"]["value"])
        assert abs(bias - LEANS[one["judge"]] / 1000) < 3 * 0.12 / DRAWN**0.5 + 0.01


def test_the_first_lot_speaks_as_far_as_it_was_drawn_on() -> None:
    def lot(seed: str, *starts: str) -> Choice:
        return Choice(BY_LOT, starts, 9, seed=seed)

    first, onward, other = lot("a", "1", "2"), lot("a", "1", "2", "3"), lot("b", "4", "5", "6", "7")
    meet = Meet("demo-bars-2", None, "*{start}*", (), (first, other, onward))
    assert speaking(meet) == onward
    assert speaking(replace(meet, choices=())) is None


def test_drawing_until_it_pleases_is_said(meet: Path) -> None:
    own = read_meet(meet)
    again = Choice(BY_LOT, ("7", "8"), 12, seed="winter")
    changed(meet, choices=(*own.choices, again))
    found = meet_figures(meet)
    assert found["lot"]["seed"] == "autumn"
    assert "until they please" in " ".join(found["lot"]["remarks"])


def test_routines_that_are_still_to_be_audited_are_named(meet: Path) -> None:
    (meet / "cases" / "3.case").unlink()
    found = meet_figures(meet)
    assert found["lot"]["waiting"] == ["3"]
    assert found["by_lot"]["audited"] == 5


def test_a_case_that_cannot_be_read_is_left_out_and_said(meet: Path) -> None:
    (meet / "cases" / "2.case").write_bytes(b"none")
    found = meet_figures(meet)
    assert [one["where"].split(":")[0] for one in found["problems"]] == ["2.case"]
    assert "2" in found["lot"]["waiting"]


def test_withdrawn_consent_takes_a_routine_out_of_all_figures(meet: Path) -> None:
    with casefile.open_case(meet / "cases" / "4.case", "K") as case:
        case.append("consent-changed", {"consent": "withdrawn"})
    found = meet_figures(meet)
    assert "4" not in [one["start"] for one in found["routines"]]
    assert "4" in found["lot"]["waiting"]


def test_a_letter_is_another_judge_on_another_panel(meet: Path) -> None:
    own = read_meet(meet)
    starts = [
        replace(one, groups={**one.groups, "panel": str(1 + at % 2)}) for at, one in enumerate(own.starts)
    ]
    changed(meet, starts=tuple(starts))
    found = meet_figures(meet)
    valid(found | {"language": "en", "charts": {}})
    assert [one["judge"] for one in found["by_lot"]["judges"]] == ["1/A", "1/B", "1/C", "2/A", "2/B", "2/C"]
    assert {one["number"] for one in found["by_lot"]["judges"]} == {3}
    assert "2/A is judge A of panel 2" in " ".join(found["cautions"])
    changed(meet, starts=tuple(replace(one, groups={"panel": "1"}) for one in own.starts))
    assert [one["judge"] for one in meet_figures(meet)["by_lot"]["judges"]] == ["A", "B", "C"]


def test_what_two_auditors_found_apart_is_said_until_it_is_settled(tmp_path: Path) -> None:
    """The auditors have the same routine but for the second's fall, and the first one's sheet counts."""
    folder = begun(tmp_path / "meet", 1)
    first, second = (task.auditor for task in given(folder, "KL", double=1))
    sheets = []
    for auditor in (first, second):
        case = mark(out(folder, auditor, tmp_path) / "1.case", auditor)
        with actions.open_case(case, author=auditor) as audit:
            if auditor == second:
                actions.place_mark(audit, kind="fault", code="fall", amount=Points(500), judge=auditor)
            actions.seal(audit)
        actions.receive(folder, back(case.parent, f"home-{auditor}"), author="H")
        sheets.append(folder / "audited" / f"1.{auditor}.case")
    assert counted(folder) == ([first], f"audited/1.{first}.case")
    settled = folder / "audited" / "1.settled.case"
    with actions.begin_settlement(*sheets, settled, "S") as audit:
        waiting = [one["line"] for one in actions.settlement_document(audit)["lines"] if one["taken"] is None]
        assert [one["open"] for one in actions.meet_queue(folder)["doubles"]] == [len(waiting)]
        assert counted(folder) == ([first], f"audited/1.{first}.case")
        for line in waiting:
            actions.settle_line(audit, line, "second")
    assert [one["open"] for one in actions.meet_queue(folder)["doubles"]] == [0]
    write_meet_report(folder, tmp_path / "report", language="de")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "Endwertung, Alle gleich: Nichts lässt sich schließen" in page
    assert "final score" not in page
    assert counted(folder) == ([], "audited/1.settled.case")


def counted(folder: Path) -> tuple[list[str], str]:
    """Whose sheets count until routines are settled, and the case of the only one that is audited."""
    found = meet_figures(folder)
    (routine,) = found["routines"]
    return [one["auditor"] for one in found["unsettled"]], routine["case"]


def test_no_picture_is_drawn_of_judges_of_whom_nothing_may_be_concluded(meet: Path, drawn: Path) -> None:
    assert "judges" in meet_report_document(drawn)["charts"]
    assert "judges" not in meet_report_document(meet)["charts"]


def test_without_a_lot_nothing_speaks_of_the_meet(meet: Path, tmp_path: Path) -> None:
    changed(meet, choices=())
    found = meet_figures(meet)
    assert found["lot"] is None
    assert found["by_lot"] is None
    write_meet_report(meet, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "nothing here speaks of the meet as a whole" in page


def test_a_meet_of_which_nothing_is_audited_has_a_report_too(meet: Path, tmp_path: Path) -> None:
    for case in (meet / "cases").iterdir():
        case.unlink()
    write_meet_report(meet, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "No routine is audited yet." in page


def test_a_report_has_the_same_bytes_every_time(drawn: Path, tmp_path: Path) -> None:
    first, again = (write_meet_report(drawn, tmp_path / name)["files"] for name in ("one", "other"))
    assert first == again
    assert set(first) == {"report.html", "report.pdf", "report.json"}
    valid(json.loads((tmp_path / "one" / "report.json").read_bytes()))


def test_a_report_is_derived_again_and_every_change_is_named(drawn: Path, tmp_path: Path) -> None:
    report = tmp_path / "report"
    write_meet_report(drawn, report)
    found = actions.verify(report, meet=drawn)
    assert (found["same"], found["checked"]) == (True, ["files", "ledger", "pages"])
    assert [one["what"] for one in actions.verify(report)["not_checked"]] == ["ledger"]
    stored = json.loads((report / "report.json").read_bytes())
    share, stored["by_lot"]["wrong_start"]["value"] = stored["by_lot"]["wrong_start"]["value"], "0.9000"
    (report / "report.json").write_bytes(readable(stored))
    found = actions.verify(report, meet=drawn)
    assert {one["what"] for one in found["differences"]} == {"file", "page"}
    named = [one for one in found["differences"] if one["where"] == "report.json: by_lot.wrong_start.value"]
    assert [(one["stored"], one["derived"]) for one in named] == [("0.9000", share)]
    (report / "report.json").write_text('{"format": "reviewer.meet-report/1"}', encoding="utf-8")
    assert not actions.verify(report)["same"]


def test_a_report_says_what_the_meet_is_called(meet: Path, tmp_path: Path) -> None:
    changed(meet, title="Autumn meet, day 1")
    write_meet_report(meet, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    assert "<b><bdi>Autumn meet, day 1</bdi></b>" in page
    valid(json.loads((tmp_path / "report" / "report.json").read_bytes()))


def test_every_figure_leads_to_rows_that_are_there(drawn: Path, tmp_path: Path) -> None:
    write_meet_report(drawn, tmp_path / "report")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    led = {part.split('"')[0] for part in page.split('href="#')[1:]}
    there = {part.split('"')[0] for part in page.split(' id="')[1:]}
    assert {f"routine-{at}" for at in range(1, 3)} <= led
    assert led <= there


def test_a_report_in_german_holds_no_english_sentence(drawn: Path, tmp_path: Path) -> None:
    write_meet_report(drawn, tmp_path / "report", language="de")
    page = (tmp_path / "report" / "report.html").read_text(encoding="utf-8")
    told = re.sub(r"<style.*?</style>|<svg.*?</svg>|<[^>]+>", " ", page, flags=re.DOTALL)
    assert saying("de")("By judge") in told
    for english in ("routines", "Judges", "Wrong start value", "spread", "posted"):
        assert english not in told
