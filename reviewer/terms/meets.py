"""A meet: its routines with what was posted of each, which of them are audited, why, and by whom."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, Self

from reviewer.terms.codes import UNNAMED
from reviewer.terms.exact import Points
from reviewer.terms.messages import noted
from reviewer.terms.posted import PostedSheet

GROUPS = ("division", "session", "panel")
"""What a routine may belong to; samples can be drawn by each of these."""
BY_LOT, BY_TRIGGER, BY_HAND = noted("by lot"), noted("by trigger"), noted("by hand")
"""How routines came to be chosen. Only those by lot speak for the whole meet."""

TRIGGERS = ("spread", "start-value", "inquiry", "short", "contradiction", "outside")
"""Reasons to look at a routine again: judges too far apart; another start value posted than was requested; an
inquiry; a short exercise; figures that contradict each other; a final score that cannot be given."""

_START = re.compile(r"(?=[^0-9]*[0-9])[A-Za-z0-9][A-Za-z0-9_-]{0,19}", re.ASCII)


def is_start(said: str) -> bool:
    """Whether this may name a routine: up to 20 letters, digits, ``-`` and ``_``, a digit among them."""
    return _START.fullmatch(said) is not None


@dataclass(frozen=True, slots=True)
class Start:
    """One routine of a meet.

    Attributes:
        name: of the routine, such as ``12`` or ``B-7``; unique in the meet, whatever the case of its letters.
        line: of the table it was read from, from 1.
        athlete: her code.
        groups: by the names in `GROUPS`, those that are known.
        posted: what the panel posted.
        requested: the start value that was asked for.
        inquiry: whether an inquiry was filed.
        short: whether the exercise was called short; None where nobody said so.
        recordings: paths below the folder of recordings, with ``/``.
        by_hand: whether somebody matched these, in place of a pattern.
    """

    name: str
    line: int
    athlete: str = UNNAMED
    groups: Mapping[str, str] = field(default_factory=dict)
    posted: PostedSheet = field(default_factory=PostedSheet)
    requested: Points | None = None
    inquiry: bool = False
    short: bool | None = None
    recordings: tuple[str, ...] = ()
    by_hand: bool = False

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a meet's ``starts``; ValueError, TypeError or KeyError for what is none."""
        if not is_start(data["start"]):
            raise ValueError(f"{data['start']!r} names no routine")
        requested = data.get("requested")
        return cls(
            name=data["start"],
            line=int(data["line"]),
            athlete=str(data.get("athlete", UNNAMED)),
            groups={name: str(data[name]) for name in GROUPS if name in data},
            posted=PostedSheet.from_json(data.get("posted", {})),
            requested=None if requested is None else Points.parse(requested),
            inquiry=bool(data.get("inquiry", False)),
            short=data.get("short"),
            recordings=tuple(str(one) for one in data.get("recordings", ())),
            by_hand=bool(data.get("by_hand", False)),
        )

    def to_json(self) -> dict[str, Any]:
        """One of a meet's ``starts``: what is not known is left out."""
        said: dict[str, Any] = {
            "athlete": None if self.athlete == UNNAMED else self.athlete,
            **self.groups,
            "posted": self.posted.to_json() or None,
            "requested": None if self.requested is None else str(self.requested),
            "inquiry": self.inquiry or None,
            "short": self.short,
            "recordings": list(self.recordings) or None,
            "by_hand": self.by_hand or None,
        }
        known = {name: value for name, value in said.items() if value is not None}
        return {"start": self.name, "line": self.line} | known


@dataclass(frozen=True, slots=True)
class Choice:
    """Routines that were chosen to be audited in one go.

    Attributes:
        how: `BY_LOT`, `BY_TRIGGER` or `BY_HAND`.
        starts: their names, as drawn.
        of: how many routines they were chosen from.
        seed: of the lots.
        by: the group whose values were strata.
        triggers: by which of these.
    """

    how: str
    starts: tuple[str, ...]
    of: int
    seed: str | None = None
    by: str | None = None
    triggers: tuple[str, ...] = ()

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a meet's ``choices``; ValueError, TypeError or KeyError for what is none."""
        if data["how"] not in (BY_LOT, BY_TRIGGER, BY_HAND):
            raise ValueError(f"{data['how']!r} is no way of choosing")
        starts, triggers = (tuple(map(str, data.get(name, ()))) for name in ("starts", "triggers"))
        return cls(data["how"], starts, int(data["of"]), data.get("seed"), data.get("by"), triggers)

    def to_json(self) -> dict[str, Any]:
        """One of a meet's ``choices``."""
        said = {"seed": self.seed, "by": self.by, "triggers": list(self.triggers) or None}
        known = {name: value for name, value in said.items() if value is not None}
        return {"how": self.how, "of": self.of, "starts": list(self.starts)} | known


@dataclass(frozen=True, slots=True)
class Task:
    """A routine that one auditor is to audit.

    Attributes:
        start: its name.
        auditor: a letter or short code.
        blind: whether the auditor sees neither what was posted nor what anybody else marked.
        seed: of the lot by which the auditor got it, or None.
        sent: hash of the last event of the case as it was sent, or None.
        home: hash of the last event of the case as it came home last, or None.
    """

    start: str
    auditor: str
    blind: bool = False
    seed: str | None = None
    sent: str | None = None
    home: str | None = None

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From one of a meet's ``queue``; KeyError for what is none."""
        others = (data.get(name) for name in ("seed", "sent", "home"))
        return cls(data["start"], data["auditor"], bool(data["blind"]), *others)

    def to_json(self) -> dict[str, Any]:
        """One of a meet's ``queue``."""
        said = {"seed": self.seed, "sent": self.sent, "home": self.home}
        known = {name: value for name, value in said.items() if value is not None}
        return {"start": self.start, "auditor": self.auditor, "blind": self.blind} | known


@dataclass(frozen=True, slots=True)
class Meet:
    """A meet that is audited.

    Attributes:
        rule_book: id of a shipped edition, or the path of one.
        recordings: their folder as the meet's folder sees it, or absolute; None where there is none.
        pattern: by which recordings are found, ``*`` for anything and ``{start}`` for the routine's name.
        starts: in the order of the table.
        choices: what was chosen, the earliest first.
        queue: who audits what.
        title: what the meet is called; empty where nobody said.
    """

    rule_book: str
    recordings: str | None
    pattern: str
    starts: tuple[Start, ...]
    choices: tuple[Choice, ...] = ()
    queue: tuple[Task, ...] = ()
    title: str = ""

    @classmethod
    def from_json(cls, data: Mapping[str, Any]) -> Self:
        """From ``reviewer.meet/1``; ValueError, TypeError or KeyError for what is none."""
        return cls(
            rule_book=data["rule_book"],
            recordings=data["recordings"],
            pattern=data["pattern"],
            starts=tuple(Start.from_json(one) for one in data["starts"]),
            choices=tuple(Choice.from_json(one) for one in data["choices"]),
            queue=tuple(Task.from_json(one) for one in data["queue"]),
            title=str(data.get("title", "")),
        )

    def to_json(self) -> dict[str, Any]:
        """``reviewer.meet/1``."""
        return {
            "format": "reviewer.meet/1",
            **({"title": self.title} if self.title else {}),
            "rule_book": self.rule_book,
            "recordings": self.recordings,
            "pattern": self.pattern,
            "starts": [one.to_json() for one in self.starts],
            "choices": [one.to_json() for one in self.choices],
            "queue": [one.to_json() for one in self.queue],
        }
