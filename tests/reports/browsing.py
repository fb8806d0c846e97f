"""A page looked at in a real browser without a window: what a script finds in it, and whom it asks for."""

import json
import re
import shutil
import socket
import subprocess
from collections.abc import Iterator
from contextlib import contextmanager
from functools import cache
from html import unescape
from importlib import resources
from pathlib import Path
from threading import Thread
from typing import Any

import pytest

CHROMIUM = shutil.which("chromium") or shutil.which("chromium-browser") or "chromium"
_QUIET = (
    "--headless",
    "--no-sandbox",
    "--disable-gpu",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    "--no-first-run",
    "--no-default-browser-check",
    "--virtual-time-budget=20000",
)
_NOWHERE = "127.0.0.1:9"
"""Nobody listens there: the discard port (RFC 863)."""
_AXE = """
const found = await axe.run(document, {resultTypes: ["violations"]});
return found.violations.map(one => [one.id, one.help, one.nodes.map(node => node.html.slice(0, 200))]);
"""
_POLICY = re.compile(r'<meta http-equiv="Content-Security-Policy"[^>]*>')


@cache
def _works() -> bool:
    """Whether there is a browser that starts; what stands in for one on some systems does not."""
    try:
        asked = subprocess.run([CHROMIUM, "--version"], capture_output=True, timeout=60)
    except (OSError, subprocess.TimeoutExpired):
        return False
    return asked.returncode == 0


def browse(page: Path, *options: str, through: str = _NOWHERE) -> str:
    """The page as the browser has it after loading: its document as text. Nothing reaches the network.

    Where there is no browser, the test is skipped and says so.
    """
    if not _works():
        pytest.skip("there is no chromium here to look at a page with")
    apart = f"--user-data-dir={page.parent / 'browser'}"
    led = (f"--proxy-server={through}", "--proxy-bypass-list=<-loopback>")
    asked = [CHROMIUM, *_QUIET, apart, *led, *options, "--dump-dom", page.as_uri()]
    return subprocess.run(asked, capture_output=True, text=True, timeout=110, check=True).stdout


def reached_by(page: Path) -> set[str]:
    """The hosts that are asked for while a page is loaded; the browser has a few of its own."""
    with proxy() as (place, asked):
        browse(page, through=place)
    lines = [line.split(" ") for line in asked]
    return {line[1].removeprefix("http://").split("/")[0] for line in lines if len(line) > 1}


def found_by(script: str, html: str, folder: Path, *options: str) -> Any:
    """What a script (an async function's body) returns in a page, its policy against scripts taken off."""
    told = (
        f"<script>(async () => {{ {script} }})().then(found => {{ const told = document.createElement('pre');"
        "told.id = 'told'; told.textContent = JSON.stringify(found); document.body.append(told); })</script>"
    )
    page = folder / "looked-at.html"
    page.write_text(_POLICY.sub("", html).replace("</body>", told + "</body>"), encoding="utf-8")
    seen = re.search(r'<pre id="told">(.*?)</pre>', browse(page, *options), re.DOTALL)
    assert seen, "the script came to no end"
    return json.loads(unescape(seen[1]))


def rules_broken(html: str, folder: Path, width: int) -> list[list[Any]]:
    """The rules of axe-core (WCAG 2 A and AA, good practice) that a page breaks at a width, and where."""
    axe = resources.files("axe_core_python").joinpath("axe.min.js").read_text(encoding="utf-8")
    with_axe = html.replace("</body>", f"<script>{axe}</script></body>")
    found: list[list[Any]] = found_by(_AXE, with_axe, folder, f"--window-size={width},900")
    return found


@contextmanager
def proxy() -> Iterator[tuple[str, list[str]]]:
    """A place that all requests are sent to and none is answered; the first line of each."""
    asked: list[str] = []
    with socket.create_server(("127.0.0.1", 0)) as listening:
        Thread(target=_listen, args=(listening, asked), daemon=True).start()
        yield f"127.0.0.1:{listening.getsockname()[1]}", asked


def _listen(listening: socket.socket, asked: list[str]) -> None:
    while True:
        try:
            caller, _ = listening.accept()
        except OSError:
            return
        with caller:
            caller.settimeout(5)
            asked.append(caller.recv(4096).decode("latin-1").split("\r\n")[0])
