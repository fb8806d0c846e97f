"""A page to practise judging with, in a real browser without a network: looked at, called, keyed, tallied."""

import base64
import json
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Page, expect

from reviewer import actions
from reviewer.exchange import locking
from reviewer.terms.problems import DocumentError
from tests.cli.judged_routine import filmed, judged
from tests.reports.browsing import reached_by, rules_broken

Run = Callable[..., tuple[int, str, str]]
PHRASE = "a lantern by the quarry"
OPENING = 30_000
"""Milliseconds: drawing the key out of a pass phrase is slow on purpose."""


@pytest.fixture(scope="module")
def recording(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return filmed(tmp_path_factory.mktemp("filmed") / "routine.mp4")


@pytest.fixture(scope="module")
def case(tmp_path_factory: pytest.TempPathFactory, recording: Path) -> Path:
    return judged(tmp_path_factory.mktemp("judged") / "routine.case", recording)


@pytest.fixture(scope="module")
def pages(tmp_path_factory: pytest.TempPathFactory, case: Path) -> dict[str, Path]:
    """The page of the whole routine, and that of its elements in German."""
    folder = tmp_path_factory.mktemp("pages")
    made = {"whole": (False, "en"), "elements": (True, "de")}
    for name, (by_element, language) in made.items():
        with actions.open_case(case, author="A") as audit:
            actions.write_practice_page(
                actions.stretches_of([audit], by_element=by_element),
                folder / f"{name}.html",
                PHRASE,
                today=lambda: "2026-11-26",
                language=language,
            )
    return {name: folder / f"{name}.html" for name in made}


@pytest.fixture
def phone(browser: Browser) -> Iterator[Page]:
    """A telephone's screen that reaches no network; no script may fail on it."""
    context = browser.new_context(viewport={"width": 390, "height": 800}, offline=True, accept_downloads=True)
    page, faults = context.new_page(), []
    page.on("pageerror", lambda fault: faults.append(str(fault)))
    page.on("console", lambda said: faults.append(said.text) if said.type == "error" else None)
    yield page
    assert faults == []
    context.close()


def call(page: Page, parts: str, fault: str, amount: str) -> None:
    page.get_by_label("Value parts").first.fill(parts)
    page.get_by_label("Fault").select_option(fault)
    page.get_by_label("Amount").select_option(amount)
    page.get_by_role("button", name="Take it", exact=True).click()
    page.get_by_role("button", name="That is my call").click()


def unlock(page: Page, phrase: str, answer: str) -> None:
    page.get_by_label("Pass phrase").fill(phrase)
    page.keyboard.press("Enter")
    expect(page.locator("#opened")).to_contain_text(answer, timeout=OPENING)


def data_of(page: Path) -> dict[str, Any]:
    found = re.search(r'id="page">(.*?)</script>', page.read_text(encoding="utf-8"), re.DOTALL)
    assert found
    told: dict[str, Any] = json.loads(found[1])
    return told


def test_a_call_is_held_against_what_all_judges_took(pages: dict[str, Path], phone: Page) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label("Practise").check()
    phone.get_by_role("button", name="Clip 1").click()
    phone.get_by_label("A mount").check()
    call(phone, "3", "arms-bent", "0.300")
    assert "key is still locked" in phone.locator("#state").inner_text()
    assert phone.locator("#compared").inner_text() == ""
    unlock(phone, "another phrase", "does not open")
    assert phone.locator("#compared").inner_text() == ""
    unlock(phone, PHRASE, "The key is open")
    told = phone.locator("#compared").inner_text()
    assert "0.100 to 0.200, harder than all judges" in told
    assert "Judge 2 took 0.200: " in told
    tally = phone.locator("#tally").inner_text().split("\n")
    assert "Value parts called as in the key\t1 of 1" in tally
    assert "Arms bent\t1\t0\t0" in tally, "too hard on bent arms"


def test_a_test_plays_once_and_cannot_be_stopped(pages: dict[str, Path], phone: Page) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_role("button", name="Clip 1").click()
    phone.get_by_role("button", name="That is my call").click()
    assert "Look at the clip first" in phone.locator("#state").inner_text()
    begin = phone.get_by_role("button", name="Begin")
    begin.click()
    phone.evaluate("document.getElementById('video').pause()")
    menu = "new MouseEvent('contextmenu', {cancelable: true})"
    assert phone.evaluate(f"!document.getElementById('video').dispatchEvent({menu})"), "it offers controls"
    expect(phone.locator("#state")).to_contain_text("Over", timeout=OPENING)
    assert begin.is_disabled()
    assert phone.get_by_role("button", name="Play or stop").count() == 0


def test_calls_stay_in_the_browser_and_leave_it_as_a_file(
    pages: dict[str, Path], phone: Page, tmp_path: Path
) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label("Practise").check()
    phone.get_by_role("button", name="Clip 1").click()
    call(phone, "2", "arms-bent", "0.050")
    phone.reload()
    assert "called" in phone.locator("#list").inner_text()
    with phone.expect_download() as saved:
        phone.get_by_role("button", name="Save my tally").click()
    saved.value.save_as(tmp_path / "tally.json")
    found = json.loads((tmp_path / "tally.json").read_text())
    assert found["format"] == "reviewer.practice-tally/1"
    assert found["answers"]["c1"]["taken"] == [{"code": "arms-bent", "amount": "0.050"}]
    phone.get_by_role("button", name="Forget my calls").click()
    phone.reload()
    assert "not called yet" in phone.locator("#list").inner_text()


def test_what_the_key_has_told_is_not_counted_as_judged(
    pages: dict[str, Path], phone: Page, tmp_path: Path
) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label("Practise").check()
    phone.get_by_role("button", name="Clip 1").click()
    call(phone, "3", "arms-bent", "0.300")
    unlock(phone, PHRASE, "The key is open")
    for again in (False, True):
        if again:
            phone.get_by_role("button", name="Clip 1").click()
        assert phone.get_by_role("button", name="That is my call").is_disabled()
        assert phone.get_by_label("Value parts").first.is_disabled()
        assert "stay as they are" in phone.locator("#answer").inner_text()
    with phone.expect_download() as saved:
        phone.get_by_role("button", name="Save my tally").click()
    saved.value.save_as(tmp_path / "tally.json")
    counts = json.loads((tmp_path / "tally.json").read_text())["counts"]
    assert (counts["answered"], counts["hard"], counts["soft"], counts["within"]) == (1, 1, 0, 0)
    assert counts["kinds"] == {"arms-bent": {"hard": 1, "soft": 0, "within": 0}}


@pytest.mark.parametrize("way", ["Test", "Practise"])
def test_a_clip_that_was_looked_at_does_not_play_again_in_a_test(
    pages: dict[str, Path], phone: Page, way: str
) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label(way).check()
    phone.get_by_role("button", name="Clip 1").click()
    phone.get_by_role("button", name={"Test": "Begin", "Practise": "Play or stop"}[way]).click()
    expect.soft(phone.locator("#video")).to_have_js_property("paused", False)
    phone.reload()
    phone.get_by_label("Test").check()
    phone.get_by_role("button", name="Clip 1").click()
    assert phone.get_by_role("button", name="Begin").is_disabled()
    assert "does not play again" in phone.locator("#state").inner_text()


def test_no_number_and_no_word_of_a_table_is_broken_on_a_telephone(
    pages: dict[str, Path], phone: Page
) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label("Practise").check()
    phone.get_by_role("button", name="Clip 1").click()
    call(phone, "3", "arms-bent", "0.300")
    unlock(phone, PHRASE, "The key is open")
    lines = """all => all.filter(one => one.innerText && !one.innerText.includes(" ")).map(one => {
        const range = document.createRange();
        range.selectNodeContents(one);
        return range.getClientRects().length;
    })"""
    assert set(phone.eval_on_selector_all("td", lines)) == {1}, "each of one word stands on one line"


def test_it_is_worked_by_keys_alone(pages: dict[str, Path], phone: Page) -> None:
    phone.goto(pages["elements"].as_uri())
    phone.keyboard.press("Tab")
    phone.keyboard.press("ArrowDown")
    phone.keyboard.press("Tab")
    phone.keyboard.press("Enter")
    expect(phone.locator("#judging")).to_be_focused()
    seen = set()
    for _ in range(40):
        phone.keyboard.press("Tab")
        seen.add(phone.evaluate("document.activeElement.id || document.activeElement.textContent"))
    assert {"parts", "fault", "amount", "phrase", "save", "clear"} <= seen


def test_each_element_is_a_clip_of_its_own(pages: dict[str, Path]) -> None:
    told = data_of(pages["elements"])
    assert [one["whole"] for one in told["clips"]] == [False, False, False]
    assert [one["name"] for one in told["clips"]] == ["Clip 1", "Clip 2", "Clip 3"], (
        "nothing tells what it is"
    )


def test_the_key_cannot_be_read_without_its_pass_phrase(pages: dict[str, Path]) -> None:
    """The browser's own Web Cryptography opens it in the tests above: another implementation than ours."""
    text, told = pages["whole"].read_text(encoding="utf-8"), data_of(pages["whole"])
    opened = json.loads(locking.unlock(locking.Locked.from_json(told["key"]), PHRASE))
    (clip,) = opened["clips"]
    assert (clip["value_parts"], clip["least"], clip["most"]) == (3, "0.100", "0.200")
    for one in (*clip["judges"][0]["taken"], *clip["judges"][1]["taken"]):
        assert one["why"] not in text
    sealed = base64.b64decode(told["key"]["sealed"])
    assert b"value_parts" not in sealed
    with pytest.raises(DocumentError, match="does not open"):
        locking.unlock(locking.Locked.from_json(told["key"]), PHRASE + "s")


def test_two_pages_of_one_case_share_no_salt_and_no_nonce(pages: dict[str, Path]) -> None:
    keys = [data_of(page)["key"] for page in pages.values()]
    assert keys[0]["salt"] != keys[1]["salt"]
    assert keys[0]["nonce"] != keys[1]["nonce"]


@pytest.mark.parametrize("width", [390, 1280])
@pytest.mark.parametrize("name", ["whole", "elements"])
def test_no_rule_of_axe_core_is_broken(pages: dict[str, Path], name: str, width: int, tmp_path: Path) -> None:
    assert rules_broken(pages[name].read_text(encoding="utf-8"), tmp_path, width) == []


def test_nothing_reaches_beyond_the_side_of_a_telephone(pages: dict[str, Path], phone: Page) -> None:
    phone.goto(pages["whole"].as_uri())
    phone.get_by_label("Practise").check()
    phone.get_by_role("button", name="Clip 1").click()
    call(phone, "3", "arms-bent", "0.300")
    unlock(phone, PHRASE, "The key is open")
    assert phone.evaluate("document.documentElement.scrollWidth <= window.innerWidth")


def test_no_request_leaves_the_page(pages: dict[str, Path], tmp_path: Path) -> None:
    empty = tmp_path / "empty.html"
    empty.write_text("<p>Nothing.</p>", encoding="utf-8")
    page = tmp_path / "practice.html"
    page.write_bytes(pages["whole"].read_bytes())
    assert reached_by(page) <= reached_by(empty)


def test_the_case_keeps_that_a_page_was_made(reviewer: Run, recording: Path, tmp_path: Path) -> None:
    case, phrase = judged(tmp_path / "a.case", recording), tmp_path / "phrase.txt"
    phrase.write_text(PHRASE + "\n", encoding="utf-8")
    page = tmp_path / "page.html"
    code, out, _ = reviewer("practice", case, "-o", page, "--pass-phrase-file", phrase, "--json")
    found = json.loads(out)
    assert (code, found["clips"], found["bytes"]) == (0, 1, page.stat().st_size)
    with actions.open_case(case, author=None) as audit:
        last = audit.case.events[-1]
    assert (last.kind, last.payload["sha256"], last.payload["use"]) == (
        "clip-written",
        found["sha256"],
        "teaching",
    )


def test_the_passages_of_a_clip_set_become_a_page(reviewer: Run, recording: Path, tmp_path: Path) -> None:
    case, recipe = judged(tmp_path / "a.case", recording), tmp_path / "set.json"
    clips = [{"case": "a.case", "mark": "m4"}, {"case": "a.case", "frames": [0, 14]}]
    recipe.write_text(json.dumps({"format": "reviewer.clips/1", "title": "Arms", "clips": clips}))
    (tmp_path / "phrase.txt").write_text(PHRASE, encoding="utf-8")
    page = tmp_path / "page.html"
    command = ("practice", "--set", recipe, "-o", page, "--pass-phrase-file", tmp_path / "phrase.txt")
    assert reviewer(*command)[0] == 0
    told = data_of(page)
    opened = json.loads(locking.unlock(locking.Locked.from_json(told["key"]), PHRASE))
    first, second = opened["clips"]
    assert (first["least"], first["most"], first["requirements"]) == ("0.100", "0.200", None)
    assert (second["value_parts"], second["most"]) == (1, "0.000"), "only the first element lies in it"
    assert "Arms" not in json.dumps(told["clips"]), "captions would give the key away"
    assert case.exists()


def test_cases_or_a_set_are_named(reviewer: Run, case: Path, tmp_path: Path) -> None:
    page = tmp_path / "page.html"
    assert reviewer("practice", "-o", page)[0] == 2
    assert reviewer("practice", case, "--set", tmp_path / "set.json", "-o", page)[0] == 2


@pytest.mark.parametrize(
    ("cases", "phrase", "said"),
    [
        (("mine",), "short", "short-pass-phrase"),
        (("unasked",), PHRASE, "no-consent"),
        (("unfilmed",), PHRASE, "no-recording"),
        (("mine", "other"), PHRASE, "another-edition"),
    ],
)
def test_what_no_page_is_made_of(
    reviewer: Run, recording: Path, tmp_path: Path, cases: tuple[str, ...], phrase: str, said: str
) -> None:
    made = {
        "mine": judged(tmp_path / "mine.case", recording),
        "unasked": judged(tmp_path / "unasked.case", recording, ("inquiry",)),
        "unfilmed": judged(tmp_path / "unfilmed.case", None),
        "other": judged(tmp_path / "other.case", recording, book="demo-bars-2-previous"),
    }
    (tmp_path / "phrase.txt").write_text(phrase, encoding="utf-8")
    command = ["practice", *(made[one] for one in cases), "-o", tmp_path / "page.html"]
    code, out, _ = reviewer(*command, "--pass-phrase-file", tmp_path / "phrase.txt", "--json")
    assert code == 2
    assert [one["code"] for one in json.loads(out)["problems"]] == [said]
    assert list(tmp_path.glob("*page*")) == [], "nothing is left"


def test_a_page_that_is_there_is_not_written_over(reviewer: Run, case: Path, tmp_path: Path) -> None:
    page, phrase = tmp_path / "page.html", tmp_path / "phrase.txt"
    page.write_text("mine", encoding="utf-8")
    phrase.write_text(PHRASE, encoding="utf-8")
    code, _, err = reviewer("practice", case, "-o", page, "--pass-phrase-file", phrase)
    assert (code, page.read_text(encoding="utf-8")) == (2, "mine")
    assert "--replace" in err
