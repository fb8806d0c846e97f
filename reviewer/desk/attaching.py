"""Attaching faults to the element they lie in, or to any other."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace

from PyQt6.QtWidgets import QComboBox

from reviewer import actions
from reviewer.desk.bench import Bench
from reviewer.desk.homes import home_of, straying
from reviewer.terms.marks import Mark


def attach(bench: Bench) -> None:
    """Attach what lies in the chosen element and belongs elsewhere to it; a chosen fault to where it lies."""
    say, chosen = bench.say, bench.chosen_mark()
    strays = straying(bench, chosen) if chosen is not None else ()
    if chosen is None or not strays:
        bench.said.emit(say("Choose an element, or a fault, that lies where another one is marked."), True)
        return
    for fault in strays:
        home = home_of(bench, fault)
        if not bench.attempt(_belonging(bench, fault, home)):
            return
    bench.choose((chosen.id,))
    element = bench.mark(home_of(bench, strays[0]))
    named = ", ".join(f"{one.code} {one.id}" for one in strays)
    to = f"{element.code} {element.id}" if element is not None else ""
    bench.said.emit(say("Attached to {element}: {faults}.", element=to, faults=named), False)


def _belonging(bench: Bench, fault: Mark, home: str | None) -> Callable[[], actions.Change]:
    return lambda: actions.change_mark(bench.open_audit(), replace(fault, element=home))


def elements_box(bench: Bench, fault: Mark) -> QComboBox:
    """The element a fault belongs to, to be chosen among all."""
    say, box = bench.say, QComboBox()
    elements = [mark for mark in bench.marks if mark.kind == "element"]
    ids = [None, *(mark.id for mark in elements)]
    box.addItem(say("on no element"))
    box.addItems([say("on {element}", element=f"{mark.code} {mark.id}") for mark in elements])
    box.setCurrentIndex(ids.index(fault.element) if fault.element in ids else 0)
    box.setAccessibleName(say("Element"))
    box.setToolTip(say("The element this fault belongs to"))
    box.activated.connect(lambda at: bench.change(replace(fault, element=ids[at])))
    return box
