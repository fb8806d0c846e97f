"""What was measured: readings with budget and verdict, the camera's residuals, pools, lengths, tracks."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import (
    Beside,
    Block,
    Column,
    Figure,
    Paragraph,
    Row,
    Run,
    Section,
    Table,
    Words,
    joined,
    words,
)
from reviewer.reports.composing.view import View, clock
from reviewer.terms.exact import Degrees
from reviewer.terms.intervals import degrees_told, millimetres_told, tenths, tenths_up


def readings(view: View) -> Section | None:
    """Readings of the protractor, what was pooled of them, and lengths."""
    blocks = [block for one in view.finding["readings"] for block in _told_once(view, one)]
    blocks += [_pool(view, one) for one in view.finding.get("pools", ())]
    lengths = view.finding.get("lengths", ())
    if lengths:
        blocks.append(Paragraph(words(Run(view.say("Lengths measured"), "strong"))))
    blocks += [_length(view, one) for one in lengths]
    return Section("readings", view.say("Readings of the protractor"), tuple(blocks)) if blocks else None


def tracks(view: View) -> Section | None:
    """Casts that were followed, each with its curve."""
    blocks = [block for one in view.finding.get("tracks", ()) for block in _track(view, one)]
    return Section("tracks", view.say("Casts that were followed"), tuple(blocks)) if blocks else None


def _told_once(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    """A reading; of the same clicks as an earlier one, which merged cases both hold, only that it is so."""
    first = next(other for other in view.finding["readings"] if _same(other, one))
    if first is one:
        yield from _reading(view, one)
        return
    said = view.say("the same clicks as reading {name}.", name=first["id"])
    name = Run(view.say("Reading {name}", name=one["id"]), "strong")
    yield Paragraph(words(name, ": ", said), anchor=f"reading-{one['id']}")


def _same(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two readings differ in nothing but their id and what is drawn with it."""
    apart = ("id", "residuals_drawn")
    return all(one.get(key) == other.get(key) for key in {*one, *other} if key not in apart)


