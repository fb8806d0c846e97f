"""What the desk answers to a typed call, and how it learns short codes."""

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.calls import Call, CallError, short
from reviewer.desk.homes import offer_words
from reviewer.terms.marks import Mark
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def answer(bench: Bench, call: Call, typed: str) -> str:
    """What was done, for the foot of the window."""
    if call.code == "short" and call.kind == "command":
        code = call.text.split()[0].lower()
        return bench.say("{code} stands for {words}.", code=code, words=bench.shorts[code])
    mark = bench.chosen_mark() if call.kind in ("element", "fault", "fact", "change") else None
    if mark is not None and call.kind == "change" and (call.roles or call.conditions or call.verdict):
        mark = bench.mark(mark.element) or mark
    said = [bench.say("Done: {typed}", typed=typed) if mark is None else _placed(bench, mark)]
    said += [
        bench.say("{code} is the edition's own word; your short code stands aside.", code=one)
        for one in call.aside
    ]
    bounded = bench.chosen_mark() if call.code in ("starts", "ends") else mark
    return "   ".join(filter(None, (*said, offer_words(bench, bounded))))


def _placed(bench: Bench, mark: Mark) -> str:
    """The mark in words: its code, what it costs, where it lies and how it was seen."""
    parts = [mark.code if mark.amount is None else f"{mark.code} {short(mark.amount)}"]
    parts.append(place_of(bench, mark))
    if mark.kind != "fact" and mark.moment() is None:
        parts.append(bench.say("no time"))
    if mark.seen is not None:
        parts.append(bench.say("seen at {speed}", speed=bench.say.word(mark.seen)))
    return bench.say("Done: {typed}", typed=", ".join(parts))


def place_of(bench: Bench, mark: Mark) -> str:
    """A mark's id, the element it belongs to and its frame, in words."""
    element = bench.mark(mark.element)
    on = (
        bench.say("{mark} on {element}", mark=mark.id, element=f"{element.code} {element.id}")
        if element
        else mark.id
    )
    shown = actions.frames_shown(bench.on_desk(), (mark.id,))
    return ", ".join((on, *(bench.say("frame {frame}", frame=one.frame) for one in shown)))


def learn(bench: Bench, call: Call) -> None:
    """Let a short code stand for words from now on, or take it out; alone, it is only looked up."""
    code, _, words = call.text.partition(" ")
    code = code.lower()
    if call.code == "forget":
        bench.shorts = actions.forget_short_code(code)
    elif words:
        bench.shorts = actions.define_short_code(code, words, bench.book)
    elif code not in bench.shorts:
        said = message("The words it stands for are missing.")
        remedy = message("Type them too, such as short ab arms-bent 0.1.")
        raise CallError(Problem("no-short-code", code or "short", said, remedy))
    bench.learn()
