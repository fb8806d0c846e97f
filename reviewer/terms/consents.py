"""Consent to the use of a recording: for what, and until when."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any, Self

from reviewer.terms.messages import noted

GIVEN, WITHDRAWN, NOT_RECORDED = "given", "withdrawn", "not recorded"
NONE_IN_COMMON = "given for no use in common"

INQUIRY, TEACHING, COACH = noted("inquiry"), noted("teaching"), noted("coach")
USES = (INQUIRY, TEACHING, COACH)
"""What something that leaves a case may be used for."""

ATHLETE, PARENT = noted("athlete"), noted("parent")
WHOSE = (ATHLETE, PARENT)
"""Who gave consent: the athlete herself, or a parent or guardian for her. A word, never a name."""

_DAY = re.compile(r"[0-9]{4}-(?:0[1-9]|1[0-2])-(?:0[1-9]|[12][0-9]|3[01])")


@dataclass(frozen=True, slots=True)
class Consent:
    """Consent as a case last says it.

    Attributes:
        word: ``given``, ``withdrawn``, ``not recorded`` or another word that is no consent.
        uses: those among `USES` it covers; of a bare ``given``, the inquiry alone.
        until: the last day it holds, such as ``2027-06-30``, or None without an end.
        by: who gave it, among `WHOSE`; None where nobody said so.
    """

    word: str
    uses: tuple[str, ...] = ()
    until: str | None = None
    by: str | None = None

    @classmethod
    def from_json(cls, said: Mapping[str, Any]) -> Self:
        """From what an event says of consent."""
        return cls(said["consent"], tuple(said.get("for", ())), said.get("until"), said.get("by"))

    def to_json(self) -> dict[str, Any]:
        """What an event says of this consent."""
        uses = {"for": list(self.uses)} if self.uses else {}
        others = {"until": self.until, "by": self.by}
        return {"consent": self.word} | uses | {key: said for key, said in others.items() if said is not None}

    def covers(self, use: str) -> bool:
        """Whether it was given for a use, whatever the day."""
        return self.word == GIVEN and use in (self.uses or (INQUIRY,))

    def common_with(self, other: "Consent") -> "Consent":
        """What both cover: the uses in common, until the earlier day; no consent where there are none."""
        words = {self.word, other.word}
        if words != {GIVEN}:
            return Consent(WITHDRAWN if WITHDRAWN in words else min(words - {GIVEN}))
        uses = tuple(use for use in USES if self.covers(use) and other.covers(use))
        days = [one.until for one in (self, other) if one.until is not None]
        by = self.by if self.by == other.by else None
        return Consent(GIVEN, uses, min(days, default=None), by) if uses else Consent(NONE_IN_COMMON)

    def is_over(self, today: str) -> bool:
        """Whether its last day has passed."""
        return self.until is not None and today > self.until


def is_day(text: object) -> bool:
    """Whether this is a day as ISO 8601 writes it, such as ``2027-06-30``: days so written sort by time."""
    return isinstance(text, str) and _DAY.fullmatch(text) is not None
