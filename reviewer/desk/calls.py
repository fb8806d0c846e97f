"""Typed calls: words over the edition's own lists, read into what they ask for."""

import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from reviewer.terms.callwords import COMMANDS, SEEN, SETTLED, VERDICT_WORDS, plain_kind, with_point
from reviewer.terms.exact import Degrees, Points
from reviewer.terms.messages import Message, message
from reviewer.terms.problems import Problem, ReviewerError
from reviewer.terms.rulebook import RuleBook
from reviewer.words import Saying

ENGLISH = Saying()

FREE = ("note", "short", "forget")
"""Commands after which a line is kept as it is typed: no short code in it stands for anything."""


class CallError(ReviewerError):
    """What was typed cannot be read."""


@dataclass(frozen=True, slots=True)
class Word:
    """One word that may be typed: what it is (a short code is ``short``), and what it means."""

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
        text: the words of the judge's own after ``note``, ``short`` and ``forget``.
        aside: short codes that were typed and stand aside for words of the edition.
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
    text: str = ""
    aside: tuple[str, ...] = ()

    def points(self, say: Saying = ENGLISH) -> Points | None:
        """The number as an amount; a CallError when it is none."""
        try:
            return None if self.number is None else Points.parse(self.number)
        except ValueError:
            said, remedy = message("This is not an amount."), message("Type points such as 0.1.")
            raise _refusal(self.number or "", said, remedy) from None

    def degrees(self, say: Saying = ENGLISH) -> Degrees | None:
        """The number as an angle; a CallError when it is none."""
        try:
            return None if self.number is None else Degrees.parse(self.number)
        except ValueError:
            said, remedy = message("This is not an angle."), message("Type degrees such as -52.")
            raise _refusal(self.number or "", said, remedy) from None


@dataclass(frozen=True)
class Vocabulary:
    """The words one edition allows: first words (codes and commands) and words that qualify them.

    ``shorts``: what each short code of the user's stands for; the edition's own words go before them.
    ``amounts``: those among which a fault leaves the choice.
    """

    first: tuple[Word, ...] = field(default=())
    after: tuple[Word, ...] = field(default=())
    shorts: Mapping[str, str] = field(default_factory=dict)
    say: Saying = ENGLISH
    amounts: Mapping[str, tuple[Points, ...]] = field(default_factory=dict)

    @property
    def own(self) -> frozenset[str]:
        """The words that are no short codes."""
        return frozenset(word.text for word in (*self.first, *self.after))

    def read(self, typed: str) -> Call:
        """The call that a typed line makes; CallError where it cannot be read."""
        words = self._expanded(typed)
        if not words:
            remedy = message("Type a word such as cast; F1 shows them all.")
            raise _refusal(self.say("entry line"), message("Nothing was typed."), remedy)
        kinds = {word.text: word.kind for word in self.first}
        if words[0] in FREE:
            return Call("command", words[0], text=" ".join(words[1:]))
        if words[0] not in self.own and not plain_kind(words[0]):
            remedy = message("Choose among the words offered; F1 shows how.")
            raise self._refused(words[0], typed, message("The edition has no such word."), remedy)
        aside = tuple(word for word in words if word in self.shorts)
        if words[0] in kinds:
            return replace(self._qualified(kinds[words[0]], words[0], words[1:], typed), aside=aside)
        return replace(self._qualified("change", "", words, typed), aside=aside)

    def _expanded(self, typed: str) -> list[str]:
        """The words of a line, short codes put into what they stand for, once."""
        words = typed.split()
        if words[:1] and (first := self._stands_for(words[0])) and first[0] in FREE:
            return [*first, *words[1:]]
        return [with_point(one) for word in words for one in self._stands_for(word)]

    def _stands_for(self, word: str) -> list[str]:
        word = word.lower()
        return [word] if word in self.own else self.shorts.get(word, word).split()

    def _refused(self, word: str, typed: str, wrong: Message, remedy: Message) -> CallError:
        """The refusal of a word; where it came from a short code, of that."""
        for code in typed.lower().split():
            if code != word and word in self._stands_for(code):
                wrong = message(
                    "The short code {code} stands for {words}: “{word}” has no place in this edition here.",
                    code=code,
                    words=self.shorts[code],
                    word=word,
                )
                remedy = message("Let it stand for other words: short {code} …", code=code)
                return _refusal(code, wrong, remedy)
        return _refusal(word, wrong, remedy)

    def _qualified(self, kind: str, code: str, words: Iterable[str], typed: str) -> Call:
        kinds = {word.text: word.kind for word in self.after}
        said: dict[str, list[str]] = {}
        for word in words:
            what = plain_kind(word) or kinds.get(word)
            if what is None:
                remedy = message("F1 shows what may follow a name.")
                raise self._refused(word, typed, message("This word does not belong here."), remedy)
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


def vocabulary(
    book: RuleBook | None, shorts: Mapping[str, str] | None = None, say: Saying = ENGLISH
) -> Vocabulary:
    """The words of an edition, and a user's short codes; without an edition, only the commands."""
    commands = tuple(Word(text, "command", say.word(means)) for text, means in COMMANDS.items())
    if book is None:
        return Vocabulary(commands, shorts=shorts or {}, say=say)
    listed = [Word(one.code, "element", one.name) for one in book.elements]
    listed += [Word(one.code, "fault", f"{one.name}: {say.word(menu(one.amounts))}") for one in book.faults]
    listed += [Word(one.code, "fact", one.name) for one in book.facts]
    after = [Word(one.code, "role", one.name) for one in book.roles]
    after += [Word(one.code, "condition", one.name) for one in book.conditions]
    after += [Word(text, "verdict", say.word(said)) for text, said in VERDICT_WORDS.items()]
    after += [Word(text, "seen", say.word(means)) for text, means in SEEN.items()]
    after += [Word(text, "settled", say.word(means)) for text, means in SETTLED.items()]
    amounts = {one.code: one.amounts for one in book.faults if len(one.amounts) > 1}
    return Vocabulary((*listed, *commands), tuple(after), shorts or {}, say, amounts)


def menu(amounts: Iterable[Points]) -> str:
    """The permitted amounts in words: short decimals with commas."""
    return ", ".join(short(amount) for amount in amounts)


def short(amount: Points) -> str:
    """Points without needless noughts, two places at least: 0.10, 0.125."""
    text = str(amount)
    return text[:-1] if text.endswith("0") else text


def _tidy(number: str | None) -> str | None:
    return None if number is None else re.sub(r"^(-?)\.", r"\g<1>0.", number)


def _refusal(where: str, said: Message, remedy: Message) -> CallError:
    return CallError(Problem("unreadable-call", where, said, remedy))