def _reading(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    yield Paragraph(words(*_read(view, one)), anchor=f"reading-{one['id']}")
    if one["residuals_drawn"]:
        yield Beside((_budget(view, one), _residuals(view, one)))
    else:
        yield _budget(view, one)


def _budget(view: View, one: Mapping[str, Any]) -> Table:
    """The parts of an uncertainty, as standard uncertainties, and what they come to."""
    say = view.say
    columns = (Column(say("Comes from"), 5), Column(say("Standard uncertainty, degrees"), 3, True))
    rows = [Row((words(say.retold(part["source"])), words(part["u_deg"]))) for part in one["budget"]]
    total = Row((words(say("Together, added in squares")), words(one["u_deg"])), None, True)
    caption = say("What the uncertainty of reading {name} is made of", name=one["id"])
    return Table(caption, columns, (*rows, total), narrow=True)


def _read(view: View, one: Mapping[str, Any]) -> Iterator[str | Run | Words]:
    say = view.say
    yield Run(say("Reading {name}", name=one["id"]), "strong")
    yield ", " + say("frame") + " "
    yield view.frame(one["frame"], one.get("recording_number"))
    yield f", {say.word(one['through'])}: "
    yield Run(f"{degrees_told(one)}. ", "strong")
    yield say("In the picture it looks like {angle}°.", angle=tenths(Degrees.parse(one["naive_deg"]))) + " "
    if one["verdict"]:
        yield Run(say("Verdict: {verdict}.", verdict=say.word(one["verdict"]["word"])), "strong")
        yield f" {' '.join(_decided(view, one['limit']))} "
    yield _camera(view, one["calibration"]["check"])
    if "suspect" in one:
        yield " "
        yield Run(say("Measured on a picture in a damaged stretch of the recording."), "strong")


def _decided(view: View, limit: Mapping[str, Any]) -> Iterator[str]:
    """What was asked of the angle, and how it is decided."""
    say = view.say
    asked, edge = (tenths(Degrees.parse(limit[key])) for key in ("at_least_deg", "tolerated_to_deg"))
    yield say("Asked for is {limit}° or higher; down to {edge}° is tolerated.", limit=asked, edge=edge)
    if not limit["reached_at"]:
        yield say("The limit itself does not count as reached.")
    if not limit["tolerated_at"]:
        yield say("The lower edge itself is not tolerated.")
    yield say(
        "An angle less than {clear}° from either cannot be told to be on one side.",
        clear=tenths_up(Degrees.parse(limit["clear_by_deg"])),
    )


def _camera(view: View, check: str) -> str:
    return view.say("Fit of the camera: {check}.", check=view.say.retold(check))


def _residuals(view: View, one: Mapping[str, Any]) -> Figure:
    say, drawn, camera = view.say, one["residuals_drawn"], one["calibration"]
    caption = say(
        "How well the {points} clicked points of the bars fit together: from each click an arrow, drawn ten "
        "times as long, leads to where the point should lie. They lie {rms} px off (root mean square). A "
        "crossed point was left out; a line in true length leads to where it should be.",
        points=camera["points"],
        rms=camera["rms_px"],
    )
    left, top, wide, high = drawn["part"]
    return Figure(
        anchor=f"residuals-{one['id']}",
        look="residuals",
        part=(left, top, wide, high),
        still=view.still_of(one["frame"], one.get("recording_number", 1)),
        shapes=drawn["svg"],
        alt=say("The points of the bars of reading {name}, and how far they lie off", name=one["id"]),
        caption=words(caption),
    )


def _pool(view: View, one: Mapping[str, Any]) -> Paragraph:
    say = view.say
    name = say("Pooled reading {name}", name=one["id"])
    of = words(", ", say("of"), " ", joined(view.evidence(name) for name in one["of"]), ": ")
    angle = tenths(Degrees.parse(one["reproducibility_deg"]))
    spread = say("The judges scatter by {angle}° (standard deviation).", angle=angle)
    said = words(*of, Run(f"{degrees_told(one)}. ", "strong"), f"{spread} {_camera(view, one['check'])}")
    return Paragraph(words(Run(name, "strong"), said), anchor=f"pool-{one['id']}")


def _length(view: View, one: Mapping[str, Any]) -> Paragraph:
    say = view.say
    where = say("frame {frame}", frame=one["frame"])
    name = Run(say("Length {name}", name=one["id"]), "strong")
    length = Run(f"{millimetres_told(one)}. ", "strong")
    check = _camera(view, one["calibration"]["check"])
    said = words(name, f", {where}, {say.word(one['line'])}: ", length, check)
    return Paragraph(said, anchor=f"length-{one['id']}")


def _track(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    name = Run(view.say("Cast {name}", name=one["id"]), "strong")
    said = words(name, f", {view.say.word(one['line'])}, ", *_followed(view, one))
    yield Paragraph(said, anchor=f"track-{one['id']}")
    if one.get("curve"):
        caption = view.say(
            "The angle over time; the band holds it with 95 %, and where it is hatched it could not be "
            "followed."
        )
        yield Figure(
            anchor=f"curve-{one['id']}",
            look="curve",
            part=(0, 0, 640, 240),
            still=None,
            shapes=one["curve"],
            alt=view.say("Curve of cast {name}: {what}", name=one["id"], what=_top(view, one)),
            caption=words(caption),
        )


def _followed(view: View, one: Mapping[str, Any]) -> Iterator[str]:
    say, number = view.say, one["recording_number"]
    clicked = ", ".join(view.frame_name(frame, number) for frame in one["clicked_frames"])
    yield say(
        "clicked on frame {frames} and followed over {number} frames.", frames=clicked, number=one["frames"]
    )
    yield f" {_top(view, one)}"
    for gap in one["lost"]:
        first, last = gap["frames"]
        yield " " + say(
            "Lost on frames {first} to {last}: {why}.", first=first, last=last, why=say.word(gap["why"])
        )
    yield f" {_camera(view, one['check'])} "
    yield say("The camera while following: {state}.", state=say.retold(one["camera"]))


def _top(view: View, one: Mapping[str, Any]) -> str:
    say, top = view.say, one["top"]
    if not top:
        return say("No top is given: {why}.", why=say.retold(one["why_no_top"]))
    return say(
        "Top at {clock} (95 %: {first} to {last} s), nearest frame {frame}: {angle}.",
        clock=clock(top["time_s"]),
        first=top["interval_s"][0],
        last=top["interval_s"][1],
        frame=top["frame"],
        angle=degrees_told(top),
    )
