"""An exercise judged blind at the desk: a learner's sealed sheet held against the case it was judged from."""

from typing import Any

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.practising import Shown, key
from reviewer.terms.exact import Points
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import Required
from reviewer.words import Saying

_Document = dict[str, Any]
SOFT, HARD, WITHIN = "soft", "hard", "within"
"""How a size lies to what the judges of the key took: below all of them, above all, or within."""


def beside_key(own: Audit, first: Audit, say: Saying) -> _Document:
    """``reviewer.exercise/1``: what a second judge called beside what the first case has.

    An AuditError while the second sheet can still be changed, and for a case that is not the one it judges.
    """
    if own.state.second_of != first.case.events[0].hash:
        said = message("This is not the case that was judged blind.")
        raise AuditError(
            Problem("another-case", first.path.name, said, message("Name the one it began from."))
        )
    if own.state.sealed is None:
        said = message("Nobody sees the key before their own sheet is sealed.")
        raise AuditError(Problem("not-sealed", own.path.name, said, message("Seal it first.")))
    called, keyed = (key([Shown(one, None, 0, 0, whole=True)], say)["clips"][0] for one in (own, first))
    return {
        "format": "reviewer.exercise/1",
        "value_parts": {"called": called["value_parts"], "key": keyed["value_parts"]},
        "requirements": [
            {
                "name": one.name,
                "called": called["requirements"].get(one.code),
                "key": keyed["requirements"][one.code],
            }
            for one in first.book.all(Required)
        ],
        "execution": _sized(Points.parse(called["most"]), keyed["least"], keyed["most"]),
        "kinds": _kinds(called, keyed),
        "not_credited": keyed["not_credited"],
        "judges": keyed["judges"],
    }


def _sized(called: Points, least: str, most: str) -> _Document:
    low, high = Points.parse(least), Points.parse(most)
    how = SOFT if called < low else HARD if called > high else WITHIN
    return {"called": str(called), "least": least, "most": most, "how": how}


def _kinds(called: _Document, keyed: _Document) -> list[_Document]:
    """By kind of deduction, in order of their names: what was called, and what each judge of the key took."""
    sheets = [*called["judges"][:1], *keyed["judges"]]
    names: dict[str, str] = {}
    taken: dict[str, list[Points]] = {}
    for place, sheet in enumerate(sheets):
        for one in sheet["taken"]:
            names.setdefault(one["code"], one["why"].rstrip("."))
            taken.setdefault(one["code"], [Points(0)] * len(sheets))[place] += Points.parse(one["amount"])
    found = []
    for code in sorted(taken, key=lambda one: names[one]):
        own, *judges = taken[code]
        found.append({"name": names[code]} | _sized(own, str(min(judges)), str(max(judges))))
    return found
