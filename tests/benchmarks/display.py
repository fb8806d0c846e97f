"""A screen for the window: the one that is there, or an X server without a monitor for the time being."""

import os
import shutil
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from select import select

ANSWERS_WITHIN = 20.0


@contextmanager
def screen() -> Iterator[dict[str, str]]:
    """Environment of processes that show windows; without Xvfb or a screen they will say what they lack."""
    environment = {**os.environ, "QT_QPA_PLATFORM": "xcb"}
    if os.environ.get("DISPLAY") or shutil.which("Xvfb") is None:
        yield environment
        return
    server, name = _started()
    try:
        yield {**environment, "DISPLAY": name}
    finally:
        server.terminate()
        server.wait()


def _started() -> tuple["subprocess.Popen[bytes]", str]:
    reading, writing = os.pipe()
    options = ["-displayfd", str(writing), "-screen", "0", "1400x900x24", "-nolisten", "tcp"]
    server = subprocess.Popen(["Xvfb", *options], pass_fds=[writing], stderr=subprocess.DEVNULL)
    os.close(writing)
    with os.fdopen(reading) as answer:
        ready, _, _ = select([answer], [], [], ANSWERS_WITHIN)
        return server, f":{answer.readline().strip()}" if ready else ":none"
