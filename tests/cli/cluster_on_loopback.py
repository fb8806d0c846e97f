"""A Dask cluster on loopback, made of Dask's own commands: a scheduler and workers that can be stopped."""

import json
import os
import subprocess
import sys
from collections.abc import Callable, Iterator, Sequence
from contextlib import ExitStack, contextmanager
from dataclasses import dataclass
from pathlib import Path
from time import monotonic, sleep

ROOT = Path(__file__).resolve().parents[2]
_PATIENCE_S = 60


@dataclass(frozen=True, slots=True)
class OnLoopback:
    """A cluster: its address, and the processes of its workers."""

    address: str
    workers: tuple[subprocess.Popen[bytes], ...]


@contextmanager
def on_loopback(folder: Path, workers: int = 2, tls: Sequence[str] = ()) -> Iterator[OnLoopback]:
    """A scheduler and workers; ``tls``: what both are told of keys."""
    found = folder / "scheduler.json"
    with ExitStack() as stack:
        protocol = ["--protocol", "tls"] if tls else []
        where = ["--host", "127.0.0.1", "--port", "0", "--no-dashboard", "--scheduler-file", str(found)]
        stack.enter_context(_running("dask_scheduler", *where, *protocol, *tls, folder=folder))
        until(found.exists)
        until(lambda: bool(found.read_text(encoding="utf-8").endswith("}")))
        address = str(json.loads(found.read_text(encoding="utf-8"))["address"])
        own = ["--no-nanny", "--nthreads", "1", "--no-dashboard", "--local-directory", str(folder)]
        made = [
            stack.enter_context(_running("dask_worker", address, *own, *tls, folder=folder))
            for _ in range(workers)
        ]
        log = folder / "log"
        until(lambda: log.read_bytes().count(b"Registered to") >= workers)
        yield OnLoopback(address, tuple(made))


@contextmanager
def _running(command: str, *arguments: str, folder: Path) -> Iterator[subprocess.Popen[bytes]]:
    with (folder / "log").open("ab") as log:
        program = [sys.executable, "-m", f"distributed.cli.{command}", *arguments]
        own = os.environ | {"PYTHONPATH": str(ROOT)}
        process = subprocess.Popen(program, cwd=folder, env=own, stdout=log, stderr=log)
    try:
        yield process
    finally:
        process.kill()
        process.wait()


def until(true: Callable[[], bool]) -> None:
    """Wait until something holds; a TimeoutError where it does not come to."""
    end = monotonic() + _PATIENCE_S
    while not true():
        if monotonic() > end:
            raise TimeoutError("this did not come to hold")
        sleep(0.05)
