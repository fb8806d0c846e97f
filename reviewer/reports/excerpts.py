"""A person's own words shown in short, so that what somebody looks for is not pushed away by them."""

from reviewer.reports.plain import visible

MOST = 600
"""Characters of a question that stand beside its answer."""


def excerpt(text: str) -> tuple[str, bool]:
    """The beginning of a text on one line, what cannot be seen as its number; and whether it was cut."""
    said = " ".join(text.split())
    if len(said) <= MOST:
        return visible(said), False
    whole = said[:MOST].rsplit(" ", 1)[0]
    return visible(whole) + " …", True
