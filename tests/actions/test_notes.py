"""Notes: words of a judge's own, kept beside the chain and erased without breaking it."""

from pathlib import Path

import pytest

from reviewer import actions
from reviewer.actions import AuditError
from reviewer.casefile import check_chain

SQUARE_ON = Path(__file__).parents[2] / "sample_clips" / "square-on.mp4"


def test_a_note_keeps_its_frame_and_its_words_can_be_erased(tmp_path: Path) -> None:
    with actions.start_case(
        tmp_path / "r.case", author="A", athlete_code="G-1", consent="given", recording=SQUARE_ON
    ) as audit:
        actions.write_note(audit, "  grip   looked loose ", audit.time(7, None).pts)
        actions.write_note(audit, "ask the superior judge")
        notes = actions.notes_document(audit)["notes"]
        assert [(one["text"], one["frame"]) for one in notes] == [
            ("grip looked loose", 7),
            ("ask the superior judge", None),
        ]
        audit.case.erase_texts()
        assert [one["text"] for one in actions.notes_document(audit)["notes"]] == [None, None]
        assert not check_chain(audit.case.events)


@pytest.mark.parametrize("text", ["", "   ", "x" * 2001])
def test_a_note_without_words_or_with_too_many_is_refused(tmp_path: Path, text: str) -> None:
    with actions.start_case(tmp_path / "r.case", author="A", athlete_code="G-1", consent="given") as audit:
        with pytest.raises(AuditError):
            actions.write_note(audit, text)
        assert audit.state.notes == ()
