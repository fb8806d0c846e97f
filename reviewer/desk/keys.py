"""Every key of the desk, in one table: actions, tips and the F1 sheet are made from it."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Key:
    """One thing to do and the keys that do it.

    Attributes:
        does: name of the window's method-like action.
        keys: key sequences in portable text; the first is shown.
        says: what it does, in words of our own.
        group: heading on the F1 sheet, and the menu it stands in.
        typed_too: whether it also works while words are being typed.
    """

    does: str
    keys: tuple[str, ...]
    says: str
    group: str
    typed_too: bool = False


CASE, LOOK, SAY, PROTRACTOR, AID = "Case", "Look", "Say", "Protractor", "Help"

KEYS = (
    Key("open", ("Ctrl+O",), "Open a recording or a case…", CASE, typed_too=True),
    Key("start", ("Ctrl+N",), "Start a case on this recording…", CASE, typed_too=True),
    Key("recordings", (), "Recordings of this start…", CASE),
    Key("inquiries", ("Ctrl+I",), "Inquiries about this score…", CASE, typed_too=True),
    Key("report", ("Ctrl+R",), "Write the report…", CASE, typed_too=True),
    Key("leave", ("Ctrl+Q",), "Leave the desk", CASE, typed_too=True),
    Key("next", ("Right",), "One frame on", LOOK),
    Key("previous", ("Left",), "One frame back", LOOK),
    Key("next-ten", ("Shift+Right", "PgDown"), "Ten frames on", LOOK),
    Key("previous-ten", ("Shift+Left", "PgUp"), "Ten frames back", LOOK),
    Key("first", ("Home",), "First frame", LOOK),
    Key("last", ("End",), "Last frame", LOOK),
    Key("play", ("Space", "Ctrl+Space"), "Play from here without sound, or stop", LOOK, typed_too=True),
    Key("play-back", ("Shift+Space",), "Play backwards from here, or stop", LOOK),
    Key("play-over", ("O",), "Play the chosen element over and over", LOOK),
    Key("slower", (",",), "Play slower", LOOK),
    Key("faster", (".",), "Play faster", LOOK),
    Key("clock", ("T",), "Count the time from this frame, or count no more", LOOK),
    Key("other-recording", ("R",), "Work in the case's next recording", LOOK),
    Key("beside", ("B",), "Show another recording of the routine beside, or put it away", LOOK),
    Key("beside-next", ("Alt+Right",), "Step the picture beside one frame on", LOOK),
    Key("beside-previous", ("Alt+Left",), "Step the picture beside one frame back", LOOK),
    Key("join", ("J",), "The two pictures show the same instant", LOOK),
    Key("other-pictures", (), "The file's other pictures", LOOK),
    Key("closer", ("+", "="), "Closer", LOOK),
    Key("farther", ("-",), "Farther", LOOK),
    Key("whole", ("0",), "The whole picture", LOOK),
    Key("type", ("Return", "/"), "Type a call", SAY),
    Key("mark-before", ("Up",), "Choose the mark before", SAY),
    Key("mark-after", ("Down",), "Choose the mark after", SAY),
    Key("element-before", ("Ctrl+Up",), "Choose the element before", SAY, typed_too=True),
    Key("element-after", ("Ctrl+Down",), "Choose the element after", SAY, typed_too=True),
    Key("starts", ("[", "S"), "The chosen element starts at this frame", SAY),
    Key("ends", ("]", "E"), "The chosen element ends at this frame", SAY),
    Key("withdraw", ("Del",), "Withdraw the chosen mark", SAY),
    Key("undo", ("Ctrl+Z",), "Undo", SAY, typed_too=True),
    Key("redo", ("Ctrl+Y", "Ctrl+Shift+Z"), "Redo", SAY, typed_too=True),
    Key(
        "protractor",
        ("P", "Ctrl+P"),
        "Lay the protractor on this frame, or put it away",
        PROTRACTOR,
        typed_too=True,
    ),
    Key("keys", ("F1",), "What to type and press", AID, typed_too=True),
    Key("about", (), "About and cautions", AID, typed_too=True),
)

IN_PROTRACTOR = (
    ("Click", "Place the point asked for; drag a point afterwards to mend it"),
    ("Space", "Skip a point that is not needed"),
    ("Backspace", "Take the last point back"),
    ("A", "Click the joint placed last once more: several clicks pool, and show how far clicks scatter"),
    ("O", "Click the joint placed last on the other side too: legs apart are measured by their middle"),
    ("Alt+arrows", "Move the point placed or dragged last by a quarter of a pixel"),
    ("M", "Measure the next thing: another line, the bend of a joint, a length"),
    ("Return", "Keep the reading; it becomes the angle of the cast at this frame, or of the chosen fault"),
    ("F", "Follow the line to both sides and propose the top of the cast; Return then keeps the top"),
    ("N", "Lay the protractor on this frame as well, to follow from more clicks"),
    ("Esc", "Back from the curve to the reading; put the protractor away"),
)
"""What the protractor itself answers to while it lies on the picture: key and words."""

WHILE_TYPING = (
    ("Left / Right", "Step one frame while nothing is typed"),
    ("[ / ]", "The chosen element starts, or ends, at this frame"),
    ("Up / Down", "Choose among the words offered"),
    ("Tab", "Complete the word"),
    ("Return", "Say it"),
    ("Esc", "Back to the picture"),
)
"""What the entry line itself answers to: key and words."""

EXAMPLES = (
    ("cast", "an element that starts at the frame on screen"),
    ("cast met", "the same, with a verdict by eye: met, within, not-met, cannot-tell, not-seen"),
    ("cast -52", "the same, with an angle by eye: degrees, negative below horizontal"),
    ("pullover mount", "an element with its role: mount, dismount"),
    ("cast spotted", "an element with a condition of its credit"),
    ("arms-bent 0.1", "a fault and its amount; it belongs to the element at this frame"),
    ("fall", "a fault of one amount needs no number"),
    ("medium-step 0.1 settled", "an amount beyond dispute; arguable takes that back"),
    ("springboard-left", "a fact without a time"),
    ("dismount, met, 0.2 …", "words without a name of their own change the chosen mark"),
    ("starts · ends · withdraw", "set the chosen element's boundaries here; withdraw the chosen mark"),
    ("posted 8.900", "the score the panel posted"),
    ("go 123 · go 4.1s · go 00:00:04:03", "show a frame by number, seconds or time code"),
)
"""What may be typed into the entry line, with its meaning: the grammar, by example."""


def tip(does: str) -> str:
    """What an action does and its first key, for a tool tip."""
    key = next(one for one in KEYS if one.does == does)
    return f"{key.says.rstrip('…')} ({key.keys[0]})" if key.keys else key.says


def sheet() -> str:
    """The F1 sheet as HTML: the grammar by example, then every key under its heading."""
    groups = [
        (heading, [(" or ".join(k.keys), k.says) for k in KEYS if k.group == heading and k.keys])
        for heading in (LOOK, SAY, PROTRACTOR, CASE, AID)
    ]
    parts = [("What to type", list(EXAMPLES)), ("While typing", list(WHILE_TYPING)), *groups]
    parts.insert(5, ("While the protractor lies on the picture", list(IN_PROTRACTOR)))
    return "".join(_part(heading, rows) for heading, rows in parts)


def _part(heading: str, rows: list[tuple[str, str]]) -> str:
    cells = "".join(
        f"<tr><td width='200'><b>{key}</b></td><td>{says.rstrip('…')}</td></tr>" for key, says in rows
    )
    return f"<h3>{heading}</h3><table cellpadding='3'>{cells}</table>"
