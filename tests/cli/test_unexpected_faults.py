"""An unexpected fault prints one line and the log's place; the log holds no names and no paths."""

from pathlib import Path

import pytest

from reviewer import __main__ as program
from reviewer import cli, settings
from reviewer.settings import log, places


def test_a_fault_is_one_line_and_the_log_keeps_no_words_of_the_user(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    place = tmp_path / "log" / "reviewer.log"
    monkeypatch.setattr(log, "log_file", lambda: place)
    monkeypatch.setattr(places, "log_file", lambda: place)

    def broken(_: object) -> int:
        raise RuntimeError("Jane Doe, /home/jane/routine.mp4")

    monkeypatch.setattr(cli, "run", broken)
    with pytest.raises(SystemExit) as left:
        program.main()
    said = capsys.readouterr().err
    assert left.value.code == 2
    assert said.count("\n") == 1
    assert str(place) in said
    kept = place.read_text(encoding="utf-8")
    assert "RuntimeError" in kept
    assert "jane" not in kept.lower()
    assert settings.log_file is not None


def test_ctrl_c_is_one_word_whatever_was_being_loaded(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setattr(log, "log_file", lambda: tmp_path / "reviewer.log")

    def interrupted(_: object) -> int:
        raise KeyboardInterrupt

    monkeypatch.setattr(cli, "run", interrupted)
    with pytest.raises(SystemExit) as left:
        program.main()
    assert (left.value.code, capsys.readouterr().err) == (2, "Stopped.\n")
