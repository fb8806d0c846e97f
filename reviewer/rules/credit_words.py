"""Sentences of the clauses on elements and what they earn: one function a kind of clause."""

from collections.abc import Callable

from reviewer.rules.words import Data, Names, Words, joined, number, plain, quantity
from reviewer.terms.messages import Message, listed, message, noted, spoken


def start(said: Data, names: Names) -> Words:
    """The start value."""
    return [message("It begins at {value}.", value=quantity(said["value"]))]


def execution_from(said: Data, names: Names) -> Words:
    """What judges begin from."""
    return [
        message(
            "Each judge begins at {value}; the start value (difficulty) is added after the average.",
            value=quantity(said["value"]),
        )
    ]


def value_parts(said: Data, names: Names) -> Words:
    """How many value parts are needed."""
    return [
        message(
            "{needed} are needed; each one missing takes {takes} from the start value.",
            needed=quantity(said["needed"]),
            takes=quantity(said["takes"]),
        )
    ]


_FEW = {
    ("credited", False): noted("Fewer than {fewer} credited: {takes} from the average."),
    ("credited", True): noted("No value part credited: {takes} from the average."),
    ("performed", False): noted("Fewer than {fewer} performed, credited or not: {takes} from the average."),
    ("performed", True): noted("No value part performed, credited or not: {takes} from the average."),
}
"""What few value parts cost, by how they are counted and whether none at all is meant."""


def few(said: Data, names: Names) -> Words:
    """A routine of few value parts."""
    counted = "performed" if said.get("counting") == "performed" else "credited"
    template = _FEW[counted, said["fewer-than"].startswith("1 ")]
    return [message(template, fewer=quantity(said["fewer-than"]), takes=quantity(said["takes"]))]


_RESTRICTED = {
    "each time": noted(
        "Each restricted element takes {takes} from the start value, the same one again each time."
    ),
    "once": noted(
        "Each restricted element takes {takes} from the start value, the same one again only once."
    ),
    "": noted("Each restricted element takes {takes} from the start value."),
}


def restricted(said: Data, names: Names) -> Words:
    """What a restricted element costs."""
    template = _RESTRICTED.get(said.get("repeated", ""), _RESTRICTED[""])
    return [message(template, takes=quantity(said["takes"]))]


def requirement(said: Data, names: Names) -> Words:
    """How a requirement is met, and what it moves."""
    return [_met(said, names), *_not_met(said, names), _moves(said)]


def _met(said: Data, names: Names) -> Message:
    if "role" in said:
        return message("Met by an element that is a {role}.", role=names.of("roles", said["role"]))
    if "condition" in said:
        marked = names.of("conditions", said["condition"])
        return message("Met by an element marked {condition}.", condition=marked)
    return message(
        "Met by an element whose list says that it fulfils “{requirement}”.",
        requirement=names.of("requirements", said["requirement"]),
    )


def _not_met(said: Data, names: Names) -> Words:
    but = []
    if said.get("not-in"):
        roles = names.of("roles", said["not-in"], "or")
        but.append(message("An element taken as {role} does not count.", role=roles))
    if said.get("not-elements"):
        but.append(message("Not: {elements}.", elements=names.of("elements", said["not-elements"])))
    return but


def _moves(said: Data) -> Message:
    if "gives" in said:
        return message("Met, it gives {points}.", points=quantity(said["gives"]))
    return message("Missing, it takes {points} from the start value.", points=quantity(said["takes"]))


_NO_ROLE = {
    (True, False): noted(
        "When there is no {role} at all, or when every {role} there is was {status}: {points} from the start "
        "value."
    ),
    (True, True): noted(
        "When there is no {role} at all, or when every {role} there is was {status} (and not marked "
        "{conditions}): {points} from the start value."
    ),
    (False, False): noted("When every {role} there is was {status}: {points} from the start value."),
    (False, True): noted(
        "When every {role} there is was {status} (and not marked {conditions}): {points} from the start "
        "value."
    ),
}
"""What a missing or void role costs, by whether none at all is meant too, and whether some are spared."""


def no_role(said: Data, names: Names) -> Words:
    """What a missing or void role costs."""
    spared = said.get("not-when", ())
    return [
        message(
            _NO_ROLE[said.get("when-none", "yes") != "no", bool(spared)],
            role=names.of("roles", said["role"]),
            status=joined(said["statuses"], "or"),
            conditions=names.of("conditions", spared, "or"),
            points=quantity(said["takes"]),
        )
    ]


_LOSES = {"value part": noted("earns no value part"), "requirement": noted("fulfils no requirement")}


def withheld(said: Data, names: Names) -> Words:
    """When credit is withheld."""
    loses = [_LOSES[one] for one in said["takes"]]
    effect = joined(loses) if loses else message("loses nothing; the reason is only noted")
    words = [
        message(
            "{element}: it {effect}. Reason in the score sheet: {reason}.",
            element=_test(said, names),
            effect=effect,
            reason=plain(said["reason"]),
        )
    ]
    if said.get("different-neighbour") == "needed":
        words.append(
            message("A later time counts only with a different element directly before or after it.")
        )
    if said.get("different-neighbour") == "not needed":
        words.append(message("A later time counts whatever stands before or after it."))
    if said.get("same-by") == "called":
        words.append(message("Two elements are the same when the judge calls them the same."))
    return words


