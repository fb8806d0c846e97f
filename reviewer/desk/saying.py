"""From a typed call to the action it asks for."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

from reviewer import actions
from reviewer.desk.answering import answer, learn
from reviewer.desk.bench import Bench
from reviewer.desk.calls import Call, CallError, menu
from reviewer.terms.exact import Points
from reviewer.terms.marks import CastAngle, Mark
from reviewer.terms.messages import Message, message
from reviewer.terms.problems import Problem
from reviewer.terms.provisions import Fault
from reviewer.words import Saying

if TYPE_CHECKING:
    from reviewer.actions import Audit, Change


def say(bench: Bench, typed: str) -> bool:
    """Do what was typed; the answer is at the foot of the window. Whether it was done."""
    calls: list[Call] = []

    def obeyed() -> Change | None:
        calls.append(bench.words.read(typed))
        return _obey(bench, calls[0])

    done = bench.attempt(obeyed)
    if done:
        bench.said.emit(answer(bench, calls[0], typed.strip()), False)
    return done


def _obey(bench: Bench, call: Call) -> Change | None:
    if call.kind == "command":
        return _command(bench, call)
    audit = bench.open_audit()
    if call.kind == "element":
        return _element(bench, audit, call)
    if call.kind == "fault":
        return _fault(bench, audit, call)
    if call.kind == "fact":
        seen = call.seen or bench.seeing_now()
        return actions.place_mark(audit, kind="fact", code=call.code, judge=call.judge, seen=seen)
    return _change(bench, audit, call)


def _command(bench: Bench, call: Call) -> Change | None:
    if call.code == "go":
        bench.wanted.emit(_wanted(bench, call))
        return None
    if call.code in ("short", "forget"):
        learn(bench, call)
        return None
    audit = bench.open_audit()
    if call.code == "posted":
        score = call.points(bench.say)
        if score is None:
            remedy = message("Type it too, such as posted 8.900.")
            raise _refused("posted", message("The score is missing."), remedy)
        return actions.enter_posted(audit, score)
    if call.code == "note":
        return actions.write_note(audit, call.text, bench.call_pts if bench.is_here(None) else None)
    if call.code == "withdraw":
        return actions.withdraw_mark(audit, bench.must_be_chosen().id)
    return actions.change_mark(audit, bench.bounded("start" if call.code == "starts" else "end"))


def _element(bench: Bench, audit: Audit, call: Call) -> Change:
    order = None
    if bench.call_pts is None:
        order = 1 + max((mark.order or 0 for mark in bench.marks if mark.kind == "element"), default=0)
    return actions.place_mark(
        audit,
        kind="element",
        code=call.code,
        order=order,
        start=bench.call_pts,
        roles=call.roles,
        conditions=call.conditions,
        angle=_angle(call, bench.say),
        seen=call.seen or bench.seeing_now(),
        judge=call.judge,
        recording=bench.on_screen,
    )


def _fault(bench: Bench, audit: Audit, call: Call) -> Change:
    element, listed = bench.element_here(), bench.call_pts is None
    return actions.place_mark(
        audit,
        kind="fault",
        code=call.code,
        order=element.order if element and listed else None,
        at=bench.call_pts,
        element=element.id if element else None,
        amount=_amount(bench, audit.book.fault(call.code), call.points(bench.say)),
        seen=call.seen or bench.seeing_now(),
        arguable=not call.settled,
        judge=call.judge,
        recording=bench.on_screen,
    )


def _change(bench: Bench, audit: Audit, call: Call) -> Change:
    """Qualifying words alone change the chosen mark: a named word is added, a single value replaced."""
    mark = _meant(bench, call)
    if mark.kind == "fault":
        return actions.change_mark(audit, _changed_fault(bench, audit, mark, call))
    if mark.kind != "element":
        remedy = message("Withdraw it instead.")
        raise _refused(mark.code, message("A fact has nothing to change."), remedy)
    roles = dict.fromkeys((*mark.roles, *call.roles))
    conditions = dict.fromkeys((*mark.conditions, *call.conditions))
    changed = replace(
        mark, roles=tuple(roles), conditions=tuple(conditions), angle=_angle(call, bench.say) or mark.angle
    )
    changed = replace(changed, seen=call.seen) if call.seen else bench.seen_anew(changed)
    return actions.change_mark(audit, changed)


def _meant(bench: Bench, call: Call) -> Mark:
    """The chosen mark; what can only be so of an element goes to the chosen fault's."""
    mark = bench.must_be_chosen()
    of_element = (call.roles or call.conditions or call.verdict) and call.number is None
    return bench.mark(mark.element) or mark if mark.kind == "fault" and of_element else mark


def _changed_fault(bench: Bench, audit: Audit, mark: Mark, call: Call) -> Mark:
    if call.roles or call.conditions or call.verdict:
        said = message("These words belong to an element; a fault is chosen.")
        raise _refused(mark.code, said, message("Choose the element first."))
    given = call.points(bench.say)
    return replace(
        mark,
        amount=mark.amount if given is None else _amount(bench, audit.book.fault(mark.code), given),
        seen=call.seen or mark.seen,
        arguable=mark.arguable if call.settled is None else not call.settled,
        judge=call.judge or mark.judge,
    )


def _angle(call: Call, say: Saying) -> CastAngle | None:
    if call.number is None and call.verdict is None:
        return None
    return CastAngle("eye", value=call.degrees(say), verdict=call.verdict)


def _amount(bench: Bench, fault: Fault, given: Points | None) -> Points:
    """The amount typed, else the only one there is, else the one given last for this fault."""
    if given is None and len(fault.amounts) == 1:
        return fault.amounts[0]
    given = bench.habits.amounts.get(fault.code) if given is None else given
    remedy = message("Type one of: {amounts}.", amounts=menu(fault.amounts))
    if given is None:
        raise _refused(fault.code, message("The amount is missing."), remedy)
    if given not in fault.amounts:
        said = message("The edition does not allow {amount} here.", amount=given)
        raise _refused(fault.code, said, remedy)
    return given


def _wanted(bench: Bench, call: Call) -> int:
    """The frame that ``go`` asks for; refused in a look at full speed, which shows what it shows."""
    if bench.facts is None:
        remedy = message("Open one with {key}.", key=bench.key("open"))
        raise _refused("go", message("No recording is open."), remedy)
    if bench.looking:
        wrong = message("A look at full speed is under way.")
        raise _refused("go", wrong, message("{key} breaks it off.", key=bench.key("look-once")))
    said = call.moment or call.number
    if said is None:
        remedy = message("Type it too, such as go 123, go 4.1s or a time code.")
        raise _refused("go", message("The frame is missing."), remedy)
    return actions.frame_of_moment(bench.facts, said, "go")


def _refused(where: str, said: Message, remedy: Message) -> CallError:
    return CallError(Problem("refused", where, said, remedy))
