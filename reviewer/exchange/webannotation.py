"""Marks as W3C Web Annotations, with Media Fragments as the address of what they are about."""

from collections.abc import Mapping, Sequence
from typing import Any

from reviewer.exchange.wording import npt, plain, said
from reviewer.terms.canonical import readable
from reviewer.terms.passages import Footage, Passage

CONTEXT = "http://www.w3.org/ns/anno.jsonld"
FRAGMENTS = "http://www.w3.org/TR/media-frags/"
_MOTIVATIONS = {"element": "identifying", "fault": "assessing", "fact": "describing"}


def web_annotations(
    passages: Sequence[Passage], footage: Mapping[str, Footage], case: str, rule_book: str
) -> bytes:
    """An AnnotationCollection of one page (Web Annotation Data Model and Vocabulary, W3C 2017), as JSON-LD.

    ``footage`` is by SHA-256, ``case`` the hash of the event that opened it. Ids are URNs of the events that
    said the marks. A passage of a recording that is not among them is left out; one without a time is about
    the whole recording.
    """
    collection = f"urn:sha256:{case}"
    found = ((one, footage.get(one.recording or "")) for one in passages)
    items = [_annotation(one, on) for one, on in found if on is not None]
    page = {"id": f"{collection}#page-1", "type": "AnnotationPage", "startIndex": 0, "items": items}
    return readable(
        {
            "@context": CONTEXT,
            "id": collection,
            "type": "AnnotationCollection",
            "label": plain(f"Marks of one routine, by the rule book {rule_book}"),
            "total": len(items),
            "first": page,
        }
    )


def fragment(passage: Passage, footage: Footage) -> str | None:
    """The passage as a temporal Media Fragment ``t=begin,end`` (Media Fragments URI 1.0); None without one.

    Seconds are counted from the first picture and rounded into the passage, so that no picture beside it is
    addressed.
    """
    if passage.start is None or passage.end is None:
        return None
    begin = npt(passage.start - footage.first, footage.base, up=True)
    return f"t={begin},{npt(passage.end - footage.first, footage.base, up=False)}"


def _annotation(passage: Passage, footage: Footage) -> dict[str, Any]:
    body = {"type": "TextualBody", "value": said(passage), "format": "text/plain", "language": "en"}
    tag = {"type": "TextualBody", "value": plain(passage.code), "purpose": "tagging"}
    return {
        "id": f"urn:sha256:{passage.event}",
        "type": "Annotation",
        "motivation": _MOTIVATIONS[passage.kind],
        "body": [body | {"purpose": "describing"}, tag],
        "target": _target(passage, footage),
    }


def _target(passage: Passage, footage: Footage) -> dict[str, Any]:
    """The recording; of it the passage, where it has a time."""
    value = fragment(passage, footage)
    target: dict[str, Any] = {"type": "SpecificResource", "source": footage.source}
    if value is None:
        return target
    return target | {"selector": {"type": "FragmentSelector", "conformsTo": FRAGMENTS, "value": value}}
