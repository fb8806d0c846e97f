"""What the panel posted, in words beside what the marks come to; and how far the score can go."""

from reviewer.terms.exact import Points
from reviewer.terms.messages import noted
from reviewer.terms.posted import PostedSheet
from reviewer.terms.sheets import FullSpeed, PanelHeld, ScoreSheet
from reviewer.words import Saying

_PARTS = {"start": "start_value", "average": "average", "neutral": "neutral", "final": "final"}


def posted_part(posted: PostedSheet, key: str) -> Points | None:
    """The posted figure of a total, by the total's key; None where it was not kept."""
    if key.startswith("judge "):
        return dict(posted.judges).get(key.removeprefix("judge "))
    found = getattr(posted, _PARTS[key], None) if key in _PARTS else None
    return found if isinstance(found, Points) else None


def beside_total(posted: PostedSheet, key: str, marked: Points, say: Saying) -> str:
    """The posted figure and how far it lies from the marks; empty where none was kept."""
    part = posted_part(posted, key)
    if part is None:
        return ""
    if part == marked:
        return say("Posted {posted}: the same.", posted=part)
    if part > marked:
        return say("Posted {posted}: {apart} more.", posted=part, apart=part - marked)
    return say("Posted {posted}: {apart} less.", posted=part, apart=marked - part)


def reachable_words(sheet: ScoreSheet, say: Saying) -> str:
    """Which final scores the marks leave open, and how many decisions span them."""
    reach = sheet.reachable
    if reach.low == reach.high:
        return say("No other score can be reached on these marks.")
    said = {"low": reach.low, "high": reach.high, "number": len(reach.decisions)}
    if not reach.exact:
        return say("Can be reached: between {low} and {high}. Left open: {number}.", **said)
    return say("Can be reached: {low} to {high}. Left open: {number}.", **said)


def posted_words(
    sheet: ScoreSheet, posted: Points | None, say: Saying, panel: PanelHeld | None = None
) -> str:
    """The panel's score held against what can be reached; empty where none was entered.

    ``panel``: the same held as the average of more judges than marked.
    """
    if posted is None:
        return ""
    reach = sheet.reachable
    if posted == sheet.final_score:
        return say("the same as the marks come to")
    if posted in reach.scores:
        return say("can be reached on these marks")
    if panel is not None and panel.reached:
        return say("can be reached as the average of {count} judges", count=panel.judges)
    if reach.scores:
        nearest = min(reach.scores, key=lambda score: (abs((score - posted).thousandths), score))
        return say("cannot be reached; the nearest is {nearest}", nearest=nearest)
    if reach.low <= posted <= reach.high:
        return say("lies within the bounds")
    return say("cannot be reached: it lies outside the bounds")


def full_speed_words(seen: FullSpeed, posted: Points | None, say: Saying, *, alone: bool = True) -> str:
    """What the score at full speed leaves out, which scores that leaves open, and the posted one."""
    reach = seen.reachable
    said = [say("Without what slow motion showed of {marks}.", marks=", ".join(seen.left_out))]
    if reach.low != reach.high:
        said.append(say("Can be reached at full speed: {low} to {high}.", low=reach.low, high=reach.high))
    within = posted is not None and (
        posted in reach.scores or (not reach.scores and reach.low <= posted <= reach.high)
    )
    if posted is not None and (within or alone):
        yes = noted("Posted {posted} can be reached at full speed.")
        no = noted("Posted {posted} cannot be reached at full speed.")
        said.append(say(yes if within else no, posted=posted))
    return " ".join(said)


def resting_words(sheet: ScoreSheet, say: Saying) -> str:
    """How many points the lines move, and on what kinds of sources they rest."""
    moved: dict[str, int] = {}
    for line in sheet.lines:
        kind = line.source.partition(":")[0]
        moved[kind] = moved.get(kind, 0) + abs(line.points.thousandths)
    parts = [
        f"{say.word(str(Points(size)))} {say.word(kind).split(',')[0]}"
        for kind, size in moved.items()
        if size
    ]
    return say("Points by source: {parts}.", parts=", ".join(parts)) if parts else ""
