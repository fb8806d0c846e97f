"""Typed calls: words over the edition's own lists, read into what they ask for."""

import re
from collections.abc import Iterable
from dataclasses import dataclass, field

from reviewer.terms.exact import Degrees, Points
from reviewer.terms.marks import EYE_VERDICTS
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook

VERDICT_WORDS = {
    ("within" if said == "within tolerance" else said.replace(" ", "-")): said for said in EYE_VERDICTS
}
COMMANDS = {
    "starts": "the chosen element starts here",
    "ends": "the chosen element ends here",
    "withdraw": "take the chosen mark back",
    "posted": "the score the panel posted",
    "go": "show a frame",
}
_NUMBER = re.compile(r"-?\d*\.?\d+")
_MOMENT = re.compile(r"\d+:\d+:\d+[:;]\d+|\d*\.?\d+s")


class CallError(ReviewerError):
    """What was typed cannot be read."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word that may be typed: what it is, and what it means."""

    text: str
    kind: str
    means: str


@dataclass(frozen=True, slots=True)
class Call:
    """What a typed line asks for.

    Attributes:
        kind: ``element``, ``fault``, ``fact``, ``change`` (of the chosen mark) or ``command``.
        code: code of the rule book's list, or the command.
        number: what was typed as a number, as decimal text.
        moment: what was typed as seconds (``1.2s``) or a time code.
        verdict: one of `EYE_VERDICTS`.
        judge: letter after ``@``.
        settled: whether ``settled`` or ``arguable`` was said.
    """

    kind: str
    code: str = ""
    number: str | None = None
    moment: str | None = None
    roles: tuple[str, ...] = ()
    conditions: tuple[str, ...] = ()
    verdict: str | None = None
    seen: str | None = None
    settled: bool | None = None
    judge: str | None = None

    def points(self) -> Points | None:
        """The number as an amount; a CallError when it is none."""
        try:
            return None if self.number is None else Points.parse(self.number)
        except ValueError:
            raise _refusal(self.number or "", "This is not an amount.", "Type points such as 0.1.") from None

    def degrees(self) -> Degrees | None:
        """The number as an angle; a CallError when it is none."""
        try:
            return None if self.number is None else Degrees.parse(self.number)
        except ValueError:
            raise _refusal(self.number or "", "This is not an angle.", "Type degrees such as -52.") from None


@dataclass(frozen=True)
class Vocabulary:
    """The words one edition allows: first words (codes and commands) and words that qualify them."""

    first: tuple[Word, ...] = field(default=())
    after: tuple[Word, ...] = field(default=())

    def offered(self, typed: str, limit: int = 12) -> tuple[Word, ...]:
        """Words for what is being typed last: those that begin so, then those with a part that does."""
        head, _, tail = typed.lstrip().rpartition(" ")
        wanted = tail.lower()
        if not wanted or _NUMBER.fullmatch(wanted):
            return ()
        words = self.after if head else (*self.first, *self.after)
        ranked = sorted((rank, at) for at, word in enumerate(words) if (rank := _fit(wanted, word)) < 9)
        return tuple(words[at] for _, at in ranked[:limit])

    def read(self, typed: str) -> Call:
        """The call that a typed line makes; CallError where it cannot be read."""
        words = typed.lower().split()
        if not words:
            raise _refusal("entry line", "Nothing was typed.", "Type a word such as cast; F1 shows them all.")
        kinds = {word.text: word.kind for word in self.first}
        if words[0] in kinds:
            return self._qualified(kinds[words[0]], words[0], words[1:])
        if words[0] not in {word.text for word in self.after} and not _plain(words[0]):
            raise _refusal(
                words[0], "The edition has no such word.", "Choose among the words offered; F1 shows how."
            )
        return self._qualified("change", "", words)

    def _qualified(self, kind: str, code: str, words: Iterable[str]) -> Call:
        kinds = {word.text: word.kind for word in self.after}
        said: dict[str, list[str]] = {}
        for word in words:
            what = _plain(word) or kinds.get(word)
            if what is None:
                raise _refusal(word, "This word does not belong here.", "F1 shows what may follow a name.")
            said.setdefault(what, []).append(word)
        last = {what: texts[-1] for what, texts in said.items()}
        return Call(
            kind,
            code,
            number=_tidy(last.get("number")),
            moment=last.get("moment"),
            roles=tuple(said.get("role", ())),
            conditions=tuple(said.get("condition", ())),
            verdict=VERDICT_WORDS.get(last.get("verdict", "")),
            seen=last.get("seen"),
            settled=None if "settled" not in last else last["settled"] == "settled",
            judge=last["judge"][1:].upper() or None if "judge" in last else None,
        )


def vocabulary(book: RuleBook | None) -> Vocabulary:
    """The words of an edition; without one, only the commands."""
    commands = tuple(Word(text, "command", means) for text, means in COMMANDS.items())
    if book is None:
        return Vocabulary(commands)
    listed = [Word(one.code, "element", one.name) for one in book.elements]
    listed += [Word(one.code, "fault", f"{one.name}: {menu(one.amounts)}") for one in book.faults]
    listed += [Word(one.code, "fact", one.name) for one in book.facts]
    after = [Word(one.code, "role", one.name) for one in book.roles]
    after += [Word(one.code, "condition", one.name) for one in book.conditions]
    after += [Word(text, "verdict", f"by eye: {said}") for text, said in VERDICT_WORDS.items()]
    after += [Word("full-speed", "seen", "seen at full speed"), Word("slowed", "seen", "seen slowed down")]
    after += [Word("settled", "settled", "beyond dispute"), Word("arguable", "settled", "open to dispute")]
    return Vocabulary((*listed, *commands), tuple(after))


def menu(amounts: Iterable[Points]) -> str:
    """The permitted amounts in words: short decimals with commas."""
    return ", ".join(short(amount) for amount in amounts)


def short(amount: Points) -> str:
    """Points without needless noughts, two places at least: 0.10, 0.125."""
    text = str(amount)
    return text[:-1] if text.endswith("0") else text


def _fit(wanted: str, word: Word) -> int:
    if word.text == wanted:
        return 0
    if word.text.startswith(wanted):
        return 1
    return 2 if any(part.startswith(wanted) for part in word.text.split("-")) else 9


def _plain(word: str) -> str | None:
    """What a word is that no list holds; None for any other."""
    if word[0] == "@":
        return "judge"
    if _NUMBER.fullmatch(word):
        return "number"
    return "moment" if _MOMENT.fullmatch(word) else None


def _tidy(number: str | None) -> str | None:
    return None if number is None else re.sub(r"^(-?)\.", r"\g<1>0.", number)


def _refusal(where: str, message: str, remedy: str) -> CallError:
    return CallError(Problem("unreadable-call", where, message, remedy))
