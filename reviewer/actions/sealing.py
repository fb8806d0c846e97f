"""Closing a sheet for good."""

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.settling import open_lines
from reviewer.terms.problems import Problem


def seal(audit: Audit, *, although_empty: bool = False) -> Change:
    """Close the sheet for good: what its score is made of cannot change any more, and undo stops there.

    An AuditError refuses another judge's, one with open lines, and one without a mark unless that is meant.
    """
    _refuse_another(audit)
    if audit.state.sealed is not None:
        said, remedy = "This sheet is sealed already.", "Compare it, or settle it."
        raise AuditError(Problem("sealed", audit.path.name, said, remedy))
    _refuse_open(audit)
    if not audit.marks and not although_empty:
        said = "This sheet has no mark, and sealing cannot be undone."
        remedy = "Mark the routine first; if it is meant to be empty, say --although-empty."
        raise AuditError(Problem("empty", audit.path.name, said, remedy))
    audit.case.append("sealed", {"head": audit.case.events[-1].hash})
    return Change(frozenset({"case"}))


def _refuse_another(audit: Audit) -> None:
    """A sheet is sealed by the judge whose it is."""
    if audit.author != audit.letter:
        said = f"This is the sheet of judge {audit.letter}, who alone seals it."
        remedy = f"Leave it to judge {audit.letter}; as that judge, say --author {audit.letter}."
        raise AuditError(Problem("another-judge", audit.path.name, said, remedy))


def _refuse_open(audit: Audit) -> None:
    """A settlement is sealed once each of its lines is settled."""
    open_ = open_lines(audit)
    if open_:
        said = f"Lines of this settlement are open: {', '.join(open_)}."
        remedy = f"Settle them first: `reviewer settle show {audit.path}` lists them."
        raise AuditError(Problem("lines-open", audit.path.name, said, remedy))
