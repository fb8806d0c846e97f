"""Sentences of the clauses on elements and what they earn: one function a kind of clause."""

from collections.abc import Callable

from reviewer.rules.words import Data, Names, Words, joined


def start(said: Data, names: Names) -> Words:
    """The start value."""
    return [f"It begins at {said['value']}."]


def execution_from(said: Data, names: Names) -> Words:
    """What judges begin from."""
    return [f"Each judge begins at {said['value']}; the start value (difficulty) is added after the average."]


def value_parts(said: Data, names: Names) -> Words:
    """How many value parts are needed."""
    return [f"{said['needed']} are needed; each one missing takes {said['takes']} from the start value."]


def few(said: Data, names: Names) -> Words:
    """A routine of few value parts."""
    performed = "performed, credited or not" if said.get("counting") == "performed" else "credited"
    few = "No value part" if said["fewer-than"].startswith("1 ") else f"Fewer than {said['fewer-than']}"
    return [f"{few} {performed}: {said['takes']} from the average."]


def restricted(said: Data, names: Names) -> Words:
    """What a restricted element costs."""
    repeated = {"each time": ", the same one again each time", "once": ", the same one again only once"}
    often = repeated.get(said.get("repeated", ""), "")
    return [f"Each restricted element takes {said['takes']} from the start value{often}."]


def requirement(said: Data, names: Names) -> Words:
    """How a requirement is met, and what it moves."""
    if "role" in said:
        met = f"Met by an element that is a {names.of('roles', said['role'])}."
    elif "condition" in said:
        met = f"Met by an element marked {names.of('conditions', said['condition'])}."
    else:
        met = f"Met by an element whose list says that it fulfils “{said['requirement']}”."
    but = []
    if said.get("not-in"):
        but.append(f"An element taken as {names.of('roles', said['not-in'], 'or')} does not count.")
    if said.get("not-elements"):
        but.append(f"Not: {names.of('elements', said['not-elements'])}.")
    if "gives" in said:
        return [met, *but, f"Met, it gives {said['gives']}."]
    return [met, *but, f"Missing, it takes {said['takes']} from the start value."]


def no_role(said: Data, names: Names) -> Words:
    """What a missing or void role costs."""
    role = names.of("roles", said["role"])
    void = f"when every {role} there is was {joined(said['statuses'], 'or')}"
    if said.get("not-when"):
        void += f" (and not marked {names.of('conditions', said['not-when'], 'or')})"
    whens = (
        [void] if said.get("when-none", "yes") == "no" else [f"When there is no {role} at all", f"or {void}"]
    )
    text = ", ".join(whens)
    return [f"{text[0].upper()}{text[1:]}: {said['takes']} from the start value."]


def withheld(said: Data, names: Names) -> Words:
    """When credit is withheld."""
    loses = {"value part": "earns no value part", "requirement": "fulfils no requirement"}
    effect = joined(loses[one] for one in said["takes"]) or "loses nothing; the reason is only noted"
    words = [f"{_test(said, names)}: it {effect}. Reason in the score sheet: {said['reason']}."]
    if said.get("different-neighbour") == "needed":
        words.append("A later time counts only with a different element directly before or after it.")
    if said.get("different-neighbour") == "not needed":
        words.append("A later time counts whatever stands before or after it.")
    if said.get("same-by") == "called":
        words.append("Two elements are the same when the judge calls them the same.")
    return words


def _test(said: Data, names: Names) -> str:
    if "condition" in said:
        return f"An element marked {names.of('conditions', said['condition'])}"
    if "status" in said:
        return f"An element with the status “{said['status']}”"
    if "cast" in said:
        short = "A cast that is lower than the tolerance allows"
        return short if said["cast"] == "short" else "A cast whose height nobody saw"
    if "parts" in said:
        return f"An element beyond {said['parts']} of the {names.of('roles', said['role'])}"
    return f"An element that has earned {said.get('times', '')} already"


def judge_decides(said: Data, names: Names) -> Words:
    """That a judge may decide credit."""
    return [
        "A judge may give an element's credit, or withhold it, against what the clauses say.",
        f"Reason in the score sheet: {said['reason']}.",
    ]


def one_element(said: Data, names: Names) -> Words:
    """Neighbours that are one element."""
    parted = names.of("conditions", said["parted-by"])
    return [
        f"{names.of('elements', said['elements'], 'or')}: up to {said['at-most']} are one element, "
        f"unless marked {parted} in between."
    ]


def part_of(said: Data, names: Names) -> Words:
    """A short cast that is part of what follows."""
    into = names.of("elements", said["into"], "or")
    return [
        f"{names.of('elements', said['elements'], 'or')}, lower than the tolerance allows and directly "
        f"before {into}: part of it, no element of its own and none in between."
    ]


def element_values(said: Data, names: Names) -> Words:
    """What each letter is worth."""
    return [", ".join(f"{letter} {value}" for letter, value in said["values"].items()) + "."]


def counting(said: Data, names: Names) -> Words:
    """Which elements count."""
    return [
        f"{said['at-most']} count, the highest first; the {names.of('roles', said['role'])} "
        f"{said['that-role']}."
    ]


def _side(side: Data, names: Names) -> str:
    words = f"{side.get('at-least', 'any value')} or higher"
    if side.get("with"):
        words += f" marked {names.of('conditions', side['with'], 'or')}"
    if side.get("roles-not"):
        words += f", not as {names.of('roles', side['roles-not'], 'or')}"
    return words


def connection(said: Data, names: Names) -> Words:
    """What two elements joined give."""
    order = " (either order)" if said.get("order") == "either" else ""
    return [
        f"{_side(said['first'], names)}, then {_side(said['second'], names)}{order}, the earlier one marked "
        f"{names.of('conditions', said['joined-by'])}: gives {said['gives']}.",
    ]


def elements(said: Data, names: Names) -> Words:
    """Each element with its status and what it may be; a page shows them as a table."""
    return [_element(one, said["status"], names) for one in said["elements"]]


def _element(one: Data, status: str, names: Names) -> str:
    cells = {column: cell(one, names) for column, cell in ELEMENT_CELLS.items()}
    more = [f"{column.lower()} {cells[column]}" for column in list(cells)[2:] if cells[column]]
    return f"{one['name']}, {'; '.join([status, *more])}."


def _angle(one: Data, names: Names) -> str:
    return {"decides": "decides credit", "noted": "may be noted"}.get(one.get("angle", ""), "")


ELEMENT_CELLS: dict[str, Callable[[Data, Names], str]] = {
    "Element": lambda one, names: one["name"],
    "Code": lambda one, names: one["code"],
    "Value": lambda one, names: one.get("value", ""),
    "May fulfil": lambda one, names: names.of("requirements", one.get("fulfils", ())),
    "May be": lambda one, names: names.of("roles", one.get("may-be", ()), "or"),
    "Angle": _angle,
    "Earns at most": lambda one, names: one.get("earns", ""),
}
"""What a list of elements says of each, by the heading of its column."""


def role_bonus(said: Data, names: Names) -> Words:
    """What a high element in one role gives."""
    spared = said.get("not-when")
    unless = f", unless marked {names.of('conditions', spared, 'or')}" if spared else ""
    return [
        f"A credited {names.of('roles', said['role'])} of value {said['at-least']} or higher gives "
        f"{said['gives']}{unless}."
    ]
