"""A posted score as the average that it is: what a panel of as many judges may come to on these marks."""

from reviewer import scoring
from reviewer.actions.audit import Audit
from reviewer.actions.panelposted import judges_posted
from reviewer.terms.exact import Points
from reviewer.terms.sheets import PanelHeld


def as_panel(audit: Audit, posted: Points | None) -> PanelHeld | None:
    """Held against what such a panel may give.

    None where no score is posted, nobody said of how many judges it is, these are no more than those who
    marked, or only parts are audited.
    """
    panel, sheet = len(judges_posted(audit)), audit.sheet
    if posted is None or panel <= len(sheet.judges) or audit.state.limited_to:
        return None
    reached, near = scoring.held_against_panel(sheet, audit.counting_marks, audit.book, panel, posted)
    return PanelHeld(panel, reached, near)
