"""What was measured: readings with budget and verdict, the camera's residuals, pools, lengths, tracks."""

from collections.abc import Iterator, Mapping
from typing import Any

from reviewer.reports.blocks import Block, Column, Figure, Paragraph, Row, Run, Section, Table, Words, words
from reviewer.reports.composing.view import View, clock


def readings(view: View) -> Section | None:
    """Readings of the protractor, what was pooled of them, and lengths."""
    blocks = [block for one in view.finding["readings"] for block in _reading(view, one)]
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


def _reading(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    yield Paragraph(words(*_read(view, one)), anchor=f"reading-{one['id']}")
    columns = (
        Column(view.say("What the uncertainty is made of"), 5),
        Column(view.say("u, degrees"), 1, True),
    )
    rows = (Row((words(view.say.word(part["source"])), words(part["u_deg"]))) for part in one["budget"])
    yield Table(view.say("Uncertainty of reading {name}", name=one["id"]), columns, tuple(rows))
    if one["residuals_drawn"]:
        yield _residuals(view, one)


def _read(view: View, one: Mapping[str, Any]) -> Iterator[str | Run | Words]:
    say = view.say
    yield Run(one["id"], "strong")
    yield ", " + say("frame") + " "
    yield view.frame(one["frame"], one.get("recording_number"))
    yield f", {say.word(one['through'])}: "
    yield _angle(view, one) + "; " + say("uncorrected {angle}°.", angle=one["naive_deg"]) + " "
    if one["verdict"]:
        yield Run(say("Verdict: {verdict}.", verdict=say.word(one["verdict"]["word"])), "strong")
        yield f" {say.word(one['verdict']['rule'])} "
    yield say("Camera: {check}.", check=say.word(one["calibration"]["check"]))
    if "suspect" in one:
        yield " "
        yield Run(say("Measured on a picture in a damaged stretch of the recording."), "strong")


def _angle(view: View, one: Mapping[str, Any]) -> str:
    return view.say(
        "{angle}° with standard uncertainty {u}° (95 %: {low}° to {high}°)",
        angle=one["value_deg"],
        u=one["u_deg"],
        low=one["interval95_deg"][0],
        high=one["interval95_deg"][1],
    )


def _residuals(view: View, one: Mapping[str, Any]) -> Figure:
    say, drawn, camera = view.say, one["residuals_drawn"], one["calibration"]
    caption = say(
        "How the camera fits the points it was solved from, {points} of them: an arrow, drawn ten times as "
        "long, leads from each click to where the camera has the point. Root mean square {rms} px. A "
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
        alt=say("Residuals of reading {name}", name=one["id"]),
        caption=words(caption),
    )


def _pool(view: View, one: Mapping[str, Any]) -> Paragraph:
    of = view.say("pooled of {readings}", readings=", ".join(one["of"]))
    spread = view.say("From judge to judge {angle}°.", angle=one["reproducibility_deg"])
    said = f", {of}: {_angle(view, one)}. {spread} {view.say.word(one['check'])}."
    return Paragraph(words(Run(one["id"], "strong"), said), anchor=f"pool-{one['id']}")


def _length(view: View, one: Mapping[str, Any]) -> Paragraph:
    say = view.say
    length = say(
        "{length} mm with standard uncertainty {u} mm (95 %: {low} to {high} mm)",
        length=one["value_mm"],
        u=one["u_mm"],
        low=one["interval95_mm"][0],
        high=one["interval95_mm"][1],
    )
    where = say("frame {frame}", frame=one["frame"])
    check = say("Camera: {check}.", check=say.word(one["calibration"]["check"]))
    said = f", {where}, {say.word(one['line'])}: {length}. {check}"
    return Paragraph(words(Run(one["id"], "strong"), said), anchor=f"length-{one['id']}")


def _track(view: View, one: Mapping[str, Any]) -> Iterator[Block]:
    said = words(Run(one["id"], "strong"), f", {view.say.word(one['line'])}, ", *_followed(view, one))
    yield Paragraph(said, anchor=f"track-{one['id']}")
    if one.get("curve"):
        caption = view.say(
            "Elevation over time; the band is two standard uncertainties to each side, hatching is what was "
            "lost."
        )
        yield Figure(
            anchor=f"curve-{one['id']}",
            look="curve",
            part=(0, 0, 640, 240),
            still=None,
            shapes=one["curve"],
            alt=view.say("Curve of track {name}: {what}", name=one["id"], what=_top(view, one)),
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
    check = f"{say.word(one['check'])}; {say.word(one['camera'])}"
    yield " " + say("Camera: {check}.", check=check)


def _top(view: View, one: Mapping[str, Any]) -> str:
    say, top = view.say, one["top"]
    if not top:
        return say("No top is given: {why}.", why=say.word(one["why_no_top"]))
    return say(
        "Top at {clock} ({seconds} s; 95 %: {first} to {last} s), nearest frame {frame}: {angle}° with "
        "standard uncertainty {u}°.",
        clock=clock(top["time_s"]),
        seconds=top["time_s"],
        first=top["interval_s"][0],
        last=top["interval_s"][1],
        frame=top["frame"],
        angle=top["value_deg"],
        u=top["u_deg"],
    )
