"""From the command to the first picture, over a bare window that paints one frame of the same file.

Both are whole processes: the interpreter, its imports, the first picture decoded and painted in a real
window. The moment taken is the return of the paint. Beside it stands when the desk itself shows the frame.
"""

import os
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from tests.benchmarks.clips import Setting, large
from tests.benchmarks.figures import OURS, PLAIN, Figure, Seconds, cost, each_in_ms, interleaved

AT_MOST = 1.5
BARE = """
import sys, time
import av
from PyQt6.QtGui import QImage, QPainter
from PyQt6.QtWidgets import QApplication, QWidget

application = QApplication(["bare"])
with av.open(sys.argv[1]) as box:
    frame = next(box.decode(video=0))
    plane = frame.reformat(format="bgra").planes[0]
    pixels = bytes(plane)
    size = (frame.width, frame.height, plane.line_size)
    image = QImage(pixels, *size, QImage.Format.Format_RGB32)

class Bare(QWidget):
    def paintEvent(self, event):
        painter = QPainter(self)
        painter.drawImage(self.rect(), image)
        painter.end()
        print("first", time.time(), flush=True)
        application.exit()

window = Bare()
window.resize(1280, 800)
window.show()
application.exec()
"""
DESK = """
import os, sys, time
from reviewer import __main__ as program
from reviewer.desk import firstlook

paint = firstlook.FirstLook.paintEvent

def seen(window, event):
    paint(window, event)
    print("first", time.time(), flush=True)

firstlook.FirstLook.paintEvent = seen

def watched(case, recording, author):
    from reviewer.desk import evidence, open_desk
    own = evidence.EvidenceView.paintEvent

    def whole(view, event):
        own(view, event)
        if view.picture is not None:
            print("desk", time.time(), flush=True)
            os._exit(0)

    evidence.EvidenceView.paintEvent = whole
    return open_desk(case, recording, author=author)

program._open_desk = watched
sys.argv = ["reviewer", "desk", sys.argv[1]]
program.main()
"""


def figures(setting: Setting, label: str) -> Iterator[Figure]:
    """The ratio of one recording."""
    path, rounds = large(setting, label), 2 if setting.quick else 9
    whole: list[float] = []

    def ours(_: int) -> float:
        said = _run(DESK, path, setting)
        whole.append(said["desk"])
        return said["first"]

    contestants = {OURS: ours, PLAIN: lambda _: _run(BARE, path, setting)["first"]}
    for contestant in contestants.values():
        contestant(0)  # what is read for the first time comes from the disk
    whole.clear()
    seconds: Seconds = interleaved(contestants, rounds)
    beside = each_in_ms(seconds, 1) | {"the desk itself, ms": 1000 * sorted(whole)[len(whole) // 2]}
    yield cost(f"command to first picture, {label}", seconds, at_most=AT_MOST, beside=beside)


def _run(program: str, path: Path, setting: Setting) -> dict[str, float]:
    """Seconds from the start of the process to each thing it tells of, the first time it does."""
    own = {"REVIEWER_DESK": str(setting.scratch / "desk.json")}
    own["REVIEWER_SETTINGS"] = str(setting.scratch / "settings.toml")
    begun = time.time()
    done = subprocess.run(
        [sys.executable, "-c", program, str(path)],
        capture_output=True,
        text=True,
        timeout=120,
        env=os.environ | own,
    )
    found: dict[str, float] = {}
    for line in done.stdout.splitlines():
        what, moment = line.split()
        found.setdefault(what, float(moment) - begun)
    return found
