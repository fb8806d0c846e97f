"""Type-ahead: which words are offered for what is being typed, by how this case's judge calls."""

from collections import Counter
from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field, replace

from reviewer.desk.calls import Vocabulary, Word, short
from reviewer.terms.callwords import NUMBER
from reviewer.terms.exact import Points
from reviewer.terms.marks import Mark

MOST = 12
"""Words offered at once."""
_NO_FIT = 9


@dataclass(frozen=True)
class Habits:
    """How a case was marked so far.

    Attributes:
        used: how often each word stands in its marks.
        amounts: the amount given last for each fault.
    """

    used: Mapping[str, int] = field(default_factory=dict)
    amounts: Mapping[str, Points] = field(default_factory=dict)


def habits(marks: Iterable[Mark]) -> Habits:
    """The habits that marks show; the latest is the one of the highest number."""
    made = sorted(marks, key=lambda mark: (len(mark.id), mark.id))
    used = Counter(word for mark in made for word in (mark.code, *mark.roles, *mark.conditions))
    return Habits(used, {mark.code: mark.amount for mark in made if mark.amount is not None})


def offered(words: Vocabulary, known: Habits, typed: str) -> tuple[Word, ...]:
    """Words for what is being typed last: the word itself, those that begin so, those with a part that does.

    Among these, those used most come first; then short codes, then the order of the edition's lists. After
    a fault and a space, the amounts among which it leaves the choice.
    """
    head, _, tail = typed.lstrip().rpartition(" ")
    wanted = tail.lower()
    if not wanted:
        amounts = words.amounts.get(head.strip().lower(), ())
        return tuple(Word(short(amount), "amount", "") for amount in amounts)
    if NUMBER.fullmatch(wanted):
        return ()
    all_ = _words(words, head.lower().split())
    fitting = [(fit, word) for word in all_ if (fit := _fit(wanted, word)) < _NO_FIT]
    fitting.sort(key=lambda one: (one[0], -_used(known, one[1])))
    return tuple(_with_amount(words, known, word) for _, word in fitting[:MOST])


def _words(words: Vocabulary, head: list[str]) -> Iterator[Word]:
    """The words that may stand behind these; of a note none, of a short code all."""
    match head:
        case []:
            yield from (*_shorts(words), *words.first, *words.after)
        case ["note", *_] | ["short"]:
            return
        case ["short", *_]:
            yield from (*words.first, *words.after)
        case ["forget", *_]:
            yield from _shorts(words)
        case _:
            yield from (*_shorts(words), *words.after)


def _shorts(words: Vocabulary) -> Iterator[Word]:
    own = words.own
    return (Word(code, "short", said) for code, said in words.shorts.items() if code not in own)


def _fit(wanted: str, word: Word) -> int:
    if word.text == wanted:
        return 0
    if word.text.startswith(wanted):
        return 1
    return 2 if any(part.startswith(wanted) for part in word.text.split("-")) else _NO_FIT


def _used(known: Habits, word: Word) -> int:
    name = word.means.partition(" ")[0] if word.kind == "short" else word.text
    return known.used.get(name, 0)


def _with_amount(words: Vocabulary, known: Habits, word: Word) -> Word:
    """The word of a fault with the amount it takes where none is typed."""
    amount = known.amounts.get(word.text) if word.kind == "fault" else None
    if amount is None:
        return word
    said = words.say("{means} — {amount} as last time", means=word.means, amount=short(amount))
    return replace(word, means=said)
