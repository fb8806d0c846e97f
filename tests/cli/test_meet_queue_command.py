"""A meet audited as a user does it: reasons, lots, bags out and home, and two auditors held together."""

import json
import shlex
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from reviewer import actions
from reviewer.terms.meets import Start
from tests.actions.small_meet import begun, mark, meet_of
from tests.actions.small_meet import sheet as posted

Run = Callable[..., tuple[int, str, str]]
CLIP = Path(__file__).resolve().parents[2] / "sample_clips" / "off-axis-fall.mp4"


@pytest.fixture
def meet(tmp_path: Path) -> Path:
    """Four routines with a case each, and no recording."""
    return begun(tmp_path / "evening", 4)


def answered(found: tuple[int, str, str]) -> dict[str, Any]:
    document: dict[str, Any] = json.loads(found[1])
    return document


def problem(found: tuple[int, str, str]) -> str:
    assert found[0] == 2
    (said,) = answered(found)["problems"]
    return str(said["code"])


def test_a_whole_meet_from_lots_to_agreement(
    reviewer: Run, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    begun(tmp_path / "evening", 3, recording=CLIP)
    monkeypatch.chdir(tmp_path)
    assert reviewer("meet", "choose", "evening", "--number", "2", "--seed", "spring")[0] == 0
    code, out, err = reviewer(
        "meet", "assign", "evening", "--auditors", "K,L", "--double", "2", "--seed", "4"
    )
    assert (code, len(out.splitlines())) == (0, 4)
    assert "Tasks given: 4, seed 4." in err
    for auditor in "KL":
        code, out, err = reviewer("meet", "send", "evening", auditor, "-o", f"bag-{auditor}")
        assert (code, "tasks 2, recordings 2" in out) == (0, True)
        assert "byte for byte, uncovered" in err
        code, out, _ = reviewer("meet", "unpack", f"bag-{auditor}", "-o", f"tasks-{auditor}")
        assert f"You are auditor {auditor}. At the desk: `reviewer desk tasks-{auditor}/" in out
        for case in sorted(Path(f"tasks-{auditor}").glob("*.case")):
            mark(case, auditor)
            assert reviewer("seal", case)[0] == 0
        code, out, _ = reviewer("meet", "return", f"tasks-{auditor}", "-o", f"home-{auditor}")
        assert (code, out.count("marks 5, sealed")) == (0, 2)
        code, out, err = reviewer("meet", "receive", "evening", f"home-{auditor}")
        assert (code, out.count("taken: events 6, marks 5"), err) == (0, 2, "")
    found = answered(reviewer("meet", "queue", "evening", "--json"))
    assert {one["state"] for one in found["tasks"]} == {"home"}
    code, out, _ = reviewer(*shlex.split(found["agreement"])[1:])
    assert (code, out.splitlines()[0]) == (0, "2 routines, judges K, L")
    for one in found["doubles"]:
        for command in one["commands"]:
            assert reviewer(*shlex.split(command)[1:])[0] == 0
    _, out, _ = reviewer("meet", "queue", "evening")
    assert out.count("settlement in") == 2


def test_reasons_are_listed_with_what_cannot_be_told(reviewer: Run, tmp_path: Path) -> None:
    starts = [Start("1", 2, posted=posted("9.100", "9.900")), Start("2", 3)]
    folder = meet_of(tmp_path / "evening", starts)
    code, out, err = reviewer("meet", "triggers", folder, "--only", "spread")
    assert code == 0
    assert out.startswith("1        spread         The counting scores lie 0.800 apart")
    assert err.splitlines() == [
        "1 of 2 routines.",
        "spread: cannot be told of 2. Scores of fewer than two judges were posted.",
    ]
    assert problem(reviewer("meet", "triggers", folder, "--only", "height", "--json")) == "unknown-trigger"


def test_a_choice_is_told_with_its_seed_and_how_to_size_a_sample(reviewer: Run, meet: Path) -> None:
    code, out, err = reviewer("meet", "choose", meet, "--number", "2", "--seed", "7")
    assert (code, len(out.splitlines())) == (0, 2)
    assert "2 of 4 by lot, seed 7, newly chosen: 2." in err
    assert "reviewer meet size --of 4" in err
    assert "prove nothing" in reviewer("meet", "choose", meet, "--number", "2", "--seed", "8")[2]
    assert problem(reviewer("meet", "choose", meet, "--number", "9", "--seed", "7", "--json")) == "no-sample"
    assert problem(reviewer("meet", "choose", meet, "9", "--json")) == "unknown-start"
    code, out, _ = reviewer("meet", "choose", meet, "--trigger", "spread")
    assert (code, out) == (1, "")


@pytest.mark.parametrize(
    "words",
    [
        (),
        ("--number", "2"),
        ("--seed", "7"),
        ("1", "--number", "2", "--seed", "7"),
        ("1", "--trigger", "all"),
        ("1", "--by", "division"),
    ],
)
def test_one_way_of_choosing_at_a_time(reviewer: Run, meet: Path, words: tuple[str, ...]) -> None:
    assert reviewer("meet", "choose", meet, *words)[0] == 2


def test_who_must_not_audit_what_is_said_by_routine(reviewer: Run, meet: Path) -> None:
    reviewer("meet", "choose", meet, "1", "2")
    words = ("meet", "assign", meet, "--auditors", "K,L", "--seed", "1")
    found = answered(reviewer(*words, "--not-for", "K:1", "--not-for", "K:2", "--json"))
    assert [one["auditor"] for one in found["tasks"]] == ["L", "L"]
    assert reviewer(*words, "--not-for", "K")[0] == 2
    assert reviewer(*words)[2] == "No chosen routine waits for an auditor.\n"
    code, out, _ = reviewer("meet", "unassign", meet, "1", "L")
    assert (code, out) == (0, "1 is taken back from auditor L.\n")


def test_what_is_left_behind_is_named_by_file(
    reviewer: Run, meet: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.chdir(tmp_path)
    reviewer("meet", "choose", meet, "1", "2", "3")
    reviewer("meet", "assign", meet, "--auditors", "K", "--seed", "1")
    reviewer("meet", "send", meet, "K", "-o", "bag")
    reviewer("meet", "unpack", "bag", "-o", "tasks")
    code, _, err = reviewer("meet", "return", "tasks", "-o", "home")
    assert (code, err.count("Nothing was marked in it since it was sent.")) == (2, 3)
    mark(Path("tasks/1.case"), "A")
    code, out, err = reviewer("meet", "return", "tasks", "-o", "home", "--unchanged", "2")
    assert (code, out.splitlines()[:2]) == (
        0,
        ["1        marks 5, not sealed", "2        marks 0, not sealed"],
    )
    assert err.splitlines()[0] == "These stay here:"
    assert err.splitlines()[1].startswith("tasks/3.case: Nothing was marked")
    code, out, err = reviewer("meet", "receive", meet, "home")
    assert code == 0
    assert "1: written by A, and the task is auditor K's." in err
    code, out, _ = reviewer("meet", "receive", meet, "home")
    assert (code, out.count("nothing new")) == (0, 2)


def test_a_case_left_out_for_consent_answers_no(reviewer: Run, meet: Path, tmp_path: Path) -> None:
    reviewer("meet", "choose", meet, "1", "2")
    reviewer("meet", "assign", meet, "--auditors", "K", "--seed", "1")
    actions.send(meet, "K", tmp_path / "bag", today="2026-11-26")
    actions.unpack_tasks(tmp_path / "bag", tmp_path / "tasks")
    for name in "12":
        mark(tmp_path / "tasks" / f"{name}.case", "K")
    actions.pack_return(tmp_path / "tasks", tmp_path / "home", today="2026-11-26")
    reviewer("consent", meet / "cases" / "2.case", "--withdraw")
    code, out, err = reviewer("meet", "receive", meet, tmp_path / "home")
    assert (code, "1        taken" in out) == (1, True)
    assert err.splitlines()[0] == "These were not taken:"
    assert err.splitlines()[1].startswith("2.case: Consent to the use of this recording was withdrawn")


@pytest.mark.parametrize("command", ["triggers", "queue", "choose", "assign", "send", "receive"])
def test_a_folder_without_a_meet_is_refused_and_stays_empty(
    reviewer: Run, tmp_path: Path, command: str
) -> None:
    more = {
        "choose": ("1",),
        "assign": ("--auditors", "K"),
        "send": ("K", "-o", tmp_path / "bag"),
        "receive": (tmp_path / "bag",),
    }
    empty = tmp_path / "empty"
    empty.mkdir()
    assert problem(reviewer("meet", command, empty, *more.get(command, ()), "--json")) == "no-meet"
    assert list(empty.iterdir()) == []


def test_consent_for_a_whole_meet_is_one_command(reviewer: Run, tmp_path: Path) -> None:
    meet = begun(tmp_path / "evening", 3, consent="not recorded")
    reviewer("consent", meet / "cases" / "2.case", "--withdraw")
    code, out, _ = reviewer("meet", "consent", meet, "--for", "inquiry", "--by", "parent")
    assert (code, out.splitlines()) == (
        0,
        ["Consent recorded: 2; there already: 0.", "Withdrawn, and left so: 2"],
    )
    assert problem(reviewer("meet", "consent", meet, "--json")) == "no-use"
    assert problem(reviewer("meet", "consent", meet, "9", "--for", "inquiry", "--json")) == "unknown-start"
