"""What the fields of a rule book's clauses are called on the form; the file's own word stands in the tip."""

from reviewer.terms.messages import noted
from reviewer.words import Saying

FIELDS = {
    "title": noted("Title"),
    "name": noted("Name"),
    "division": noted("Division"),
    "apparatus": noted("Apparatus"),
    "season": noted("Season"),
    "effective.from": noted("Holds from"),
    "effective.until": noted("Holds until"),
    "cautions": noted("Cautions"),
    "value": noted("Value"),
    "needed": noted("Needed"),
    "takes": noted("Takes"),
    "gives": noted("Gives"),
    "amount": noted("One amount"),
    "up-to": noted("Any amount up to"),
    "one-of": noted("One of these amounts"),
    "scope": noted("Counted"),
    "full-from": noted("Most from an angle of"),
    "fault": noted("Fault’s code"),
    "fact": noted("Fact’s code"),
    "requirement": noted("Requirement’s code"),
    "role": noted("Role"),
    "condition": noted("Condition"),
    "not-in": noted("Not in the roles"),
    "not-elements": noted("Not by the elements"),
    "not-when": noted("Not when"),
    "when-none": noted("Also when there is none"),
    "statuses": noted("Statuses"),
    "status": noted("Status"),
    "reason": noted("Reason"),
    "repeated": noted("The same again costs"),
    "may-be": noted("May be"),
    "fulfils": noted("Fulfils"),
    "angle": noted("Angle"),
    "earns": noted("Earns at most"),
    "elements": noted("Elements"),
    "at-most": noted("At most"),
    "at-least": noted("At least"),
    "parted-by": noted("Parted by"),
    "into": noted("Into"),
    "cast": noted("Cast"),
    "parts": noted("Parts that earn"),
    "times": noted("Times it earns"),
    "different-neighbour": noted("Different neighbour"),
    "same-by": noted("The same by"),
    "line": noted("Line of the body"),
    "shoulders-open-to": noted("Shoulders open up to"),
    "edge": noted("The limit itself"),
    "below-limit": noted("Below the limit by"),
    "not-on-top-of-it": noted("Not taken as well"),
    "on": noted("On"),
    "clear-by": noted("Clear of the limit by"),
    "faults": noted("Faults"),
    "by": noted("By"),
    "unless": noted("Unless"),
    "after": noted("After"),
    "within": noted("Within"),
    "counted-from": noted("Counted from"),
    "rounding": noted("What does not come out is"),
    "drop-extremes-from": noted("Extremes left out from"),
    "judges": noted("Judges"),
    "counting": noted("Counting"),
    "average-from": noted("From an average of"),
    "reference-from": noted("From a reference score of"),
    "allowed": noted("Allowed apart"),
    "fewer-than": noted("Fewer than"),
    "more-than": noted("More than"),
    "held-against": noted("Held against"),
    "that-role": noted("An element in that role"),
    "order": noted("Order"),
    "joined-by": noted("Joined by"),
    "with": noted("With"),
    "higher": noted("The higher, in this order"),
    "asked-by": noted("Asked by"),
    "about": noted("About"),
    "recording": noted("A recording"),
    "result": noted("The score"),
    "fee": noted("Fee"),
    "says": noted("Says"),
    "question": noted("Question left open"),
}
"""Field to its name on the form."""

GROUPS = {"roles": noted("Roles"), "conditions": noted("Conditions"), "values": noted("Values")}
_CODES = ("roles.", "conditions.", "values.")
"""Whose names are codes of the book and not words of ours."""


def named(say: Saying, place: str) -> str:
    """What a field is called: its own name, without those it lies in."""
    last = place.rpartition(".")[2]
    if place.startswith(_CODES):
        return last
    words = FIELDS.get(place) or FIELDS.get(last)
    return say(words) if words else last


def grouped(say: Saying, place: str) -> str:
    """What the field lies in: an element of a list, a side of a connection, the other reading; or nothing."""
    within = place.rpartition(".")[0]
    if within in ("", "effective"):
        return ""
    other, _, inner = within.partition(".") if within.startswith("left-open") else ("", "", within)
    inner = inner.removeprefix("elements.")
    inner = say.word(GROUPS[inner]) if inner in GROUPS else inner
    if not other:
        return inner
    return say("Other reading: {what}", what=inner) if inner else say("Other reading")
