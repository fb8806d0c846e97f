"""A real window on the xcb platform in both orders of import of the two libraries that each carry a Qt.

Source: opencv-python sets QT_QPA_PLATFORM_PLUGIN_PATH to its own Qt 5 plugins when it is imported (measured;
also its cv2/__init__.py), which PyQt6 cannot load.
"""

import os
import subprocess
import sys

import pytest

FIRST = {
    "PyQt6": "from PyQt6.QtWidgets import QApplication, QWidget\nimport cv2\n",
    "cv2": (
        "import cv2, os\n"
        "os.environ.pop('QT_QPA_PLATFORM_PLUGIN_PATH', None)\n"
        "os.environ.pop('QT_QPA_FONTDIR', None)\n"
        "from PyQt6.QtWidgets import QApplication, QWidget\n"
    ),
}
SHOW = """
import os
os.environ.pop('QT_QPA_PLATFORM_PLUGIN_PATH', None)
from PyQt6.QtTest import QTest
from reviewer.desk.application import dressed_application
from reviewer.desk.window import DeskWindow
application = dressed_application()
window = DeskWindow('A')
window.show()
assert QTest.qWaitForWindowExposed(window)
print(application.platformName(), window.grab().width() >= 1024)
window.close()
"""


@pytest.mark.parametrize("first", ["PyQt6", "cv2"])
def test_the_window_opens_whichever_library_is_imported_first(first: str, screen: dict[str, str]) -> None:
    done = subprocess.run(
        [sys.executable, "-c", FIRST[first] + SHOW], env=screen, capture_output=True, text=True, timeout=60
    )
    assert done.stdout.split() == ["xcb", "True"], done.stderr


def test_without_a_screen_the_desk_says_so_before_qt_ends_the_process() -> None:
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    bare = {name: value for name, value in os.environ.items() if name not in hidden}
    program = (
        "from reviewer.desk import DeskError, open_desk\n"
        "try:\n    open_desk(None, None, author='A')\n"
        "except DeskError as error:\n    print(error.problems[0].code, bool(error.problems[0].remedy))\n"
    )
    done = subprocess.run(
        [sys.executable, "-c", program], env=bare, capture_output=True, text=True, timeout=60
    )
    assert done.stdout.split() == ["no-screen", "True"], done.stderr
