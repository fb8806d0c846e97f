"""Consent recorded for many routines of a meet at once."""

from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions.audit import AuditError
from reviewer.terms.problems import DocumentError
from tests.actions.small_meet import TODAY, begun


def give(meet: Path, *uses: str, starts: tuple[str, ...] = (), **also: str) -> dict[str, list[str]]:
    found = actions.give_meet_consent(
        meet, actions.Given(uses, **also), author="A", today=TODAY, starts=starts
    )
    return {name: found[name] for name in ("given", "there", "withdrawn", "no_case")}


def covered(meet: Path, start: str) -> list[str]:
    with actions.open_case(meet / "cases" / f"{start}.case", author=None) as audit:
        uses: list[str] = actions.consent_document(audit, TODAY)["uses"]
        return uses


def test_consent_is_recorded_for_all_and_once(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 3, consent="not recorded")
    nothing = {"there": [], "withdrawn": [], "no_case": []}
    assert give(meet, "inquiry", by="parent") == {"given": ["1", "2", "3"], **nothing}
    assert covered(meet, "3") == ["inquiry"]
    before = [path.read_bytes() for path in sorted((meet / "cases").iterdir())]
    assert give(meet, "inquiry", by="parent") == {"given": [], **nothing, "there": ["1", "2", "3"]}
    assert [path.read_bytes() for path in sorted((meet / "cases").iterdir())] == before


def test_it_is_recorded_for_some_alone(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 3, consent="not recorded")
    assert give(meet, "teaching", "inquiry", starts=("2",))["given"] == ["2"]
    assert (covered(meet, "1"), covered(meet, "2")) == ([], ["inquiry", "teaching"])


def test_what_was_withdrawn_stays_withdrawn(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 3)
    with actions.open_case(meet / "cases" / "2.case", author="A") as audit:
        actions.withdraw_consent(audit)
    (meet / "cases" / "3.case").unlink()
    found = give(meet, "inquiry", until="2027-06-30")
    assert found == {"given": ["1"], "there": [], "withdrawn": ["2"], "no_case": ["3"]}
    assert covered(meet, "2") == []


def test_what_is_asked_wrongly_is_said_once_and_nothing_is_written(tmp_path: Path) -> None:
    meet = begun(tmp_path / "meet", 3, consent="not recorded")
    with pytest.raises(AuditError) as fault:
        give(meet, "selling")
    assert [one.where for one in fault.value.problems] == ["--for"]
    with pytest.raises(DocumentError, match="no such routine"):
        give(meet, "inquiry", starts=("1", "9"))
    assert covered(meet, "1") == []
