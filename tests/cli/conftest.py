"""The program run in this process, as a user types it; and a browser for the pages it writes."""

import shutil
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, sync_playwright

from reviewer.cli import run
from tests.reports.browsing import CHROMIUM


@pytest.fixture
def reviewer(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> Callable[..., tuple[int, str, str]]:
    """Its words in; its exit code, answer and notes out."""

    def call(*words: str | Path) -> tuple[int, str, str]:
        monkeypatch.setattr(sys, "argv", ["reviewer", *map(str, words)])
        code = run(lambda *_: 0)
        out, err = capsys.readouterr()
        return code, out, err

    return call


@pytest.fixture(scope="session")
def browser() -> Iterator[Browser]:
    """A real browser without a window; where there is none, the test is skipped and says so."""
    if shutil.which(CHROMIUM) is None:
        pytest.skip("there is no chromium here to look at a page with")
    with sync_playwright() as playing:
        browser = playing.chromium.launch(executable_path=shutil.which(CHROMIUM), args=["--no-sandbox"])
        yield browser
        browser.close()
