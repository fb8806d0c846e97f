"""A click lands on the pixel that is pointed at, on screens with several pixels to one of the desk.

Source: Qt's manual, "High DPI" (QT_SCALE_FACTOR multiplies the ratio of device pixels); the position of an
event is a place of the desk, which may lie between two of its pixels.
"""

import json
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
PROGRAM = """
import json
from PyQt6.QtCore import QEvent, QPointF, Qt
from PyQt6.QtGui import QMouseEvent
from PyQt6.QtTest import QTest
from PyQt6.QtWidgets import QApplication
from reviewer.desk.application import dressed_application
from reviewer.desk.framing import place_of
from reviewer.desk.window import DeskWindow
from tests.desk.conftest import SQUARE_ON, until
application = dressed_application()
window = DeskWindow("A")
window.show()
window.open_recording(SQUARE_ON)
until(lambda: window.bench.picture is not None and not window.bench.picture.stands_for)
view, said, offs, ratio = window.evidence, [], [], window.devicePixelRatioF()
view.clicked.connect(lambda spot: said.append(place_of(spot)))
left, none = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
for factor in (1.0, 7.3):
    view.show_whole()
    view.zoom(factor)
    for wanted in ((640, 360), (655, 371)):
        x, y = view.framing.to_view(*wanted)
        place = QPointF(int(x * ratio) / ratio, int(y * ratio) / ratio)  # the device pixel that shows it
        for kind, held in ((QEvent.Type.MouseButtonPress, left), (QEvent.Type.MouseButtonRelease, left)):
            event = QMouseEvent(kind, place, view.mapToGlobal(place), left, held, none)
            QApplication.sendEvent(view, event)
        found = said.pop()
        off = max(abs(found[0] - wanted[0]), abs(found[1] - wanted[1]))
        offs.append(off * view.framing.scale * ratio)
strip = window.strip
strip.grab()
drawn = strip._drawn.devicePixelRatio() if strip._drawn is not None else 0
print(json.dumps({"off": offs, "ratio": ratio, "strip": drawn}))
window.close()
"""


@pytest.mark.parametrize("scale", ["1", "1.5", "2"])
def test_a_click_is_within_half_a_pixel_of_the_screen(scale: str, screen: dict[str, str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", PROGRAM],
        env={**screen, "QT_SCALE_FACTOR": scale},
        cwd=ROOT,
        capture_output=True,
        text=True,
        timeout=90,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert found["ratio"] == float(scale)
    assert found["strip"] == float(scale)  # the strip is painted in the screen's own pixels, so it is crisp
    assert len(found["off"]) == 4
    assert max(found["off"]) <= 0.51