def _test(said: Data, names: Names) -> Message:
    if "condition" in said:
        marked = names.of("conditions", said["condition"])
        return message("An element marked {condition}", condition=marked)
    if "status" in said:
        return message("An element with the status “{status}”", status=spoken(said["status"]))
    if said.get("cast") == "short":
        return message("A cast that is lower than the tolerance allows")
    if "cast" in said:
        return message("A cast whose height nobody saw")
    if "parts" in said:
        parts, role = number(said["parts"]), names.of("roles", said["role"])
        return message("An element beyond {parts} parts of the {role}", parts=parts, role=role)
    return message("An element that has earned {times} already", times=quantity(said.get("times", "")))


def judge_decides(said: Data, names: Names) -> Words:
    """That a judge may decide credit."""
    return [
        message("A judge may give an element's credit, or withhold it, against what the clauses say."),
        message("Reason in the score sheet: {reason}.", reason=plain(said["reason"])),
    ]


def one_element(said: Data, names: Names) -> Words:
    """Neighbours that are one element."""
    return [
        message(
            "{elements}: up to {most} are one element, unless marked {condition} in between.",
            elements=names.of("elements", said["elements"], "or"),
            most=quantity(said["at-most"]),
            condition=names.of("conditions", said["parted-by"]),
        )
    ]


def part_of(said: Data, names: Names) -> Words:
    """A short cast that is part of what follows."""
    return [
        message(
            "{elements}, lower than the tolerance allows and directly before {others}: part of it, no "
            "element of its own and none in between.",
            elements=names.of("elements", said["elements"], "or"),
            others=names.of("elements", said["into"], "or"),
        )
    ]


def element_values(said: Data, names: Names) -> Words:
    """What each letter is worth."""
    worth = [
        message("{letter} {points}", letter=letter, points=quantity(value))
        for letter, value in said["values"].items()
    ]
    return [message("{values}.", values=listed(worth))]


_COUNTING = {
    "always counts": noted("{most} count, the highest first; the {role} always counts."),
    "counts as any other": noted("{most} count, the highest first; the {role} counts as any other."),
}


def counting(said: Data, names: Names) -> Words:
    """Which elements count."""
    role = names.of("roles", said["role"])
    return [message(_COUNTING[said["that-role"]], most=quantity(said["at-most"]), role=role)]


def _side(side: Data, names: Names) -> Message:
    words = message("any value or higher")
    if "at-least" in side:
        words = message("{value} or higher", value=side["at-least"])
    if side.get("with"):
        marked = names.of("conditions", side["with"], "or")
        words = message("{element} marked {condition}", element=words, condition=marked)
    if side.get("roles-not"):
        roles = names.of("roles", side["roles-not"], "or")
        words = message("{element}, not as {role}", element=words, role=roles)
    return words


_JOINED = {
    "either": noted(
        "{first}, then {second} (either order), the earlier one marked {condition}: gives {points}."
    ),
    "": noted("{first}, then {second}, the earlier one marked {condition}: gives {points}."),
}


def connection(said: Data, names: Names) -> Words:
    """What two elements joined give."""
    return [
        message(
            _JOINED.get(said.get("order", ""), _JOINED[""]),
            first=_side(said["first"], names),
            second=_side(said["second"], names),
            condition=names.of("conditions", said["joined-by"]),
            points=quantity(said["gives"]),
        )
    ]


def elements(said: Data, names: Names) -> Words:
    """Each element with its status and what it may be; a page shows them as a table."""
    return [_element(one, said["status"], names) for one in said["elements"]]


_CELLS = {
    "Value": noted("value {what}"),
    "May fulfil": noted("may fulfil “{what}”"),
    "May be": noted("may be {what}"),
    "Angle": noted("angle {what}"),
    "Earns at most": noted("earns at most {what}"),
}
"""What a sentence says of a cell, by the heading of its column."""


def _element(one: Data, status: str, names: Names) -> Message:
    more = spoken(status)
    for column, template in _CELLS.items():
        cell = ELEMENT_CELLS[column](one, names)
        if str(cell):
            more = message("{these}; {that}", these=more, that=message(template, what=cell))
    return message("{element}, {more}.", element=spoken(one["name"]), more=more)


def _angle(one: Data, names: Names) -> Message:
    words = {"decides": noted("decides credit"), "noted": noted("may be noted")}
    return message(words.get(one.get("angle", ""), ""))


ELEMENT_CELLS: dict[str, Callable[[Data, Names], Message]] = {
    noted("Element"): lambda one, names: spoken(one["name"]),
    noted("Code"): lambda one, names: message("{code}", code=one["code"]),
    noted("Value"): lambda one, names: message("{code}", code=one.get("value", "")),
    noted("May fulfil"): lambda one, names: names.of("requirements", one.get("fulfils", ())),
    noted("May be"): lambda one, names: names.of("roles", one.get("may-be", ()), "or"),
    noted("Angle"): _angle,
    noted("Earns at most"): lambda one, names: quantity(one.get("earns", "")),
}
"""What a list of elements says of each, by the heading of its column."""


_BONUS = {
    True: noted("A credited {role} of value {value} or higher gives {points}, unless marked {condition}."),
    False: noted("A credited {role} of value {value} or higher gives {points}."),
}


def role_bonus(said: Data, names: Names) -> Words:
    """What a high element in one role gives."""
    spared = said.get("not-when", ())
    return [
        message(
            _BONUS[bool(spared)],
            role=names.of("roles", said["role"]),
            value=said["at-least"],
            points=quantity(said["gives"]),
            condition=names.of("conditions", spared, "or"),
        )
    ]
