"""Numbers that stand alone in a report, as its language writes them: ``9.650`` is ``9,650`` in German."""

from dataclasses import is_dataclass, replace
from typing import Any

from reviewer.reports.blocks import Figure, Page, Run
from reviewer.terms.messages import is_size
from reviewer.words import Saying


def numbered(page: Page, say: Saying) -> Page:
    """The same page; codes, drawings and what leads somewhere stay as they are."""
    if say.writes_points:
        return page
    found: Page = _numbered(page, say)
    return found


def _numbered(part: Any, say: Saying) -> Any:
    if isinstance(part, str):
        return say.word(part) if is_size(part) else part
    if isinstance(part, Run):
        plain = part.style != "code" and part.to is None and is_size(part.text)
        return replace(part, text=say.word(part.text)) if plain else part
    if isinstance(part, Figure):
        return replace(part, caption=_numbered(part.caption, say))
    if isinstance(part, tuple):
        return tuple(_numbered(one, say) for one in part)
    if is_dataclass(part) and not isinstance(part, type):
        return replace(
            part, **{name: _numbered(getattr(part, name), say) for name in part.__dataclass_fields__}
        )
    return part
