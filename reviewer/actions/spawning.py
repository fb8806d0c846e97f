"""Processes that work for another: deaf to Ctrl+C, known to whoever began them, and ended with that one."""

import os
import signal
from collections.abc import Iterator
from concurrent.futures import Executor, ProcessPoolExecutor
from contextlib import contextmanager
from multiprocessing import get_context, parent_process
from multiprocessing.context import SpawnProcess
from threading import Thread
from typing import Any


class Deaf(SpawnProcess):
    """A process that hears no Ctrl+C, from its first moment on; whoever begins it hears it after."""

    def start(self) -> None:
        """Begin it."""
        if not hasattr(signal, "pthread_sigmask"):  # Windows
            super().start()
            return
        before = signal.pthread_sigmask(signal.SIG_BLOCK, {signal.SIGINT})
        try:
            super().start()
        finally:
            signal.pthread_sigmask(signal.SIG_SETMASK, before)


class Spawned:
    """Starts processes as the standard context does, and knows its own."""

    def __init__(self) -> None:
        self._context, self._started, self._ended = get_context("spawn"), list[Deaf](), False

    def __getattr__(self, name: str) -> Any:
        return getattr(self._context, name)

    def Process(self, *arguments: Any, **named: Any) -> Deaf:  # noqa: N802 - the context's own name
        """A process that is not started yet; an OSError once all were to end."""
        if self._ended:
            raise OSError("nobody waits for this work any more")
        made = Deaf(*arguments, **named)
        self._started.append(made)
        return made

    def end(self) -> None:
        """End those that run, whatever they do, and start no more."""
        self._ended = True
        for one in self._started:
            if one.is_alive():
                one.terminate()


@contextmanager
def working(processes: int, spawned: Any) -> Iterator[Executor]:
    """So many processes as an executor; they end with this one, at once where the work is broken off.

    ``spawned`` is a `Spawned`, by which another thread may end them.
    """
    pool = ProcessPoolExecutor(processes, spawned, initializer=_serve)
    try:
        yield pool
    except BaseException:
        spawned.end()
        raise
    finally:
        pool.shutdown(cancel_futures=True)


def _serve() -> None:
    """What such a process does first: leave Ctrl+C to whoever gives the work, and end when that is gone."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    Thread(target=_end_with_parent, daemon=True).start()


def _end_with_parent() -> None:
    parent = parent_process()
    if parent is not None:
        parent.join()
        os._exit(1)
