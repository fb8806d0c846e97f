"""Sentences of the clauses on casts, faults, the panel and the score: one function a kind of clause."""

from collections.abc import Callable

from reviewer.rules.words import (
    LIMIT_EDGE,
    LOWER_EDGE,
    OFTEN,
    Data,
    Names,
    Words,
    amount,
    edge_words,
    joined,
    number,
    plain,
    quantity,
    thousandths,
)
from reviewer.terms.bodylines import LOWEST
from reviewer.terms.elevations import elevation
from reviewer.terms.exact import Degrees
from reviewer.terms.messages import Message, message, noted, spoken

_LOWEST = {
    "hand-lowest": noted("Measured is the line from the hands through the lowest part of the body."),
    "shoulder-lowest": noted("Measured is the line from the shoulders through the lowest part of the body."),
}


def cast_line(said: Data, names: Names) -> Words:
    """Which line is measured."""
    line, open_to = said["line"], said.get("shoulders-open-to")
    if line == "lowest" and open_to:
        return [
            message(
                "Measured is the line from the hands, or from the shoulders where there is a shoulder angle "
                "(a shoulder angle up to {degrees} counts as open), through the lowest part of the body.",
                degrees=quantity(open_to),
            )
        ]
    if line == "lowest":
        return [
            message(
                "Measured is the line from the hands, or from the shoulders where there is a shoulder angle, "
                "through the lowest part of the body."
            )
        ]
    if line in LOWEST:
        return [message(_LOWEST[line])]
    return [message("Measured is the line {line}, against the horizontal.", line=plain(line))]


def cast_limit(said: Data, names: Names) -> Words:
    """The limit of the cast."""
    reached = elevation(Degrees.parse(number(said["at-least"])))
    return [message("Reached at {elevation} or higher.", elevation=reached), *edge_words(said, *LIMIT_EDGE)]


_TOLERATED = {
    "exercise": noted(
        "It costs {points}, once an exercise, on the best cast, where no counting cast reaches the limit, in "
        "each judge's score."
    ),
    "element": noted("It costs {points}, on each cast within it, in each judge's score."),
}
_NOT_ON_TOP = {
    "any cast": noted("Not taken on top of it, on any such cast: {faults}."),
    "": noted("Not taken on top of it, on the cast charged: {faults}."),
}


def cast_tolerance(said: Data, names: Names) -> Words:
    """What lies below the limit and still earns."""
    scope = _TOLERATED["element" if said.get("scope") == "element" else "exercise"]
    below = quantity(said["below-limit"])
    words = [
        message("Up to {degrees} below the limit a cast earns all.", degrees=below),
        *edge_words(said, *LOWER_EDGE),
        message(scope, points=quantity(said["takes"])),
    ]
    if said.get("not-on-top-of-it"):
        where = _NOT_ON_TOP["any cast" if said.get("on") == "any cast" else ""]
        words.append(message(where, faults=names.of("faults", said["not-on-top-of-it"])))
    return words


def guard_band(said: Data, names: Names) -> Words:
    """When a measured angle decides."""
    return [
        message(
            "A measured angle decides when it is clear of a limit by {times} times its standard uncertainty.",
            times=thousandths(said["clear-by"]),
        )
    ]


def fault(said: Data, names: Names) -> Words:
    """What a fault costs."""
    often = message(OFTEN[said["scope"]])
    words = [message("{points} points, {often}.", points=amount(said), often=often)]
    if "full-from" in said:
        words.append(message("All of it from a bend of {degrees} on.", degrees=quantity(said["full-from"])))
    return words


def cap(said: Data, names: Names) -> Words:
    """What faults cost together at most."""
    faults = names.of("faults", said["faults"])
    return [message("Together at most {points}: {faults}.", points=quantity(said["at-most"]), faults=faults)]


def swallow(said: Data, names: Names) -> Words:
    """What a fall leaves nothing of."""
    words = [
        message(
            "{fault} on the {role} leaves nothing of: {faults}.",
            fault=names.of("faults", said["by"]),
            role=names.of("roles", said["role"]),
            faults=names.of("faults", said["faults"]),
        )
    ]
    if said.get("unless"):
        marked = names.of("conditions", said["unless"], "or")
        words.append(message("Not where it is marked {condition}.", condition=marked))
    return words


def one_error(said: Data, names: Names) -> Words:
    """Faults that are one error."""
    return [
        message(
            "{faults} on one element are one error under several names: warned of, no points.",
            faults=names.of("faults", said["faults"]),
        )
    ]


