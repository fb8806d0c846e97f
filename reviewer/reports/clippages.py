"""The page of a clip set: each clip with its words, to be played where the folder lies."""

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from reviewer.reports.blocks import Film, Listed, Page, Paragraph, Section, words
from reviewer.reports.notices import notice
from reviewer.reports.page import as_html
from reviewer.words import Saying, saying


def clip_page(found: Mapping[str, Any], cautions: Sequence[str]) -> str:
    """The page of a ``reviewer.clip-set/1`` document whose clips lie beside it, in its language."""
    say = saying(found["language"])
    clips = tuple(_clip(one, number, say) for number, one in enumerate(found["clips"], start=1))
    minded = Listed(tuple(words(say.word(one)) for one in cautions), warns=True)
    page = Page(
        language=say.language,
        title=found["title"],
        headline=say("Clips"),
        notice=notice(say),
        opening=(Paragraph(words(say("For {use}, by consent.", use=say.word(found["use"])))),),
        sections=(*clips, Section("mind", say("Please mind"), (minded,))),
    )
    return as_html(page, (), {})


def _clip(one: Mapping[str, Any], number: int, say: Saying) -> Section:
    lines = list(one["caption"])
    title = say("Clip {number}", number=number)
    named = f"{title}: {lines[0]}" if lines else title
    return Section(f"clip-{number}", named, (Film(one["file"], named, tuple(_beneath(one, lines, say))),))


def _beneath(one: Mapping[str, Any], lines: Sequence[str], say: Saying) -> Iterator[Any]:
    """How long it is, its further words, and what is to be known of its pictures."""
    yield from words(*(f"{line}. " for line in lines[1:]))
    yield from words(say("{seconds} seconds.", seconds=say.word(one["seconds"])))
    if any(side["lost"] for side in one["sides"]):
        yield from words(" ", say("Where a head was lost, its cover has grown."))
    if any(side["suspect"] for side in one["sides"]):
        yield from words(" ", say("Pictures in it are damaged: do not rely on them."))
