"""Pages beside the window: words to read, and About with the cautions."""

from html import escape

from PyQt6.QtCore import Qt
from PyQt6.QtWidgets import QDialog, QTextBrowser, QVBoxLayout, QWidget

from reviewer import __version__, actions
from reviewer.desk.placing import fitting
from reviewer.terms.messages import noted
from reviewer.words import Saying

DRAFTED = noted("These words were drafted by a machine, and no person who speaks the language has read them.")


class Page(QDialog):
    """Words to read beside the work; not in its way."""

    def __init__(self, parent: QWidget, title: str, text: QTextBrowser) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self.text = text
        self.text.setAccessibleName(title)
        column = QVBoxLayout(self)
        column.addWidget(self.text)
        self.resize(fitting(self, 700, 560))


def written(html: str) -> QTextBrowser:
    """Words as a page takes them."""
    text = QTextBrowser()
    text.setHtml(html)
    return text


def about_page(parent: QWidget, say: Saying) -> Page:
    """About, with every caution."""
    told = (escape(say.word(caution)) for caution in actions.cautions())
    said = "".join(f"<li style='margin-bottom:6px'>{caution}</li>" for caution in told)
    what = say("Post-meet score audits for women’s uneven bars.")
    licence = say(
        "Licence: GPL-3.0. Notices of the parts it uses stand in THIRD-PARTY.md inside the package."
    )
    drafted = f"<p>{say(DRAFTED)}</p>" if say.machine_drafted else ""
    head = f"<h2>reviewer {__version__}</h2><p>{what}</p>{drafted}<h3>{say('Cautions')}</h3>"
    return Page(parent, say("About reviewer"), written(f"{head}<ul>{said}</ul><p>{licence}</p>"))
