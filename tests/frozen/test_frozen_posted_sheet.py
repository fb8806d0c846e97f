"""A case of consent and a posted sheet, as it was frozen: every later version opens it as it was."""

from pathlib import Path

from reviewer.casefile import open_case
from reviewer.terms.consents import Consent
from reviewer.terms.exact import Points
from reviewer.terms.posted import PostedSheet, WrittenDeduction

CASE = Path(__file__).parent / "posted.v1.case"


def test_it_says_what_it_said() -> None:
    """Written by hand: a posted score, a whole sheet, a final score that was undone, a part, a consent."""
    with open_case(CASE, None) as case:
        state = case.state
    assert state.posted == "8.600"
    assert state.posted_sheet == PostedSheet(
        Points(9200),
        (("A", Points(9000)), ("B", Points(8800))),
        Points(300),
        Points(8900),
        Points(8600),
        (
            WrittenDeduction("A", "2", "arms-bent", Points(200)),
            WrittenDeduction("B", None, "legs-bent", Points(100)),
        ),
    )
    assert state.limited_to == ("start-value",)
    assert (state.consent, state.permission) == (
        "given",
        Consent("given", ("inquiry", "teaching"), "2027-06-30"),
    )
