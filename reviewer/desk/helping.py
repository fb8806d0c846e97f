"""The help: the user guide that travels in the package, with this desk's own keys put into it."""

import re
from importlib.resources import files
from pathlib import Path

from PyQt6.QtWidgets import QWidget

from reviewer import actions
from reviewer.actions import Keyboard
from reviewer.desk.bench import Bench
from reviewer.desk.guidetext import GuideText
from reviewer.desk.keys import sheet, shown
from reviewer.desk.pages import Page
from reviewer.desk.placing import fitting
from reviewer.words import ENGLISH, Saying

FOLDER = Path(str(files("reviewer.desk").joinpath("help")))
_KEY = re.compile(r"\{key:([a-z-]+)\}")


def help_page(parent: QWidget, bench: Bench) -> Page:
    """The guide, to be read beside the work; its pictures lie beside its text."""
    text = GuideText(FOLDER)
    page = Page(parent, bench.say("How to do it"), text)
    text.show_guide(guide_text(bench.keyboard, bench.say))
    page.resize(fitting(page, 900, 720))
    return page


def guide_text(keyboard: Keyboard, say: Saying) -> str:
    """The guide in Markdown: in the language where it was written in it, with keys and cautions filled in."""
    place = FOLDER / f"{say.language}.md"
    text = (place if place.is_file() else FOLDER / f"{ENGLISH}.md").read_text(encoding="utf-8")
    filled = _KEY.sub(lambda found: _pressed(keyboard, say, found[1]), text)
    listed = "\n".join(f"- {say.word(caution)}" for caution in actions.cautions())
    return filled.replace("{cautions}", listed).replace("{keys}", sheet(keyboard, say))


def _pressed(keyboard: Keyboard, say: Saying, does: str) -> str:
    """The key of a thing to do, or where it stands in the menus."""
    use = keyboard.use(does)
    if use.keys:
        return f"**{shown(use.keys[0])}**"
    return f"*{say.word(use.under)} → {say.word(use.says).rstrip('…')}*"
