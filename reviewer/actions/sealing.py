"""Closing a sheet for good."""

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.settling import open_lines
from reviewer.terms.problems import Problem


def seal(audit: Audit) -> Change:
    """Close the sheet for good: what its score is made of cannot change any more, and undo stops there."""
    if audit.state.sealed is not None:
        said, remedy = "This sheet is sealed already.", "Compare it, or settle it."
        raise AuditError(Problem("sealed", audit.path.name, said, remedy))
    _refuse_open(audit)
    audit.case.append("sealed", {"head": audit.case.events[-1].hash})
    return Change(frozenset({"case"}))


def _refuse_open(audit: Audit) -> None:
    """A settlement is sealed once each of its lines is settled."""
    open_ = open_lines(audit)
    if open_:
        said = f"Lines of this settlement are open: {', '.join(open_)}."
        remedy = f"Settle them first: `reviewer settle show {audit.path.name}` lists them."
        raise AuditError(Problem("lines-open", audit.path.name, said, remedy))
