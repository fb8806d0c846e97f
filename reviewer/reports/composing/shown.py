"""Every deduction on its frame: the still, what is drawn over it, the time code, what was taken there."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import Block, Figure, Listed, Paragraph, Run, Section, Words, words
from reviewer.reports.composing.view import View, clock, sentence, signed


def deductions(view: View) -> Section:
    """The stills in order of their recording, each with the lines of the ledger that it shows."""
    say, stills = view.say, view.finding["stills"]
    blocks: list[Block] = []
    if view.finding["readings"] and stills:
        blocks.append(Paragraph(words(Run(_key(view), "soft"))))
    blocks += [_figure(view, still) for still in stills]
    if not stills:
        said = say("No stills: the recording was not at hand, or no mark has a frame.")
        blocks.append(Paragraph(words(said)))
    blocks += _not_shown(view)
    return Section("deductions", say("Every deduction, on its frame"), tuple(blocks))


def _key(view: View) -> str:
    return view.say(
        "On a measured frame the thick line is the body line, long dashes are the true level, the black line "
        "is the limit and short dashes are what is tolerated below it. The tinted wedge holds the angle with "
        "95 %. Dotted lines are the uprights."
    )


def _figure(view: View, still: Mapping[str, Any]) -> Figure:
    name = view.frame_name(still["frame"], still.get("recording"))
    alt = view.say("Frame {frame}: {what}", frame=name, what=still["caption"])
    part = (0, 0, still["size"][0], still["size"][1])
    return Figure(
        still["id"], "still", part, still["id"], still["overlay"], alt, words(*_caption(view, still, name))
    )


def _caption(view: View, still: Mapping[str, Any], name: str) -> Iterator[str | Run | Words]:
    say = view.say
    yield Run(say("Frame {frame}", frame=name), "strong")
    yield ", " + say("{clock} into the recording", clock=clock(still["seconds"]))
    if "time_code" in still:
        yield ", " + say("time code {label}", label=still["time_code"])
    yield ". "
    lines = tuple(_lines_at(view, still))
    yield from (
        f"{sentence(one)} " for one in (still.get("measured", ()) if lines else still["caption"].split("; "))
    )
    for line in lines:
        yield Run(f"{signed(line['points'])} ", "strong")
        yield words(line["why"], " (", view.marks(line["marks"]), "; ", view.clause(line["clause"]), ") ")
    yield from (f"{sentence(say.retold(treated))} " for treated in still.get("treatment", ()))
    if still["suspect"]:
        yield Run(say("This picture lies in a damaged stretch of the recording."), "strong")


def _lines_at(view: View, still: Mapping[str, Any]) -> Iterator[Mapping[str, Any]]:
    place = (still["frame"], still.get("recording", 1))
    for line in _taken(view):
        if any((one["frame"], one.get("recording", 1)) == place for one in line["frames"] or ()):
            yield line


def _taken(view: View) -> Iterator[Mapping[str, Any]]:
    """The lines that a fault or a fact on the recording took."""
    return (line for line in view.score["lines"] if line["stage"] in ("execution", "neutral"))


def _not_shown(view: View) -> Iterator[Block]:
    """Deductions that no still shows."""
    shown = [line for still in view.finding["stills"] for line in _lines_at(view, still)]
    rest = [line for line in _taken(view) if line not in shown]
    if rest and view.finding["stills"]:
        yield Paragraph(words(view.say("Deductions that no still shows:")))
        yield Listed(
            tuple(
                words(f"{signed(line['points'])} ", line["why"], " (", view.marks(line["marks"]), ")")
                for line in rest
            )
        )
