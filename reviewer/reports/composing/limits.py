"""What the report cannot know: what was not to be seen, what rules leave open, what nobody read up."""

from collections.abc import Iterator

from reviewer.reports.blocks import Block, Listed, Paragraph, Run, Section, Words, words
from reviewer.reports.composing.view import View

NOT_SEEN = ("cannot tell", "not seen")


def unseen(view: View) -> Section:
    """What the recording does not show."""
    found = tuple(_unseen(view))
    title = view.say("What could not be seen")
    if not found:
        said = view.say(
            "No mark says that something could not be seen, and no picture shown here is damaged."
        )
        return Section("unseen", title, (Paragraph(words(said)),))
    return Section("unseen", title, (Listed(found),))


def open_readings(view: View) -> Section:
    """Clauses that leave a reading open: what the judge chose, and what would move the score."""
    blocks = (*_chosen(view), *_would_move(view))
    if not blocks:
        said = view.say(
            "The judge chose no reading other than the edition's, and no open one would move this score."
        )
        blocks = (Paragraph(words(said)),)
    return Section("open-readings", view.say("Readings that the rules leave open"), blocks)


def basis(view: View) -> Section:
    """How much of the score rests on clauses that nobody read in a rule book."""
    rests = view.finding["rests_on"]
    said = view.say(
        "{unread} of {deductions} deductions, {unread_points} of {points} points, rest on clauses that were "
        "not read from a published rule book. The source stands beside each line of the ledger.",
        unread=rests["unread_deductions"],
        deductions=rests["deductions"],
        unread_points=rests["unread_points"],
        points=rests["points"],
    )
    told = Paragraph(words(said), warns=bool(rests["unread_deductions"]))
    return Section("basis", view.say("What the deductions rest on"), (told,))


def _unseen(view: View) -> Iterator[Words]:
    say = view.say
    for mark in view.finding["marks"]:
        verdict = mark.get("angle", {}).get("verdict")
        if verdict in NOT_SEEN:
            yield words(view.marks([mark["id"]]), f" {mark['name']}: {say.word(verdict)}.")
    for cast in view.score["casts"]:
        if len(cast["left_open"]) > 1:
            states = say(" or ").join(say.word(one) for one in cast["left_open"])
            counted = say.word(cast["counted_as"])
            said = say(
                "its angle leaves open {states}; counted as {counted}.", states=states, counted=counted
            )
            yield words(view.marks([cast["mark"]]), ": ", said)
    for still in view.finding["stills"]:
        if still["suspect"]:
            name = view.frame_name(still["frame"], still.get("recording"))
            said = say("lies in a damaged stretch of the recording.")
            yield words(Run(say("Frame {frame}", frame=name), to=still["id"]), " ", said)
    for track in view.finding.get("tracks", ()):
        for gap in track["lost"]:
            first, last = gap["frames"]
            why = say.word(gap["why"])
            lost = say("lost on frames {first} to {last}: {why}.", first=first, last=last, why=why)
            yield words(Run(track["id"], to=f"track-{track['id']}"), " ", lost)


def _chosen(view: View) -> Iterator[Block]:
    chosen = view.score["interpretations"]
    if chosen:
        said = view.say("The judge reads otherwise than the edition states:")
        yield Paragraph(words(said))
        yield Listed(
            tuple(
                words(
                    view.clause(one["clause"]),
                    ": ",
                    one["question"],
                    " ",
                    view.say("Read as: {what}", what=one["says"]),
                )
                for one in chosen
            )
        )


def _would_move(view: View) -> Iterator[Block]:
    other = (view.score["reachable_apart"] or {}).get("with_other_readings")
    if other and other["open"]:
        yield Paragraph(words(view.say("Left open, and another reading would move this score:")))
        yield Listed(tuple(words(view.clause(one["clause"]), ": ", one["why"]) for one in other["open"]))
