"""Closing a sheet for good."""

from reviewer.actions.audit import Audit, AuditError
from reviewer.actions.marking import Change
from reviewer.actions.settling import open_lines
from reviewer.terms.messages import message
from reviewer.terms.problems import Problem


def seal(audit: Audit, *, although_empty: bool = False) -> Change:
    """Close the sheet for good: what its score is made of cannot change any more, and undo stops there.

    An AuditError refuses another judge's, one with open lines, and one without a mark unless that is meant.
    """
    _refuse_another(audit)
    if audit.state.sealed is not None:
        said, remedy = message("This sheet is sealed already."), message("Compare it, or settle it.")
        raise AuditError(Problem("sealed", audit.path.name, said, remedy))
    _refuse_open(audit)
    if not audit.marks and not although_empty:
        said = message("This sheet has no mark, and sealing cannot be undone.")
        remedy = message("Mark the routine first; if it is meant to be empty, say --although-empty.")
        raise AuditError(Problem("empty", audit.path.name, said, remedy))
    audit.case.append("sealed", {"head": audit.case.events[-1].hash})
    return Change(frozenset({"case"}))


def _refuse_another(audit: Audit) -> None:
    """A sheet is sealed by the judge whose it is."""
    if audit.author != audit.letter:
        said = message("This is the sheet of judge {letter}, who alone seals it.", letter=audit.letter)
        remedy = message(
            "Leave it to judge {letter}; as that judge, say --author {letter}.", letter=audit.letter
        )
        raise AuditError(Problem("another-judge", audit.path.name, said, remedy))


def _refuse_open(audit: Audit) -> None:
    """A settlement is sealed once each of its lines is settled."""
    open_ = open_lines(audit)
    if open_:
        said = message("Lines of this settlement are open: {open}.", open=", ".join(open_))
        remedy = message("Settle them first: `reviewer settle show {path}` lists them.", path=audit.path)
        raise AuditError(Problem("lines-open", audit.path.name, said, remedy))
