"""A case without a recording that holds a small invented routine, typed as from paper."""

from pathlib import Path
from typing import Any

from reviewer import actions
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import CastAngle

MARKS: tuple[dict[str, Any], ...] = (
    {"kind": "element", "code": "pullover", "order": 1, "roles": ("mount",)},
    {"kind": "element", "code": "cast", "order": 2, "angle": CastAngle("eye", Degrees.parse("-52"))},
    {"kind": "element", "code": "sole-circle-dismount", "order": 3, "roles": ("dismount",),
     "conditions": ("spotted",)},
    {"kind": "fault", "code": "arms-bent", "element": "m2", "amount": Points.parse("0.100"), "judge": "A"},
    {"kind": "fact", "code": "springboard-left"},
)  # fmt: skip
"""The marks m1 to m5: two value parts credited, three elements performed; 6.200 by the demo edition."""


def begin(path: Path, **also: str) -> Path:
    """Begin a case at a path, place the marks and close it."""
    with actions.start_case(path, author="A", athlete_code="G-12", consent="given", **also) as audit:
        for mark in MARKS:
            actions.place_mark(audit, **mark)
    return path


def events(path: Path) -> int:
    """How many events a case holds."""
    with actions.open_case(path, author=None) as audit:
        return len(audit.case.events)


def final(path: Path) -> str:
    """The final score of a case or marks document."""
    score: str = actions.score_document(path)["final_score"]
    return score
