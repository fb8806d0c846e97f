"""A case whose consent was withdrawn is not merged: that would copy it."""

from pathlib import Path

import pytest

from reviewer import actions
from reviewer.terms.problems import ReviewerError


def begun(path: Path, author: str, *, withdrawn: bool = False) -> Path:
    with actions.start_case(path, author=author, athlete_code="G-1", consent="given") as audit:
        if withdrawn:
            actions.withdraw_consent(audit)
    return path


@pytest.mark.parametrize("which", ["first", "second", "both"])
def test_neither_of_two_cases_may_be_withdrawn_nor_one_merged_with_itself(tmp_path: Path, which: str) -> None:
    locked = begun(tmp_path / "a.case", "A", withdrawn=True)
    other = locked if which == "both" else begun(tmp_path / "b.case", "B")
    pair = (other, locked) if which == "second" else (locked, other)
    with pytest.raises(ReviewerError) as refused:
        actions.merge_cases(*pair, tmp_path / "c.case", author="C", although_other_recording=True)
    assert {(one.code, one.where) for one in refused.value.problems} == {("consent-withdrawn", "a.case")}
    assert not (tmp_path / "c.case").exists()
