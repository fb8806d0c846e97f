"""The program run in this process, as a user types it."""

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from reviewer.cli import run


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
