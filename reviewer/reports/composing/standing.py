"""What a reader must know before any figure: marks that could not be scored, lines nobody has settled."""

from collections.abc import Iterator

from reviewer.reports.blocks import Block, Listed, Paragraph, Run, words
from reviewer.reports.composing.findings import findings
from reviewer.reports.composing.view import View


def standing(view: View) -> Iterator[Block]:
    """What takes the score its weight."""
    left = open_lines(view)
    if left:
        yield Paragraph(words(Run(left, "strong"), f" ({', '.join(view.score['open_lines'])})"), warns=True)
    if view.score["problems"]:
        yield Paragraph(words(Run(view.say("What could not be scored:"), "strong")), warns=True)
        said = (f"{one['where']}: {one['message']} {one['remedy']}" for one in view.score["problems"])
        yield Listed(tuple(words(one) for one in said), warns=True)


def open_lines(view: View) -> str:
    """That a settlement with open lines has no score; empty where none is open."""
    left = len(view.score.get("open_lines", ()))
    if left > 1:
        return view.say("{count} lines are still open: this is no settled score.", count=left)
    return view.say("1 line is still open: this is no settled score.") if left else ""


def final_name(view: View) -> str:
    """What the final score is called, by what it rests on."""
    if view.score["problems"]:
        return view.say("Final score of the marks that could be scored")
    if "open_lines" in view.score:
        return view.say("Score of the lines settled so far")
    return view.say("Final score by the marks") if any(findings(view)) else view.say("Final score")