def time_limit(said: Data, names: Names) -> Words:
    """The time to go on."""
    after, within = names.of("faults", said["after"], "or"), quantity(said["within"])
    words = message("{time} to go on, after: {faults}.", time=within, faults=after)
    if "counted-from" in said:
        words = message(
            "{time} to go on, counted from {moment}, after: {faults}.",
            time=within,
            moment=spoken(said["counted-from"]),
            faults=after,
        )
    return [words, *edge_words(said, *LIMIT_EDGE)]


def fact(said: Data, names: Names) -> Words:
    """What a fact costs."""
    points = quantity(said["takes"])
    if "more-than" in said:
        beyond = quantity(said["more-than"])
        return [message("{points} from the average when more than {size}.", points=points, size=beyond)]
    return [message("{points} from the average.", points=points)]


_ROUNDED = {
    "truncate": noted("An average that does not come out is cut off at thousandths."),
    "half up": noted("An average that does not come out is rounded half up at thousandths."),
}


def panel(said: Data, names: Names) -> Words:
    """How an average comes out."""
    words = [message(_ROUNDED[said["rounding"]])]
    if "drop-extremes-from" in said:
        judges = quantity(said["drop-extremes-from"])
        words.append(message("From {judges} on the highest and the lowest are left out.", judges=judges))
    return words


def panel_size(said: Data, names: Names) -> Words:
    """Which scores of a panel count."""
    counting = said["counting"]
    judges = quantity(said["judges"].replace("1 judges", "1 judge"))
    if counting == "all":
        return [message("{judges}: the average of all scores.", judges=judges)]
    middle = number(counting.removeprefix("middle "))
    if middle == "1":
        return [message("{judges}: the middle score alone.", judges=judges)]
    return [message("{judges}: the average of the {middle} middle scores.", judges=judges, middle=middle)]


def spread(said: Data, names: Names) -> Words:
    """How far scores may lie apart."""
    return [
        message(
            "From an average of {average}: at most {points} apart.",
            average=quantity(said["average-from"]),
            points=quantity(said["allowed"]),
        )
    ]


def reference(said: Data, names: Names) -> Words:
    """When a reference score counts."""
    return [
        message(
            "From a reference score of {reference}: when the panel's average lies more than {points} from "
            "it, the mean of both counts.",
            reference=quantity(said["reference-from"]),
            points=quantity(said["allowed"]),
        )
    ]


_LEAST = {
    "final score": noted("No final score is lower than {points}."),
    "average": noted("No average is lower than {points}."),
}


def courtesy(said: Data, names: Names) -> Words:
    """The least score."""
    return [message(_LEAST[said.get("held-against", "final score")], points=quantity(said["at-least"]))]


def ties(said: Data, names: Names) -> Words:
    """What decides between equal totals."""
    first, *others = map(spoken, said["higher"])
    higher = first
    for one in others:
        higher = message("{these}, then the higher {that}", these=higher, that=one)
    return [
        message("Equal totals are ranked by the higher {what}; all equal, they share the rank.", what=higher)
    ]


_RECORDING = {
    "may be used": noted("A recording may be used."),
    "may not be used": noted("A recording may not be used."),
}


def inquiry(said: Data, names: Names) -> Words:
    """What is settled about inquiries."""
    told = [_ASKED[field](said) for field in _ASKED if field in said]
    return [*told, *edge_words(said, *LIMIT_EDGE)]


def _within(said: Data) -> Message:
    time = quantity(said["within"])
    if "counted-from" in said:
        return message(
            "Within {time}, counted from {moment}.", time=time, moment=spoken(said["counted-from"])
        )
    return message("Within {time}.", time=time)


_RESULTS = {"rises": noted("rises"), "stays": noted("stays"), "falls": noted("becomes lower")}
_ASKED: dict[str, Callable[[Data], Message]] = {
    "asked-by": lambda said: message("Asked by: {who}.", who=joined(said["asked-by"], "or")),
    "about": lambda said: message("About: {what}.", what=joined(map(_spaced, said["about"]))),
    "within": _within,
    "recording": lambda said: message(_RECORDING[said["recording"]]),
    "result": lambda said: message(
        "The score {may}.", may=joined([_RESULTS[one] for one in said["result"]], "or")
    ),
    "fee": lambda said: message("Fee: {fee}.", fee=said["fee"]),
}


def _spaced(word: str) -> str:
    return word.replace("-", " ")


def note(said: Data, names: Names) -> Words:
    """What is only noted."""
    return [message("{said}. (No value is scored.)", said=spoken(said["says"].rstrip(".")))]
