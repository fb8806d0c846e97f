"""What an audit still lacks, in the order it is done: for whoever does it for the first time."""

from collections.abc import Iterator
from dataclasses import dataclass

from reviewer.actions.audit import Audit
from reviewer.terms.consents import NOT_RECORDED
from reviewer.terms.marks import Mark
from reviewer.terms.messages import Message, message


@dataclass(frozen=True, slots=True)
class Step:
    """One step of an audit.

    Attributes:
        does: the thing to do, by its name in the table of keys; empty where nothing need be done.
        says: what is missing, or what stands.
        done: whether it is done.
        needed: whether a score or a finding rests on it; what is not needed may stay as it is.
        marks: ids of the marks it is about.
    """

    does: str
    says: Message
    done: bool = False
    needed: bool = True
    marks: tuple[str, ...] = ()


def missing(audit: Audit | None, *, recording: bool) -> tuple[Step, ...]:
    """The steps from a file to a finding; ``recording`` is whether one is on the screen."""
    if audit is None:
        return tuple(_beginning(recording))
    return tuple(_steps(audit, recording))


def _beginning(recording: bool) -> Iterator[Step]:
    if not recording:
        yield Step("open", message("Open the recording of a routine, or a case."))
        yield Step("demo", message("Or open the demo case: it is made anew each time."), needed=False)
    else:
        yield Step("", message("The recording is open."), done=True)
    yield Step("start", message("Start a case: it keeps every mark at once."))


def _steps(audit: Audit, recording: bool) -> Iterator[Step]:
    if not recording:
        said = message("No recording is on the screen. A sheet may be typed without one.")
        yield Step("open", said, needed=False)
    if audit.consent == NOT_RECORDED:
        said = message("Nobody has said what the family allows. Only an inquiry may be answered so.")
        yield Step("consent", said)
    yield from _elements(audit, recording)
    yield from _open_casts(audit)
    yield from _problems(audit)
    yield from _ending(audit)


def _elements(audit: Audit, recording: bool) -> Iterator[Step]:
    elements = [mark for mark in audit.marks if mark.kind == "element"]
    if not elements:
        yield Step("type", message("No element is marked. Type its name where it starts."))
        return
    said = message("Elements marked: {count}.", count=len(elements))
    yield Step("", said, done=True, marks=tuple(mark.id for mark in elements))
    for role in audit.book.roles:
        if not any(role.code in mark.roles for mark in elements):
            said = message(
                "No element is the {role}. If there was one, choose it and type that.", role=role.code
            )
            yield Step("type", said, needed=False)
    untimed = [mark.id for mark in audit.marks if mark.kind != "fact" and mark.moment() is None]
    if recording and untimed:
        said = message("Marks without a frame: {count}. They count all the same.", count=len(untimed))
        yield Step("mark-after", said, needed=False, marks=tuple(untimed))


def _open_casts(audit: Audit) -> Iterator[Step]:
    undecided = [mark.id for mark in audit.marks if _open(audit, mark)]
    if undecided:
        said = message(
            "Casts nobody has judged: {count}. By eye is enough; measure where it is disputed.",
            count=len(undecided),
        )
        yield Step("type", said, marks=tuple(undecided))


def _open(audit: Audit, mark: Mark) -> bool:
    return mark.kind == "element" and mark.angle is None and audit.book.element_of[mark.code].decides


def _problems(audit: Audit) -> Iterator[Step]:
    problems = audit.sheet.problems
    if problems:
        yield Step("", message("Problems on the sheet: {count}. Each says its remedy.", count=len(problems)))


def _ending(audit: Audit) -> Iterator[Step]:
    if audit.posted is None:
        yield Step("posted", message("What the panel posted is not entered."), needed=False)
    for one in audit.state.inquiries:
        if one.id not in audit.state.answers:
            said = message("The inquiry {id} is not answered.", id=one.id)
            yield Step("inquiries", said)
    if not audit.state.inquiries:
        said = message("No inquiry is filed: a report is informational.")
        yield Step("inquiries", said, needed=False)
    yield Step("report", message("Write the report when all is said."), needed=False)
